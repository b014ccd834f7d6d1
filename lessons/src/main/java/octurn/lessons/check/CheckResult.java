package octurn.lessons.check;

import java.util.List;
import octurn.diag.Diagnostic;

/** What came of checking a student's work. */
public sealed interface CheckResult {

    /** Whether all is as the task wants it. */
    default boolean passed() {
        return false;
    }

    /**
     * A program, or a design, with errors: nothing was run.
     *
     * @param diagnostics all of them; at least one is an error
     */
    record Broken(List<Diagnostic> diagnostics) implements CheckResult {
        public Broken {
            diagnostics = List.copyOf(diagnostics);
        }
    }

    /**
     * Work that was run.
     *
     * @param warnings what the student may want to know all the same
     * @param outcomes every check on every run, run by run
     */
    record Checked(List<Diagnostic> warnings, List<Outcome> outcomes) implements CheckResult {
        public Checked {
            warnings = List.copyOf(warnings);
            outcomes = List.copyOf(outcomes);
        }

        @Override
        public boolean passed() {
            return outcomes.stream().allMatch(Outcome::passed);
        }
    }

    /** The limits asked to stop before all was checked. */
    record Stopped() implements CheckResult {}
}
