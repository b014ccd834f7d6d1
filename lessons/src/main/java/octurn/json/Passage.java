package octurn.json;

import java.util.List;
import octurn.diag.Diagnostic;
import org.jspecify.annotations.Nullable;

/** A text that somebody wrote, which knows where it stands: a string in a JSON file, or a whole file of text. */
public final class Passage {

    private final SourceText source;
    private final String text;
    /** For each character of the text, and for its end, the offset in the source; null if they are the same. */
    private final int @Nullable [] offsets;

    private Passage(SourceText source, String text, int @Nullable [] offsets) {
        this.source = source;
        this.text = text;
        this.offsets = offsets;
    }

    /**
     * A file of text.
     *
     * @param file its name, for the messages
     * @param utf8 its bytes
     * @return the text, or what is wrong with the file as a text
     */
    public static Reading<Passage> file(String file, byte[] utf8) {
        try {
            SourceText source = SourceText.decode(file, utf8);
            return new Reading.Accepted<>(new Passage(source, source.text(), null), List.of());
        } catch (Refusal e) {
            return new Reading.Refused<>(List.of(e.diagnostic()));
        }
    }

    /** The text of a string, a number or a word of a JSON file. */
    static Passage of(SourceText source, JsonValue value) {
        if (value instanceof JsonValue.Str string) {
            return new Passage(source, string.text(), stringOffsets(source.text(), string));
        }
        String written = source.text().substring(value.start(), value.end());
        int[] offsets = new int[written.length() + 1];
        for (int i = 0; i < offsets.length; i++) {
            offsets[i] = value.start() + i;
        }
        return new Passage(source, written, offsets);
    }

    private static int[] stringOffsets(String file, JsonValue.Str string) {
        int[] offsets = new int[string.text().length() + 1];
        int at = string.start() + 1;
        for (int i = 0; i < string.text().length(); i++) {
            offsets[i] = at;
            at += file.charAt(at) != '\\' ? 1 : file.charAt(at + 1) == 'u' ? 6 : 2;
        }
        offsets[string.text().length()] = at;
        return offsets;
    }

    /** What it says. */
    public String text() {
        return text;
    }

    /** The name of the file in which it stands. */
    public String file() {
        return source.file();
    }

    /** An error about its characters from one offset up to another. */
    public Diagnostic error(int start, int end, String message, @Nullable String hint) {
        return source.error(offset(start), offset(end), message, hint);
    }

    /** A warning about its characters from one offset up to another. */
    public Diagnostic warning(int start, int end, String message, @Nullable String hint) {
        return source.warning(offset(start), offset(end), message, hint);
    }

    /** An error about all of it. */
    public Diagnostic error(String message, @Nullable String hint) {
        return error(0, text.length(), message, hint);
    }

    private int offset(int at) {
        return offsets == null ? at : offsets[at];
    }
}
