package octurn.asm;

import java.util.ArrayList;
import java.util.BitSet;
import java.util.Comparator;
import java.util.List;
import java.util.PriorityQueue;
import java.util.function.Supplier;
import octurn.diag.Diagnostic;
import octurn.diag.Diagnostic.Severity;
import octurn.diag.Span;
import org.jspecify.annotations.Nullable;

/**
 * Collects what is wrong with one text, and keeps the first {@link #MOST} of it in the order of the text. Hints are
 * worked out only for what is told in the end, since looking for a similar word in a long file takes its time.
 */
final class Problems {

    /** More errors, or warnings, than this are counted, not told. */
    static final int MOST = 100;

    /** Of two at one place the one found first comes first. */
    private record Problem(Place place, int found, String message, Supplier<@Nullable String> hint) {
        static final Comparator<Problem> IN_ORDER = Comparator.comparingInt((Problem problem) -> problem.place.line())
                .thenComparingInt(problem -> problem.place.column())
                .thenComparingInt(Problem::found);
    }

    /** The first problems of one severity, the last one on top. */
    private static final class Pile {
        final PriorityQueue<Problem> first = new PriorityQueue<>(Problem.IN_ORDER.reversed());
        int count;

        void add(Place place, String message, Supplier<@Nullable String> hint) {
            first.add(new Problem(place, count++, message, hint));
            if (first.size() > MOST) {
                first.remove();
            }
        }
    }

    private final Pile errors = new Pile();
    private final Pile warnings = new Pile();
    private final BitSet silenced = new BitSet();

    void error(Place place, String message, @Nullable String hint) {
        error(place, message, () -> hint);
    }

    void error(Place place, String message, Supplier<@Nullable String> hint) {
        if (!silenced.get(place.line())) {
            errors.add(place, message, hint);
        }
    }

    void warning(Place place, String message, @Nullable String hint) {
        warnings.add(place, message, () -> hint);
    }

    /** From now on no error is told about this line. */
    void silence(int line) {
        silenced.set(line);
    }

    boolean anyErrors() {
        return errors.count > 0;
    }

    /** The errors, or the warnings, in the order of the text; those beyond {@link #MOST} as one. */
    List<Diagnostic> told(Severity severity, Source source) {
        Pile pile = severity == Severity.ERROR ? errors : warnings;
        List<Problem> problems = new ArrayList<>(pile.first);
        problems.sort(Problem.IN_ORDER);
        List<Diagnostic> told = new ArrayList<>();
        for (Problem problem : problems) {
            Place place = problem.place;
            told.add(new Diagnostic(
                    severity,
                    new Span(source.file(), place.line(), place.column(), place.length()),
                    problem.message,
                    problem.hint.get(),
                    source.shown(place.line())));
        }
        if (pile.count > MOST) {
            String what = severity == Severity.ERROR ? "errors" : "warnings";
            told.add(new Diagnostic(
                    severity,
                    Span.file(source.file()),
                    "and %d more %s".formatted(pile.count - MOST, what),
                    null,
                    null));
        }
        return told;
    }
}
