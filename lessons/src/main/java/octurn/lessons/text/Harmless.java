package octurn.lessons.text;

import octurn.design.Design;

/** Takes from a text what could act on a terminal or turn the order of its words. */
public final class Harmless {

    private static final int REPLACEMENT = 0xFFFD;

    private Harmless() {}

    /** The text with a replacement character for each that is not printable; line ends and tabs stay. */
    public static String text(String text) {
        return text.codePoints()
                .map(c -> c == '\n' || c == '\t' || Design.isPrintable(c) ? c : REPLACEMENT)
                .collect(StringBuilder::new, StringBuilder::appendCodePoint, StringBuilder::append)
                .toString();
    }
}
