package octurn.cli.stepper;

/** A command that cannot be understood or done; ends as the one line of an answer. */
final class Mistake extends RuntimeException {

    private static final long serialVersionUID = 1;

    Mistake(String message) {
        super(message, null, false, false);
    }

    String line() {
        return String.valueOf(getMessage());
    }
}
