package octurn.cli.plot;

import java.awt.FontMetrics;
import java.awt.Graphics2D;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** The two scales of a diagram, with their ticks, and the place of the diagram between them. */
final class Axes {

    private static final int MOST_TICKS = 8;
    private static final int TITLE = 20;
    private static final int GAP = 6;

    /** One scale: from the least to the most number, and the numbers that are marked. */
    static final class Range {
        private final double least;
        private final double most;
        private final boolean logarithmic;
        private final List<Double> ticks;

        private Range(double least, double most, boolean logarithmic, List<Double> ticks) {
            this.least = least;
            this.most = most;
            this.logarithmic = logarithmic;
            this.ticks = ticks;
        }

        /**
         * A scale on which all these numbers can be shown.
         *
         * @param fromZero whether it begins with 0 at the latest; not for a logarithmic one
         */
        static Range of(double least, double most, boolean logarithmic, boolean fromZero) {
            return logarithmic ? logarithmic(least, most) : linear(fromZero ? Math.min(0, least) : least, most);
        }

        private static Range linear(double least, double most) {
            double width = most > least ? most - least : Math.max(1, Math.abs(least));
            double step = step(width / MOST_TICKS);
            double from = Math.floor(least / step + 1e-9) * step;
            double to = Math.ceil((least + width) / step - 1e-9) * step;
            List<Double> ticks = new ArrayList<>();
            for (long i = Math.round(from / step); i <= Math.round(to / step); i++) {
                ticks.add(i * step);
            }
            return new Range(from, to, false, ticks);
        }

        /** The least of 1, 2, 5, 10, 20 .. and 0.5, 0.2 .. that is no less than this. */
        private static double step(double least) {
            double power = Math.pow(10, Math.floor(Math.log10(least)));
            for (double factor : new double[] {1, 2, 5}) {
                if (factor * power >= least * (1 - 1e-9)) {
                    return factor * power;
                }
            }
            return 10 * power;
        }

        private static Range logarithmic(double least, double most) {
            List<Double> all = new ArrayList<>();
            for (int power = -12; power <= 15; power++) {
                for (double factor : new double[] {1, 2, 5}) {
                    all.add(factor * Math.pow(10, power));
                }
            }
            int from = 0;
            while (from + 1 < all.size() && all.get(from + 1) <= least * (1 + 1e-9)) {
                from++;
            }
            int to = from + 1;
            while (to + 1 < all.size() && all.get(to) < most * (1 - 1e-9)) {
                to++;
            }
            List<Double> ticks = all.subList(from, to + 1);
            List<Double> shown = ticks.size() <= 2 * MOST_TICKS
                    ? ticks
                    : ticks.stream()
                            .filter(tick -> Math.abs(Math.log10(tick) - Math.rint(Math.log10(tick))) < 1e-9)
                            .toList();
            return new Range(all.get(from), all.get(to), true, shown);
        }

        /** Where a number lies: 0 at the least, 1 at the most. */
        double at(double number) {
            return logarithmic ? Math.log(number / least) / Math.log(most / least) : (number - least) / (most - least);
        }
    }

    private final Picture.Scale xScale;
    private final Picture.Scale yScale;
    private final Range x;
    private final Range y;
    final int left;
    final int top;
    final int width;
    final int height;

    /**
     * Axes within a rectangle that begins at 0, 0.
     *
     * @param outerWidth of all, labels included
     * @param outerHeight the same
     */
    Axes(Graphics2D g, Picture.Scale xScale, Picture.Scale yScale, Range x, Range y, int outerWidth, int outerHeight) {
        FontMetrics metrics = g.getFontMetrics();
        int widest = 0;
        for (double tick : y.ticks) {
            widest = Math.max(widest, metrics.stringWidth(label(tick)));
        }
        this.xScale = xScale;
        this.yScale = yScale;
        this.x = x;
        this.y = y;
        this.left = Painter.MARGIN + TITLE + widest + GAP;
        this.top = GAP + 2;
        this.width = outerWidth - left - Painter.MARGIN - GAP;
        this.height = outerHeight - top - 2 * TITLE - GAP;
    }

    double x(double number) {
        return left + x.at(number) * width;
    }

    double y(double number) {
        return top + height - y.at(number) * height;
    }

    /** A number as it stands at a tick. */
    static String label(double number) {
        if (number == Math.rint(number) && Math.abs(number) < 1e15) {
            return String.format(Locale.ROOT, "%,d", (long) number);
        }
        String text = String.format(Locale.ROOT, "%.9f", number).replaceFirst("0+$", "");
        return text.endsWith(".") ? text.substring(0, text.length() - 1) : text;
    }

    /** Grid, ticks and titles of both scales. */
    void paint(Graphics2D g) {
        paintY(g);
        FontMetrics metrics = g.getFontMetrics();
        int free = 0;
        for (double tick : x.ticks) {
            int at = (int) Math.round(x(tick));
            g.setColor(Painter.FAINT);
            g.drawLine(at, top, at, top + height);
            String text = label(tick);
            int from = at - metrics.stringWidth(text) / 2;
            if (from >= free) {
                g.setColor(Painter.INK);
                g.drawString(text, from, top + height + 16);
                free = from + metrics.stringWidth(text) + GAP;
            }
        }
        frame(g);
    }

    /** Grid, ticks and title of the upright scale, with names in the middle of equal parts along the other. */
    void paint(Graphics2D g, List<String> names) {
        paintY(g);
        FontMetrics metrics = g.getFontMetrics();
        double part = (double) width / names.size();
        double free = 0;
        g.setColor(Painter.INK);
        for (int i = 0; i < names.size(); i++) {
            List<String> words = lines(names.get(i), metrics, part - GAP);
            double widest = words.stream().mapToInt(metrics::stringWidth).max().orElse(0);
            double from = left + (i + 0.5) * part - widest / 2;
            if (from >= free) {
                for (int line = 0; line < words.size(); line++) {
                    int at = (int) Math.round(left + (i + 0.5) * part - metrics.stringWidth(words.get(line)) / 2.0);
                    g.drawString(words.get(line), at, top + height + 16 + 14 * line);
                }
                free = from + widest + GAP;
            }
        }
        frame(g);
    }

    /** A name in up to three lines, as many words in each as there is room for. */
    private static List<String> lines(String name, FontMetrics metrics, double room) {
        List<String> lines = new ArrayList<>();
        for (String word : name.split(" ", -1)) {
            int last = lines.size() - 1;
            if (last >= 0 && (metrics.stringWidth(lines.get(last) + " " + word) <= room || lines.size() == 3)) {
                lines.set(last, lines.get(last) + " " + word);
            } else {
                lines.add(word);
            }
        }
        return lines;
    }

    /** How many lines of names there are at the most. */
    static int nameLines(Graphics2D g, List<String> names, int outerWidth) {
        double part = (outerWidth - 120.0) / Math.max(1, names.size());
        int most = 1;
        for (String name : names) {
            most = Math.max(most, lines(name, g.getFontMetrics(), part - GAP).size());
        }
        return most;
    }

    private void paintY(Graphics2D g) {
        g.setStroke(Painter.THIN);
        FontMetrics metrics = g.getFontMetrics();
        for (double tick : y.ticks) {
            int at = (int) Math.round(y(tick));
            g.setColor(Painter.FAINT);
            g.drawLine(left, at, left + width, at);
            g.setColor(Painter.INK);
            String text = label(tick);
            g.drawString(text, left - GAP - metrics.stringWidth(text), at + 4);
        }
    }

    private void frame(Graphics2D g) {
        g.setColor(Painter.INK);
        g.drawRect(left, top, width, height);
        FontMetrics metrics = g.getFontMetrics();
        String across = Painter.visible(xScale.label());
        g.drawString(across, left + width / 2 - metrics.stringWidth(across) / 2, top + height + 2 * TITLE - 4 + extra);
        String upright = Painter.visible(yScale.label());
        int middle = top + height / 2 + metrics.stringWidth(upright) / 2;
        g.translate(Painter.MARGIN + 12, middle);
        g.rotate(-Math.PI / 2);
        g.drawString(upright, 0, 0);
        g.rotate(Math.PI / 2);
        g.translate(-Painter.MARGIN - 12, -middle);
    }

    /** Room more below the diagram for names of several lines. */
    int extra;
}
