package octurn.json;

import java.util.List;
import octurn.diag.Diagnostic;

/**
 * What came of reading a file.
 *
 * @param <T> what the file describes
 */
public sealed interface Reading<T> {

    /**
     * A file in order.
     *
     * @param value what it says
     * @param warnings what its writer may want to know all the same, in the order of the file
     */
    record Accepted<T>(T value, List<Diagnostic> warnings) implements Reading<T> {
        public Accepted {
            warnings = List.copyOf(warnings);
        }
    }

    /**
     * A file with mistakes.
     *
     * @param problems all errors and warnings, in the order of the file; at least one is an error
     */
    record Refused<T>(List<Diagnostic> problems) implements Reading<T> {
        public Refused {
            problems = List.copyOf(problems);
            if (problems.stream().noneMatch(Diagnostic::isError)) {
                throw new IllegalArgumentException("a refused file has at least one error");
            }
        }
    }
}
