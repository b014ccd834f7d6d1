package octurn.json;

import java.nio.ByteBuffer;
import java.nio.CharBuffer;
import java.nio.charset.CharsetDecoder;
import java.nio.charset.CoderResult;
import java.nio.charset.CodingErrorAction;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import octurn.diag.Diagnostic;
import octurn.diag.Span;
import org.jspecify.annotations.Nullable;

/** A file's text, and where in it an offset lies. Lines end in LF, CRLF or CR. */
final class SourceText {

    /** The most bytes that a JSON file may have: 1 MiB. */
    static final int MAX_BYTES = 1 << 20;

    private final String file;
    private final String text;
    private final int[] lineStarts;

    // A lesson is read once and used by several threads, so the telling of mistakes takes turns.
    // Mistakes come nearly in order, and a file may be one long line with very many: so the last place is kept, and the
    // next is counted from there.
    private int lastRow = -1;
    private String lastLine = "";
    private int lastOffset;
    private int lastColumn;

    SourceText(String file, String text) {
        this.file = file;
        this.text = text;
        this.lineStarts = lineStarts(text);
    }

    /**
     * Bytes to text, strictly.
     *
     * @throws Refusal if they are more than 1 MiB, not UTF-8, or begin with a byte order mark
     */
    static SourceText decode(String file, byte[] bytes) throws Refusal {
        if (bytes.length > MAX_BYTES) {
            String message = "larger than 1 MiB (1,048,576 bytes), the most that is read";
            throw new Refusal(Diagnostic.error(Span.file(file), message, null, null));
        }
        CharsetDecoder decoder = StandardCharsets.UTF_8
                .newDecoder()
                .onMalformedInput(CodingErrorAction.REPORT)
                .onUnmappableCharacter(CodingErrorAction.REPORT);
        ByteBuffer in = ByteBuffer.wrap(bytes);
        CharBuffer out = CharBuffer.allocate(bytes.length);
        CoderResult result = decoder.decode(in, out, true);
        String text = out.flip().toString();
        if (result.isError()) {
            throw new Refusal(notUtf8(file, text, bytes, in.position()));
        }
        SourceText source = new SourceText(file, text);
        if (text.startsWith("\uFEFF")) {
            throw new Refusal(source.error(0, 1, "starts with a byte order mark", "save it as UTF-8 without one"));
        }
        return source;
    }

    private static Diagnostic notUtf8(String file, String before, byte[] bytes, int at) {
        // The line is shown with a replacement character for what cannot be read.
        byte[] rest = Arrays.copyOfRange(bytes, at, Math.min(bytes.length, at + 200));
        SourceText source = new SourceText(file, before + new String(rest, StandardCharsets.UTF_8));
        String message = "not UTF-8 text: the byte 0x%02X cannot stand here".formatted(bytes[at]);
        return source.error(before.length(), before.length() + 1, message, "save it as UTF-8");
    }

    String file() {
        return file;
    }

    String text() {
        return text;
    }

    /** An error about the characters from one offset up to another. */
    synchronized Diagnostic error(int start, int end, String message, @Nullable String hint) {
        Span span = span(start, end);
        return Diagnostic.error(span, message, hint, lastLine);
    }

    /** A warning about the characters from one offset up to another. */
    synchronized Diagnostic warning(int start, int end, String message, @Nullable String hint) {
        Span span = span(start, end);
        return Diagnostic.warning(span, message, hint, lastLine);
    }

    /** The place of these characters; what goes beyond the first line is left out. Notes the line. */
    private Span span(int start, int end) {
        int row = row(start);
        int lineEnd = lineEnd(row);
        if (row != lastRow || start < lastOffset) {
            lastLine = row == lastRow ? lastLine : text.substring(lineStarts[row], lineEnd);
            lastRow = row;
            lastOffset = lineStarts[row];
            lastColumn = 1;
        }
        lastColumn += text.codePointCount(lastOffset, start);
        lastOffset = start;
        int until = Math.max(start, Math.min(end, lineEnd));
        return new Span(file, row + 1, lastColumn, Math.max(1, text.codePointCount(start, until)));
    }

    private int row(int offset) {
        int found = Arrays.binarySearch(lineStarts, offset);
        return found >= 0 ? found : -found - 2;
    }

    private int lineEnd(int row) {
        int end = row + 1 < lineStarts.length ? lineStarts[row + 1] : text.length();
        while (end > lineStarts[row] && isLineEnd(text.charAt(end - 1))) {
            end--;
        }
        return end;
    }

    private static boolean isLineEnd(char c) {
        return c == '\n' || c == '\r';
    }

    private static int[] lineStarts(String text) {
        int[] starts = new int[16];
        int count = 1;
        for (int i = 0; i < text.length(); i++) {
            boolean ends = text.charAt(i) == '\n'
                    || (text.charAt(i) == '\r' && (i + 1 == text.length() || text.charAt(i + 1) != '\n'));
            if (ends) {
                if (count == starts.length) {
                    starts = Arrays.copyOf(starts, 2 * count);
                }
                starts[count++] = i + 1;
            }
        }
        return Arrays.copyOf(starts, count);
    }
}
