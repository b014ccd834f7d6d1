package octurn.cli.process;

/** Ends a command because of something the user can mend: one line that says what. */
public final class Failure extends RuntimeException {

    private static final long serialVersionUID = 1;

    /**
     * A failure with the exit code {@link Exit#USAGE}.
     *
     * @param message what is wrong, and what would be right, in one line; it may hold text from outside
     */
    public Failure(String message) {
        super(message, null, false, false);
    }

    /** The line. */
    public String line() {
        return String.valueOf(getMessage());
    }
}
