package octurn.json;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import octurn.diag.Diagnostic;
import org.jspecify.annotations.Nullable;

/** Collects what is wrong with one file, and gives it back in the order of the file. */
final class Problems {

    private record Found(int offset, Diagnostic diagnostic) {}

    private final SourceText source;
    private final List<Found> found = new ArrayList<>();

    Problems(SourceText source) {
        this.source = source;
    }

    void error(JsonValue at, String message, @Nullable String hint) {
        error(at.start(), at.end(), message, hint);
    }

    void error(int start, int end, String message, @Nullable String hint) {
        found.add(new Found(start, source.error(start, end, message, hint)));
    }

    void warning(JsonValue at, String message, @Nullable String hint) {
        found.add(new Found(at.start(), source.warning(at.start(), at.end(), message, hint)));
    }

    boolean anyError() {
        return found.stream().anyMatch(one -> one.diagnostic().isError());
    }

    List<Diagnostic> inOrder() {
        return found.stream()
                .sorted(Comparator.comparingInt(Found::offset))
                .map(Found::diagnostic)
                .toList();
    }
}
