package octurn.cli.plot;

import java.awt.Color;
import java.awt.Graphics2D;
import octurn.cli.plot.Picture.Fill;

/** Fills rectangles so that they differ without colour, too. */
final class Hatching {

    private static final int GAP = 6;

    private Hatching() {}

    /** The ground: dark for work, lighter for the rest; Okabe and Ito's palette, greys, and white. */
    private static Color ground(Fill fill) {
        return switch (fill) {
            case WORK -> new Color(0x009E73);
            case WAIT, IDLE -> Color.WHITE;
            case HOLD -> new Color(0x56B4E9);
            case CODE -> new Color(0xCC79A7);
            case LOAD -> new Color(0xE69F00);
            case SLEEP -> new Color(0xE6E6E6);
            case FAULT -> Color.BLACK;
        };
    }

    static void fill(Graphics2D g, Fill fill, int x, int y, int width, int height) {
        g.setColor(ground(fill));
        g.fillRect(x, y, width, height);
        g.setStroke(Painter.THIN);
        switch (fill) {
            case WAIT -> {
                g.setColor(new Color(0xD55E00));
                slanted(g, x, y, width, height);
            }
            case HOLD -> {
                g.setColor(new Color(0x0072B2));
                slanted(g, x, y, width, height);
                fallen(g, x, y, width, height);
            }
            case CODE -> {
                g.setColor(Painter.INK);
                for (int i = x + GAP / 2; i < x + width; i += GAP) {
                    g.drawLine(i, y, i, y + height);
                }
            }
            case LOAD -> {
                g.setColor(Painter.INK);
                for (int i = y + GAP / 2; i < y + height; i += GAP) {
                    g.drawLine(x, i, x + width, i);
                }
            }
            default -> {
                // Told by the ground alone.
            }
        }
        g.setColor(Painter.INK);
        g.drawRect(x, y, width, height);
    }

    /** A column of this colour; hatched with white lines or plain. */
    static void fill(Graphics2D g, Color colour, boolean hatched, int x, int y, int width, int height) {
        g.setColor(colour);
        g.fillRect(x, y, width, height);
        g.setStroke(Painter.THIN);
        if (hatched) {
            g.setColor(Painter.INK);
            slanted(g, x, y, width, height);
        }
        g.setColor(Painter.INK);
        g.drawRect(x, y, width, height);
    }

    /** Lines that rise to the right, cut at the edges. */
    private static void slanted(Graphics2D g, int x, int y, int width, int height) {
        for (int offset = GAP; offset < width + height; offset += GAP) {
            int fromX = Math.max(0, offset - height);
            int toX = Math.min(width, offset);
            g.drawLine(x + fromX, y + Math.min(height, offset), x + toX, y + offset - toX);
        }
    }

    /** Lines that fall to the right, cut at the edges. */
    private static void fallen(Graphics2D g, int x, int y, int width, int height) {
        for (int offset = GAP; offset < width + height; offset += GAP) {
            int fromX = Math.max(0, offset - height);
            int toX = Math.min(width, offset);
            g.drawLine(x + fromX, y + height - Math.min(height, offset), x + toX, y + height - offset + toX);
        }
    }
}
