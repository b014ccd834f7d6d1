package octurn.cli.draw;

import octurn.cli.view.Glyphs;

/**
 * How wide a text is at the most in the fonts that a picture asks for. They are the advance widths of DejaVu Sans, one of
 * the widest in common use (measured; the others, as Arial and Helvetica, are narrower), so that a picture is laid out
 * the same on every machine, and what fits by this fits everywhere.
 */
final class TextWidth {

    /** In hundredths of the letters' height, from the blank on to the tilde. */
    private static final int[] ASCII = {
        32, 41, 46, 84, 64, 96, 78, 28, 40, 40, 50, 84, 32, 37, 32, 34, 64, 64, 64, 64, 64, 64, 64, 64, 64, 64, 34, 34,
        84, 84, 84, 54, 100, 69, 69, 70, 78, 64, 58, 78, 76, 30, 30, 66, 56, 87, 75, 79, 61, 79, 70, 64, 62, 74, 69, 99,
        69, 62, 69, 40, 34, 40, 84, 50, 50, 62, 64, 55, 64, 62, 36, 64, 64, 28, 28, 58, 28, 98, 64, 62, 64, 64, 42, 53,
        40, 64, 60, 82, 60, 60, 53, 64, 34, 64, 84
    };

    /** Any other letter, for each column that it takes on a terminal. */
    private static final int OTHER = 100;

    private static final double BOLD = 1.13;

    private TextWidth() {}

    static double of(String text, Sheet.Letters letters) {
        long sum = 0;
        for (int i = 0; i < text.length(); i += Character.charCount(text.codePointAt(i))) {
            int c = text.codePointAt(i);
            sum += c >= ' ' && c <= '~' ? ASCII[c - ' '] : (long) OTHER * Math.max(1, Glyphs.width(c));
        }
        return sum * letters.size() / 100 * (letters.bold() ? BOLD : 1);
    }
}
