package octurn.json;

import octurn.diag.Diagnostic;

/** Ends the reading of a file that cannot be read any further. */
final class Refusal extends Exception {

    private static final long serialVersionUID = 1;

    private final transient Diagnostic diagnostic;

    Refusal(Diagnostic diagnostic) {
        super(diagnostic.message(), null, false, false);
        this.diagnostic = diagnostic;
    }

    Diagnostic diagnostic() {
        return diagnostic;
    }
}
