package octurn.cli.plot;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Path2D;
import java.awt.geom.Rectangle2D;
import java.util.ArrayList;
import java.util.List;
import java.util.function.ToDoubleFunction;

/** Curves over two scales. Each has a colour, dashes and a mark of its own. */
final class CurvesBody implements Painter.Body {

    private static final int HEIGHT = 400;
    private static final int LEGEND_ROW = 20;
    private static final int SAMPLE = 40;
    private static final double MARK = 4;

    private static final float[][] DASHES = {{}, {8, 4}, {2, 3}, {10, 3, 2, 3}, {14, 5}, {5, 2}, {2, 2, 8, 2}};

    private final Picture.Curves picture;
    private final List<List<Integer>> legend;

    CurvesBody(Picture.Curves picture) {
        this.picture = picture;
        this.legend = legend(picture);
    }

    /** The curves in rows of the legend; none for a single curve. */
    private static List<List<Integer>> legend(Picture.Curves picture) {
        List<List<Integer>> rows = new ArrayList<>();
        if (picture.curves().size() < 2) {
            return rows;
        }
        double used = Double.MAX_VALUE;
        for (int i = 0; i < picture.curves().size(); i++) {
            double width = SAMPLE
                    + 24
                    + Painter.width(Painter.visible(picture.curves().get(i).name()));
            if (used + width > Painter.WIDTH - 2.0 * Painter.MARGIN) {
                rows.add(new ArrayList<>());
                used = 0;
            }
            rows.get(rows.size() - 1).add(i);
            used += width;
        }
        return rows;
    }

    @Override
    public int height() {
        return HEIGHT + LEGEND_ROW * legend.size() + 4;
    }

    @Override
    public void paint(Graphics2D g, int width) {
        g.setFont(Painter.TEXT);
        Axes axes = new Axes(
                g,
                picture.x(),
                picture.y(),
                range(picture.x(), Picture.Point::x, false),
                range(picture.y(), Picture.Point::y, true),
                width,
                HEIGHT);
        axes.paint(g);
        for (int i = 0; i < picture.curves().size(); i++) {
            curve(g, axes, picture.curves().get(i), i);
        }
        for (int row = 0; row < legend.size(); row++) {
            legendRow(g, legend.get(row), HEIGHT + LEGEND_ROW * row);
        }
    }

    private Axes.Range range(Picture.Scale scale, ToDoubleFunction<Picture.Point> coordinate, boolean fromZero) {
        double least = Double.POSITIVE_INFINITY;
        double most = Double.NEGATIVE_INFINITY;
        for (Picture.Curve curve : picture.curves()) {
            for (Picture.Point point : curve.points()) {
                least = Math.min(least, coordinate.applyAsDouble(point));
                most = Math.max(most, coordinate.applyAsDouble(point));
            }
        }
        return least > most
                ? Axes.Range.of(scale.logarithmic() ? 1 : 0, 10, scale.logarithmic(), fromZero)
                : Axes.Range.of(least, most, scale.logarithmic(), fromZero);
    }

    private static void curve(Graphics2D g, Axes axes, Picture.Curve curve, int number) {
        if (curve.line()) {
            Path2D path = new Path2D.Double();
            for (int i = 0; i < curve.points().size(); i++) {
                Picture.Point point = curve.points().get(i);
                if (i == 0) {
                    path.moveTo(axes.x(point.x()), axes.y(point.y()));
                } else {
                    path.lineTo(axes.x(point.x()), axes.y(point.y()));
                }
            }
            g.setColor(colour(number));
            g.setStroke(stroke(number));
            g.draw(path);
        }
        if (curve.marks()) {
            for (Picture.Point point : curve.points()) {
                mark(g, axes.x(point.x()), axes.y(point.y()), number);
            }
        }
        g.setStroke(Painter.THIN);
    }

    private static Color colour(int number) {
        return Painter.COLOURS.get(number % Painter.COLOURS.size());
    }

    private static BasicStroke stroke(int number) {
        float[] dashes = DASHES[number % DASHES.length];
        return dashes.length == 0
                ? new BasicStroke(2, BasicStroke.CAP_BUTT, BasicStroke.JOIN_ROUND)
                : new BasicStroke(2, BasicStroke.CAP_BUTT, BasicStroke.JOIN_ROUND, 10, dashes, 0);
    }

    private static void mark(Graphics2D g, double x, double y, int number) {
        g.setStroke(Painter.THIN);
        g.setColor(colour(number));
        switch (number % 7) {
            case 0 -> g.fill(new Ellipse2D.Double(x - MARK, y - MARK, 2 * MARK, 2 * MARK));
            case 1 -> g.fill(new Rectangle2D.Double(x - MARK, y - MARK, 2 * MARK, 2 * MARK));
            case 2 -> g.fill(corners(x, y - 5, x + 5, y + 4, x - 5, y + 4));
            case 3 -> g.fill(corners(x, y - 6, x + 6, y, x, y + 6, x - 6, y));
            case 4 -> g.draw(new Ellipse2D.Double(x - MARK, y - MARK, 2 * MARK, 2 * MARK));
            case 5 -> g.fill(corners(x, y + 5, x + 5, y - 4, x - 5, y - 4));
            default -> g.draw(new Rectangle2D.Double(x - MARK, y - MARK, 2 * MARK, 2 * MARK));
        }
    }

    private static Path2D corners(double... coordinates) {
        Path2D path = new Path2D.Double();
        path.moveTo(coordinates[0], coordinates[1]);
        for (int i = 2; i < coordinates.length; i += 2) {
            path.lineTo(coordinates[i], coordinates[i + 1]);
        }
        path.closePath();
        return path;
    }

    private void legendRow(Graphics2D g, List<Integer> curves, int y) {
        double x = Painter.MARGIN;
        for (int number : curves) {
            Picture.Curve curve = picture.curves().get(number);
            if (curve.line()) {
                g.setColor(colour(number));
                g.setStroke(stroke(number));
                Path2D sample = new Path2D.Double();
                sample.moveTo(x, y + 10);
                sample.lineTo(x + SAMPLE, y + 10);
                g.draw(sample);
            }
            if (curve.marks()) {
                mark(g, x + SAMPLE / 2.0, y + 10, number);
            }
            g.setColor(Painter.INK);
            String name = Painter.visible(curve.name());
            g.drawString(name, (float) x + SAMPLE + 6, y + 14);
            x += SAMPLE + 24 + Painter.width(name);
        }
        g.setStroke(Painter.THIN);
    }
}
