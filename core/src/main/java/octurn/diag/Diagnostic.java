package octurn.diag;

import java.util.Objects;
import org.jspecify.annotations.Nullable;

/**
 * One thing to say about a file.
 *
 * @param severity whether it stops the work
 * @param span where
 * @param message what is wrong, with the text at fault, in one line
 * @param hint what would be right, or null where the message says it already
 * @param sourceLine the line of the file as it stands there, or null where there is none to show
 */
public record Diagnostic(
        Severity severity,
        Span span,
        String message,
        @Nullable String hint,
        @Nullable String sourceLine) {

    /** Whether a diagnostic stops the work. */
    public enum Severity {
        ERROR,
        WARNING
    }

    public Diagnostic {
        Objects.requireNonNull(message);
    }

    public static Diagnostic error(Span span, String message, @Nullable String hint, @Nullable String sourceLine) {
        return new Diagnostic(Severity.ERROR, span, message, hint, sourceLine);
    }

    public static Diagnostic warning(Span span, String message, @Nullable String hint, @Nullable String sourceLine) {
        return new Diagnostic(Severity.WARNING, span, message, hint, sourceLine);
    }

    public boolean isError() {
        return severity == Severity.ERROR;
    }
}
