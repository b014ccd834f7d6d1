package octurn.asm;

import java.util.List;
import octurn.diag.Diagnostic;

/** What came of assembling a text. */
public sealed interface Assembly {

    /**
     * A program that can run.
     *
     * @param program what was made
     * @param warnings what its writer may want to know all the same, in the order of the file
     */
    record Assembled(Program program, List<Diagnostic> warnings) implements Assembly {
        public Assembled {
            warnings = List.copyOf(warnings);
        }
    }

    /**
     * A text with mistakes.
     *
     * @param errors all of them, in the order of the file; never empty
     */
    record Rejected(List<Diagnostic> errors) implements Assembly {
        public Rejected {
            errors = List.copyOf(errors);
            if (errors.isEmpty()) {
                throw new IllegalArgumentException("a rejected text has at least one error");
            }
        }
    }
}
