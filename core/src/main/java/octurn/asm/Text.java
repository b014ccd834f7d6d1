package octurn.asm;

import octurn.design.Design;

/** How a piece of somebody's text is put into a message. */
final class Text {

    /** A longer piece is cut off. */
    private static final int LONGEST = 64;

    private Text() {}

    /** In quotes, with what cannot be printed as a backslash, u and four hexadecimal digits. */
    static String quoted(String text) {
        return '"' + escaped(text) + '"';
    }

    static String escaped(String text) {
        if (text.length() <= LONGEST && text.chars().allMatch(c -> c >= ' ' && c < 0x7F)) {
            return text;
        }
        StringBuilder out = new StringBuilder();
        text.codePoints().limit(LONGEST).forEach(c -> append(out, c));
        return text.codePointCount(0, text.length()) > LONGEST ? out + ".." : out.toString();
    }

    static String escaped(int codePoint) {
        StringBuilder out = new StringBuilder();
        append(out, codePoint);
        return out.toString();
    }

    private static void append(StringBuilder out, int codePoint) {
        if (codePoint == ' ' || (Design.isPrintable(codePoint) && !Character.isSpaceChar(codePoint))) {
            out.appendCodePoint(codePoint);
        } else {
            String hex = Integer.toHexString(codePoint);
            out.append(codePoint < 0x10000 ? "\\u" + "0".repeat(4 - hex.length()) + hex : "\\u{" + hex + "}");
        }
    }
}
