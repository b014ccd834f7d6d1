package octurn.cli.plot;

import java.awt.Color;
import java.awt.Graphics2D;
import java.util.List;

/** Columns side by side; the second group is hatched, so that it can be told without colour. */
final class ColumnsBody implements Painter.Body {

    private static final int HEIGHT = 380;
    private static final int LEGEND = 24;
    private static final int NAME_LINE = 14;
    private static final double FILLED = 0.75;

    private final Picture.Columns picture;
    private final List<String> names;
    private final int extra;

    ColumnsBody(Picture.Columns picture) {
        this.picture = picture;
        this.names = picture.categories().stream().map(Painter::visible).toList();
        this.extra = NAME_LINE * (Painter.measuring(g -> Axes.nameLines(g, names, Painter.WIDTH)) - 1);
    }

    @Override
    public int height() {
        return HEIGHT + extra + (picture.groups().size() > 1 ? LEGEND : 0);
    }

    @Override
    public void paint(Graphics2D g, int width) {
        g.setFont(Painter.TEXT);
        double most = 0;
        for (Picture.Group group : picture.groups()) {
            for (double height : group.heights()) {
                most = Math.max(most, height);
            }
        }
        Axes axes = new Axes(
                g,
                picture.x(),
                picture.y(),
                Axes.Range.of(0, 1, false, true),
                Axes.Range.of(0, most == 0 ? 1 : most, false, true),
                width,
                HEIGHT);
        axes.extra = extra;
        axes.paint(g, names);
        double part = (double) axes.width / Math.max(1, names.size());
        double each = part * FILLED / picture.groups().size();
        for (int group = 0; group < picture.groups().size(); group++) {
            for (int i = 0; i < names.size(); i++) {
                double height = picture.groups().get(group).heights().get(i);
                double x = axes.left + i * part + part * (1 - FILLED) / 2 + group * each;
                double y = axes.y(height);
                column(g, group, x, y, each, axes.top + axes.height - y);
            }
        }
        if (picture.groups().size() > 1) {
            legend(g);
        }
    }

    private static void column(Graphics2D g, int group, double x, double y, double width, double height) {
        if (height <= 0) {
            return;
        }
        int left = (int) Math.round(x);
        int top = (int) Math.round(y);
        int right = (int) Math.round(x + width);
        int bottom = (int) Math.round(y + height);
        Color colour = Painter.COLOURS.get(group % Painter.COLOURS.size());
        Hatching.fill(g, colour, group % 2 == 1, left, top, Math.max(1, right - left), Math.max(1, bottom - top));
    }

    private void legend(Graphics2D g) {
        double x = Painter.MARGIN;
        int y = HEIGHT + extra;
        for (int group = 0; group < picture.groups().size(); group++) {
            column(g, group, x, y + 4, 22, 14);
            g.setColor(Painter.INK);
            String name = Painter.visible(picture.groups().get(group).name());
            g.drawString(name, (float) x + 28, y + 16);
            x += 28 + Painter.width(name) + 20;
        }
    }
}
