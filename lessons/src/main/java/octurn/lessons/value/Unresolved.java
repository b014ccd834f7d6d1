package octurn.lessons.value;

import java.util.List;
import octurn.diag.Diagnostic;

/** Says that something in a lesson has no value: an author's mistake, with its place. */
public final class Unresolved extends Exception {

    private static final long serialVersionUID = 1;

    private final transient List<Diagnostic> diagnostics;

    /** For one mistake. */
    public Unresolved(Diagnostic diagnostic) {
        this(List.of(diagnostic));
    }

    /** For several, at least one. */
    public Unresolved(List<Diagnostic> diagnostics) {
        super(diagnostics.get(0).message(), null, false, false);
        this.diagnostics = List.copyOf(diagnostics);
    }

    /** What is wrong and where. */
    public List<Diagnostic> diagnostics() {
        return diagnostics;
    }
}
