package octurn.asm;

import java.util.ArrayList;
import java.util.BitSet;
import java.util.Comparator;
import java.util.List;
import java.util.function.Supplier;
import octurn.diag.Diagnostic;
import octurn.diag.Diagnostic.Severity;
import octurn.diag.Span;
import org.jspecify.annotations.Nullable;

/**
 * Collects what is wrong with one text. Hints are worked out only for what is told in the end, since looking for a
 * similar word in a long file takes its time.
 */
final class Problems {

    /** More errors than this are counted, not told. */
    static final int MOST = 100;

    private record Problem(Severity severity, Place place, String message, Supplier<@Nullable String> hint) {}

    private final List<Problem> found = new ArrayList<>();
    private final BitSet silenced = new BitSet();
    private int errors;

    void error(Place place, String message, @Nullable String hint) {
        error(place, message, () -> hint);
    }

    void error(Place place, String message, Supplier<@Nullable String> hint) {
        if (!silenced.get(place.line())) {
            found.add(new Problem(Severity.ERROR, place, message, hint));
            errors++;
        }
    }

    void warning(Place place, String message, @Nullable String hint) {
        found.add(new Problem(Severity.WARNING, place, message, () -> hint));
    }

    /** From now on nothing more is said about this line. */
    void silence(int line) {
        silenced.set(line);
    }

    boolean any() {
        return errors > 0;
    }

    /** Everything of this severity in the order of the text, the many beyond {@link #MOST} in one. */
    List<Diagnostic> told(Severity severity, Source source) {
        List<Problem> all = new ArrayList<>(found);
        all.removeIf(problem -> problem.severity != severity);
        all.sort(Comparator.comparingInt((Problem problem) -> problem.place.line())
                .thenComparingInt(problem -> problem.place.column()));
        List<Diagnostic> told = new ArrayList<>();
        for (Problem problem : all.subList(0, Math.min(all.size(), MOST))) {
            Place place = problem.place;
            told.add(new Diagnostic(
                    severity,
                    new Span(source.file(), place.line(), place.column(), place.length()),
                    problem.message,
                    problem.hint.get(),
                    source.shown(place.line())));
        }
        if (all.size() > MOST) {
            String more = severity == Severity.ERROR ? "errors" : "warnings";
            told.add(new Diagnostic(
                    severity,
                    Span.file(source.file()),
                    "and %d more %s".formatted(all.size() - MOST, more),
                    null,
                    null));
        }
        return told;
    }
}
