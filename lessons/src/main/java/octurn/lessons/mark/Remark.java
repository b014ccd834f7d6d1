package octurn.lessons.mark;

import octurn.diag.Diagnostic;
import org.jspecify.annotations.Nullable;

/**
 * Something to say about a line of a submission.
 *
 * @param line from 1; 0 where the whole file is meant
 * @param column from 1; 0 where the whole line is meant
 * @param error whether it kept the file from being used
 * @param message what is wrong
 * @param hint what would be right, or null
 */
public record Remark(
        int line,
        int column,
        boolean error,
        String message,
        @Nullable String hint) {

    /** What a diagnostic says. */
    public static Remark of(Diagnostic diagnostic) {
        return new Remark(
                diagnostic.span().line(),
                diagnostic.span().column(),
                diagnostic.isError(),
                diagnostic.message(),
                diagnostic.hint());
    }
}
