package octurn.cli.learn;

/** Something cannot be done; ends as the one line of a reply. */
public final class Refused extends RuntimeException {

    private static final long serialVersionUID = 1;

    /** What cannot be done, and what could be, in one line. */
    public Refused(String message) {
        super(message, null, false, false);
    }

    String line() {
        return String.valueOf(getMessage());
    }
}
