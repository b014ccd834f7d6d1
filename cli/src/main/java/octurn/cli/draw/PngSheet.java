package octurn.cli.draw;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Font;
import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.Shape;
import java.awt.geom.Line2D;
import java.awt.geom.Path2D;
import java.awt.geom.Rectangle2D;
import java.awt.image.BufferedImage;
import java.io.IOException;
import java.io.OutputStream;
import java.util.List;
import javax.imageio.ImageIO;

/** A picture as PNG. */
final class PngSheet implements Sheet {

    static {
        // No picture needs a screen.
        System.setProperty("java.awt.headless", "true");
    }

    private static final int PITCH = Texture.Hatch.PITCH;

    private final BufferedImage image;
    private final Graphics2D g;

    PngSheet(double width, double height, int scale) {
        image = new BufferedImage(
                (int) Math.ceil(width * scale), (int) Math.ceil(height * scale), BufferedImage.TYPE_INT_RGB);
        g = image.createGraphics();
        g.setRenderingHint(RenderingHints.KEY_ANTIALIASING, RenderingHints.VALUE_ANTIALIAS_ON);
        g.setRenderingHint(RenderingHints.KEY_TEXT_ANTIALIASING, RenderingHints.VALUE_TEXT_ANTIALIAS_ON);
        g.setRenderingHint(RenderingHints.KEY_FRACTIONALMETRICS, RenderingHints.VALUE_FRACTIONALMETRICS_ON);
        g.setRenderingHint(RenderingHints.KEY_STROKE_CONTROL, RenderingHints.VALUE_STROKE_PURE);
        g.scale(scale, scale);
    }

    @Override
    public void fill(double x, double y, double width, double height, Texture texture) {
        fill(x, y, width, height, texture.ground());
        if (texture.hatch() == Texture.Hatch.PLAIN || width <= 0 || height <= 0) {
            return;
        }
        Shape before = g.getClip();
        g.clip(new Rectangle2D.Double(x, y, width, height));
        g.setColor(new Color(texture.lines()));
        g.setStroke(new BasicStroke(
                (float) SvgSheet.lineWidth(texture.hatch()), BasicStroke.CAP_BUTT, BasicStroke.JOIN_MITER));
        double right = x + width;
        double bottom = y + height;
        switch (texture.hatch()) {
            case RISING -> slanted(x, y, right, bottom, 1);
            case CROSSED -> {
                slanted(x, y, right, bottom, 1);
                slanted(x, y, right, bottom, -1);
            }
            case UPRIGHT -> {
                for (double at = Math.floor(x / PITCH) * PITCH + 3; at < right + PITCH; at += PITCH) {
                    g.draw(new Line2D.Double(at, y, at, bottom));
                }
            }
            case LEVEL -> {
                for (double at = Math.floor(y / PITCH) * PITCH + 3; at < bottom + PITCH; at += PITCH) {
                    g.draw(new Line2D.Double(x, at, right, at));
                }
            }
            default -> dots(x, y, right, bottom);
        }
        g.setClip(before);
    }

    /** Lines that rise to the right, or fall; they are parts of the same ones in every surface. */
    private void slanted(double x, double y, double right, double bottom, int rise) {
        double height = bottom - y;
        // A rising line is where x + y is a multiple of the pitch, a falling one where x - y is.
        double first = rise > 0 ? x + y : x - bottom;
        for (double at = Math.floor(first / PITCH) * PITCH; at <= first + (right - x) + height + PITCH; at += PITCH) {
            g.draw(
                    rise > 0
                            ? new Line2D.Double(at - y, y, at - bottom, bottom)
                            : new Line2D.Double(at + y, y, at + bottom, bottom));
        }
    }

    private void dots(double x, double y, double right, double bottom) {
        for (double i = Math.floor(x / PITCH) * PITCH; i < right; i += PITCH) {
            for (double j = Math.floor(y / PITCH) * PITCH; j < bottom; j += PITCH) {
                g.fill(new Rectangle2D.Double(i + 1, j + 1, 1.5, 1.5));
                g.fill(new Rectangle2D.Double(i + 4, j + 4, 1.5, 1.5));
            }
        }
    }

    @Override
    public void fill(double x, double y, double width, double height, int colour) {
        g.setColor(new Color(colour));
        g.fill(new Rectangle2D.Double(x, y, width, height));
    }

    @Override
    public void line(List<Point> points, double width, int colour) {
        g.setColor(new Color(colour));
        g.setStroke(new BasicStroke((float) width, BasicStroke.CAP_BUTT, BasicStroke.JOIN_MITER));
        g.draw(path(points));
    }

    private static Path2D path(List<Point> points) {
        Path2D path = new Path2D.Double();
        for (Point point : points) {
            if (path.getCurrentPoint() == null) {
                path.moveTo(point.x(), point.y());
            } else {
                path.lineTo(point.x(), point.y());
            }
        }
        return path;
    }

    @Override
    public void polygon(List<Point> points, int colour) {
        Path2D path = path(points);
        path.closePath();
        g.setColor(new Color(colour));
        g.fill(path);
    }

    @Override
    public void text(double x, double y, String text, Anchor anchor, Letters letters) {
        Font font = new Font(Font.SANS_SERIF, letters.bold() ? Font.BOLD : Font.PLAIN, 1)
                .deriveFont((float) letters.size());
        double width = font.getStringBounds(text, g.getFontRenderContext()).getWidth();
        double left = switch (anchor) {
            case START -> x;
            case MIDDLE -> x - width / 2;
            case END -> x - width;
        };
        g.setColor(new Color(letters.colour()));
        g.setFont(font);
        g.drawString(text, (float) left, (float) y);
    }

    void write(OutputStream out) throws IOException {
        g.dispose();
        ImageIO.setUseCache(false);
        ImageIO.write(image, "png", out);
    }
}
