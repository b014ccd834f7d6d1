package octurn.asm;

import java.nio.ByteBuffer;
import java.nio.CharBuffer;
import java.nio.charset.CharsetDecoder;
import java.nio.charset.CoderResult;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * The lines of a file.
 *
 * @param file its name as the user gave it
 * @param lines without their ends
 * @param refused whether the text is none to be looked at any further
 */
record Source(String file, List<String> lines, boolean refused) {

    static final int MOST_BYTES = 1 << 20;
    static final int LONGEST_LINE = 1000;

    private static final int BYTE_ORDER_MARK = 0xFEFF;

    /** Cuts the file into lines and tells what is wrong with it as a text. */
    static Source read(String file, byte[] utf8, Problems problems) {
        if (utf8.length > MOST_BYTES) {
            return refuse(
                    file,
                    problems,
                    Place.FILE,
                    "the file has %d bytes, a program at most %d".formatted(utf8.length, MOST_BYTES),
                    null);
        }
        CharBuffer text = CharBuffer.allocate(utf8.length);
        ByteBuffer bytes = ByteBuffer.wrap(utf8);
        CharsetDecoder decoder = StandardCharsets.UTF_8.newDecoder();
        CoderResult result = decoder.decode(bytes, text, true);
        if (result.isError()) {
            int at = bytes.position();
            return refuse(
                    file,
                    problems,
                    place(text.flip().toString()),
                    "this is no UTF-8 text: byte 0x%02X".formatted(utf8[at] & 0xFF),
                    "save the file as UTF-8");
        }
        String whole = text.flip().toString();
        int nul = whole.indexOf(0);
        if (nul >= 0) {
            return refuse(
                    file,
                    problems,
                    place(whole.substring(0, nul)),
                    "this is no text: it holds the character \\u0000",
                    "a program file is plain UTF-8 text");
        }
        List<String> lines = split(whole);
        for (int i = 0; i < lines.size(); i++) {
            checkLine(i + 1, lines.get(i), problems);
        }
        return new Source(file, lines, false);
    }

    private static Source refuse(String file, Problems problems, Place place, String message, @Nullable String hint) {
        problems.error(place, message, hint);
        return new Source(file, List.of(), true);
    }

    /** The place after the text read so far. */
    private static Place place(String before) {
        int line = 1 + (int) before.chars().filter(c -> c == '\n').count();
        String text = withoutMark(before);
        String last = text.substring(text.lastIndexOf('\n') + 1);
        return new Place(line, last.codePointCount(0, last.length()) + 1, 1);
    }

    private static String withoutMark(String text) {
        return !text.isEmpty() && text.charAt(0) == BYTE_ORDER_MARK ? text.substring(1) : text;
    }

    private static List<String> split(String whole) {
        String text = withoutMark(whole);
        List<String> lines = new ArrayList<>();
        int start = 0;
        while (start < text.length()) {
            int end = text.indexOf('\n', start);
            int next = end + 1;
            if (end < 0) {
                end = text.length();
                next = end;
            } else if (end > start && text.charAt(end - 1) == '\r') {
                end--;
            }
            lines.add(text.substring(start, end));
            start = next;
        }
        return lines;
    }

    private static void checkLine(int number, String line, Problems problems) {
        int characters = line.length() > LONGEST_LINE ? line.codePointCount(0, line.length()) : line.length();
        if (characters > LONGEST_LINE) {
            problems.error(
                    Place.line(number),
                    "the line has %d characters, a line at most %d".formatted(characters, LONGEST_LINE),
                    (String) null);
            problems.silence(number);
            return;
        }
        int comment = line.indexOf(';');
        boolean inCode = false;
        for (int i = 0; i < line.length(); i++) {
            char c = line.charAt(i);
            inCode |= checkCharacter(c, line, i, number, problems) && (comment < 0 || i < comment);
        }
        if (inCode) {
            // What else seems wrong with the line may well come from that.
            problems.silence(number);
        }
    }

    private static boolean checkCharacter(char c, String line, int at, int number, Problems problems) {
        if (c == '\t' || !Character.isISOControl(c)) {
            return false;
        }
        Place place = new Place(number, line.codePointCount(0, at) + 1, 1);
        if (c == '\r') {
            problems.error(place, "carriage return \\u000d inside a line", "lines end in LF or CRLF");
        } else {
            problems.error(place, "control character " + Text.escaped(c), "take it out");
        }
        return true;
    }

    /** A line for the parser: what is too long is cut off, since nothing more is said about it. */
    String text(int number) {
        String line = lines.get(number - 1);
        return line.length() > LONGEST_LINE && line.codePointCount(0, line.length()) > LONGEST_LINE
                ? line.substring(0, LONGEST_LINE)
                : line;
    }

    /** The piece of text at this place. */
    String text(Place place) {
        String line = text(place.line());
        int start = line.offsetByCodePoints(0, place.column() - 1);
        return line.substring(start, line.offsetByCodePoints(start, place.length()));
    }

    /** A line to show with a message, or null where there is none, or none fit to show. */
    @Nullable
    String shown(int number) {
        return number >= 1 && number <= lines.size() && text(number).equals(lines.get(number - 1))
                ? lines.get(number - 1)
                : null;
    }
}
