package octurn.json;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import octurn.diag.Diagnostic;
import org.jspecify.annotations.Nullable;

/** Collects what is wrong with one file, and gives it back in the order of the file. */
public final class Problems {

    private record Found(int offset, Diagnostic diagnostic) {}

    private final SourceText source;
    private final List<Found> found = new ArrayList<>();

    Problems(SourceText source) {
        this.source = source;
    }

    /** Notes an error about a value. */
    public void error(JsonValue at, String message, @Nullable String hint) {
        error(at.start(), at.end(), message, hint);
    }

    /** Notes an error about the characters from one offset up to another. */
    public void error(int start, int end, String message, @Nullable String hint) {
        found.add(new Found(start, source.error(start, end, message, hint)));
    }

    /** Notes a warning about a value. */
    public void warning(JsonValue at, String message, @Nullable String hint) {
        found.add(new Found(at.start(), source.warning(at.start(), at.end(), message, hint)));
    }

    /** Whether any error was noted. */
    public boolean anyError() {
        return found.stream().anyMatch(one -> one.diagnostic().isError());
    }

    /** Notes what was found wrong at a value, or in another file that it names. */
    public void add(JsonValue at, Diagnostic diagnostic) {
        found.add(new Found(at.start(), diagnostic));
    }

    /** Notes what was found wrong when all had been read. */
    public void addLast(Diagnostic diagnostic) {
        found.add(new Found(Integer.MAX_VALUE, diagnostic));
    }

    /** The text of a string or number, which knows its place in the file. */
    public Passage passage(JsonValue value) {
        return Passage.of(source, value);
    }

    /** All of it, in the order of the file. */
    List<Diagnostic> inOrder() {
        return found.stream()
                .sorted(Comparator.comparingInt(Found::offset))
                .map(Found::diagnostic)
                .toList();
    }
}
