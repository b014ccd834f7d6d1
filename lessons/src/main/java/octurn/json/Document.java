package octurn.json;

import java.util.List;
import org.jspecify.annotations.Nullable;

/** What all files of ours have in common: bytes, one JSON value, a record made of it. */
public final class Document {

    private Document() {}

    /**
     * Makes the record.
     *
     * @param <T> the record
     */
    public interface Body<T> {
        /** The record, or null if there was anything wrong, which is then noted. */
        @Nullable
        T read(JsonValue root, Problems problems);
    }

    /** Reads one file; {@code what} names its sort, as in "a design". */
    public static <T> Reading<T> read(String file, byte[] utf8, String what, Body<T> body) {
        try {
            SourceText source = SourceText.decode(file, utf8);
            JsonValue root = JsonTree.parse(source, what);
            Problems problems = new Problems(source);
            T value = body.read(root, problems);
            return value == null || problems.anyError()
                    ? new Reading.Refused<>(problems.inOrder())
                    : new Reading.Accepted<>(value, problems.inOrder());
        } catch (Refusal e) {
            return new Reading.Refused<>(List.of(e.diagnostic()));
        }
    }
}
