package octurn.cli.view;

import java.nio.charset.Charset;
import java.nio.charset.CharsetEncoder;
import java.util.ArrayList;
import java.util.List;

/**
 * How text reaches one terminal: which characters it can take, how wide they are there, and how those that must not
 * reach it are shown.
 */
public final class Glyphs {

    /** Marks beyond these on one letter are shown as escapes, so that they cannot grow over other lines. */
    private static final int MOST_MARKS = 3;

    private static final int TAB = 8;

    /** First and last of each range that is two columns wide (Unicode Standard Annex 11: W and F). */
    private static final int[] WIDE = {
        0x1100, 0x115F, 0x231A, 0x231B, 0x2329, 0x232A, 0x23E9, 0x23EC, 0x23F0, 0x23F0, 0x23F3, 0x23F3, 0x25FD, 0x25FE,
        0x2614, 0x2615, 0x2630, 0x2637, 0x2648, 0x2653, 0x267F, 0x267F, 0x268A, 0x268F, 0x2693, 0x2693, 0x26A1, 0x26A1,
        0x26AA, 0x26AB, 0x26BD, 0x26BE, 0x26C4, 0x26C5, 0x26CE, 0x26CE, 0x26D4, 0x26D4, 0x26EA, 0x26EA, 0x26F2, 0x26F3,
        0x26F5, 0x26F5, 0x26FA, 0x26FA, 0x26FD, 0x26FD, 0x2705, 0x2705, 0x270A, 0x270B, 0x2728, 0x2728, 0x274C, 0x274C,
        0x274E, 0x274E, 0x2753, 0x2755, 0x2757, 0x2757, 0x2795, 0x2797, 0x27B0, 0x27B0, 0x27BF, 0x27BF, 0x2B1B, 0x2B1C,
        0x2B50, 0x2B50, 0x2B55, 0x2B55, 0x2E80, 0x303E, 0x3041, 0x3247, 0x3250, 0xA4CF, 0xA960, 0xA97C, 0xAC00, 0xD7A3,
        0xF900, 0xFAFF, 0xFE10, 0xFE19, 0xFE30, 0xFE6F, 0xFF01, 0xFF60, 0xFFE0, 0xFFE6, 0x16FE0, 0x18CFF, 0x18D00,
        0x18D8F, 0x1AFF0, 0x1B2FB, 0x1D300, 0x1D356, 0x1D360, 0x1D376, 0x1F004, 0x1F004, 0x1F0CF, 0x1F0CF, 0x1F18E,
        0x1F18E, 0x1F191, 0x1F19A, 0x1F200, 0x1F320, 0x1F32D, 0x1F335, 0x1F337, 0x1F37C, 0x1F37E, 0x1F393, 0x1F3A0,
        0x1F3CA, 0x1F3CF, 0x1F3D3, 0x1F3E0, 0x1F3F0, 0x1F3F4, 0x1F3F4, 0x1F3F8, 0x1F43E, 0x1F440, 0x1F440, 0x1F442,
        0x1F4FC, 0x1F4FF, 0x1F53D, 0x1F54B, 0x1F54E, 0x1F550, 0x1F567, 0x1F57A, 0x1F57A, 0x1F595, 0x1F596, 0x1F5A4,
        0x1F5A4, 0x1F5FB, 0x1F64F, 0x1F680, 0x1F6C5, 0x1F6CC, 0x1F6CC, 0x1F6D0, 0x1F6D2, 0x1F6D5, 0x1F6D7, 0x1F6DC,
        0x1F6DF, 0x1F6EB, 0x1F6EC, 0x1F6F4, 0x1F6FC, 0x1F7E0, 0x1F7EB, 0x1F7F0, 0x1F7F0, 0x1F90C, 0x1F93A, 0x1F93C,
        0x1F945, 0x1F947, 0x1F9FF, 0x1FA70, 0x1FAFF, 0x20000, 0x2FFFD, 0x30000, 0x3FFFD
    };

    private final boolean unicode;
    private final CharsetEncoder encoder;

    /** For a terminal of this character set; one that is not of the UTF family is given plain ASCII by us. */
    public Glyphs(Charset charset) {
        this.unicode = charset.name().startsWith("UTF-");
        this.encoder = charset.newEncoder();
    }

    /** Whether marks and signs beyond ASCII may be used. */
    public boolean isUnicode() {
        return unicode;
    }

    /** The one of the two that the terminal can show. */
    public String sign(String ifUnicode, String ifAscii) {
        return unicode ? ifUnicode : ifAscii;
    }

    /**
     * The text as it may be shown in one line: tabs as blanks up to the next multiple of 8 columns, and as escapes like
     * {@code \u001b} all that is not one visible character: control, format, bidirectional, zero-width and private
     * characters, halves of characters, line ends, and what the terminal's character set does not have.
     */
    public String visible(String text) {
        return visible(text, 0);
    }

    /** The same for a text that begins at this column, from 0. */
    String visible(String text, int column) {
        if (isPlain(text)) {
            return text;
        }
        StringBuilder shown = new StringBuilder();
        int at = column;
        int marks = MOST_MARKS;
        for (int i = 0; i < text.length(); i += Character.charCount(text.codePointAt(i))) {
            int c = text.codePointAt(i);
            marks = isMark(c) ? marks + 1 : 0;
            String one;
            if (c == '\t') {
                one = " ".repeat(TAB - at % TAB);
            } else if (marks > MOST_MARKS || isHidden(c) || !encoder.canEncode(Character.toString(c))) {
                one = escape(c);
            } else {
                one = Character.toString(c);
            }
            shown.append(one);
            at += width(one);
        }
        return shown.toString();
    }

    private static boolean isPlain(String text) {
        for (int i = 0; i < text.length(); i++) {
            if (text.charAt(i) < ' ' || text.charAt(i) > '~') {
                return false;
            }
        }
        return true;
    }

    private static boolean isMark(int c) {
        int type = Character.getType(c);
        return type == Character.NON_SPACING_MARK || type == Character.ENCLOSING_MARK;
    }

    /** Whether the character shows nothing of its own, or changes how others are shown. */
    private static boolean isHidden(int c) {
        return switch (Character.getType(c)) {
            case Character.CONTROL,
                    Character.FORMAT,
                    Character.SURROGATE,
                    Character.PRIVATE_USE,
                    Character.UNASSIGNED,
                    Character.LINE_SEPARATOR,
                    Character.PARAGRAPH_SEPARATOR -> true;
            default -> isFillerOrSelector(c);
        };
    }

    /**
     * Letters and marks that Unicode counts among the default ignorable characters, for they show nothing; and letters of
     * flags and colours of skin, which terminals draw together with their neighbours, each in its own way.
     */
    private static boolean isFillerOrSelector(int c) {
        return (c >= 0x1F1E6 && c <= 0x1F1FF)
                || (c >= 0x1F3FB && c <= 0x1F3FF)
                || c == 0x034F
                || c == 0x115F
                || c == 0x1160
                || c == 0x17B4
                || c == 0x17B5
                || (c >= 0x180B && c <= 0x180F)
                || c == 0x3164
                || (c >= 0xFE00 && c <= 0xFE0F)
                || c == 0xFFA0
                || (c >= 0xE0100 && c <= 0xE01EF);
    }

    private static String escape(int c) {
        return c > 0xFFFF ? "\\u{%x}".formatted(c) : "\\u%04x".formatted(c);
    }

    /** Columns that a visible text takes. */
    public static int width(String text) {
        int columns = 0;
        for (int i = 0; i < text.length(); i += Character.charCount(text.codePointAt(i))) {
            columns += width(text.codePointAt(i));
        }
        return columns;
    }

    /** Columns that a visible character takes: 0, 1 or 2. */
    public static int width(int c) {
        if (c < 0x300) {
            return 1;
        }
        if (isMark(c) || (c >= 0x1160 && c <= 0x11FF)) {
            return 0;
        }
        int low = 0;
        int high = WIDE.length / 2 - 1;
        while (low <= high) {
            int middle = (low + high) >>> 1;
            if (c < WIDE[2 * middle]) {
                high = middle - 1;
            } else if (c > WIDE[2 * middle + 1]) {
                low = middle + 1;
            } else {
                return 2;
            }
        }
        return 1;
    }

    /** A visible text cut to so many columns; where something is cut off, an ellipsis says so. */
    public String cut(String text, int columns) {
        if (width(text) <= columns) {
            return text;
        }
        String ellipsis = sign("\u2026", "..");
        int room = columns - ellipsis.length();
        return room < 0 ? ellipsis.substring(0, Math.max(0, columns)) : head(text, room) + ellipsis;
    }

    /** As much of the beginning of a visible text as fits into so many columns. */
    static String head(String text, int columns) {
        int used = 0;
        int end = 0;
        while (end < text.length()) {
            int c = text.codePointAt(end);
            used += width(c);
            if (used > columns) {
                break;
            }
            end += Character.charCount(c);
        }
        return text.substring(0, end);
    }

    /** A visible text with blanks behind it, up to so many columns. */
    public static String padded(String text, int columns) {
        return text + " ".repeat(Math.max(0, columns - width(text)));
    }

    /**
     * A visible text in lines of at most so many columns, cut between words where that is possible; a percent sign stays
     * with its number.
     */
    public List<String> wrapped(String text, int columns) {
        List<String> lines = new ArrayList<>();
        StringBuilder line = new StringBuilder();
        for (String word : text.split(" (?!%)", -1)) {
            if (line.length() > 0 && width(line.toString()) + 1 + width(word) > columns) {
                lines.add(line.toString());
                line.setLength(0);
            }
            line.append(line.length() > 0 ? " " : "").append(word);
            while (width(line.toString()) > columns) {
                String head = head(line.toString(), columns);
                lines.add(head);
                line.delete(0, Math.max(1, head.length()));
            }
        }
        lines.add(line.toString());
        return lines;
    }
}
