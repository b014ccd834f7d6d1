package octurn.cli.view;

import java.util.SortedMap;

/** Small drawings of numbers, one character each. */
final class Bars {

    private static final String UNICODE = " \u2581\u2582\u2583\u2584\u2585\u2586\u2587\u2588";
    /** Ink that grows from one to the next. */
    private static final String ASCII = " .:-=+*%@";

    private Bars() {}

    /**
     * A histogram over 0 .. most, in so many characters: the higher, the more fall there; what is not empty is seen.
     *
     * @param counts by number; numbers above {@code most} count with it
     * @param most the greatest number of the scale
     * @param columns how many characters at the most; no more than there are numbers are used
     */
    static String histogram(SortedMap<Long, Long> counts, long most, int columns, Glyphs glyphs) {
        int cells = cells(most, columns);
        long[] heights = new long[cells];
        counts.forEach((number, count) -> heights[cell(Math.min(number, most), most, cells)] += count);
        long highest = 1;
        for (long height : heights) {
            highest = Math.max(highest, height);
        }
        String signs = glyphs.sign(UNICODE, ASCII);
        StringBuilder text = new StringBuilder();
        for (long height : heights) {
            long step = height == 0 ? 0 : 1 + Math.round((signs.length() - 2.0) * height / highest);
            text.append(signs.charAt((int) Math.min(signs.length() - 1, step)));
        }
        return text.toString();
    }

    /** How many characters such a histogram has. */
    static int cells(long most, int columns) {
        return (int) Math.min(columns, most + 1);
    }

    private static int cell(long number, long most, int cells) {
        return (int) (number * cells / (most + 1));
    }

    /** The two ends of such a histogram's scale, as in {@code 0 ... 23}. */
    static String scale(long most, int columns, Glyphs glyphs) {
        int cells = cells(most, columns);
        String end = Long.toString(most);
        String dot = glyphs.sign("\u00b7", ".");
        return cells < end.length() + 2 ? dot.repeat(cells) : "0" + dot.repeat(cells - 1 - end.length()) + end;
    }

    /** A part of a whole as a bar of so many characters. */
    static String part(double part, int columns, Glyphs glyphs) {
        int full = (int) Math.round(Math.max(0, Math.min(1, part)) * columns);
        return glyphs.sign("\u2588", "#").repeat(full)
                + glyphs.sign("\u00b7", ".").repeat(columns - full);
    }
}
