package octurn.lessons.mark;

import java.util.Locale;

/** What became of one student's work on one task. */
public enum Status {
    /** Every check passed. */
    PASSED("passed"),
    /** It ran, and at least one check did not pass. */
    FAILED("not passed"),
    /** It is the starting program, as it was given out. */
    UNCHANGED("as given out"),
    /** It does not assemble, or is no design. */
    ERRORS("with errors"),
    /** Checking it took longer than allowed. */
    OVER_TIME("over time"),
    /** The file is empty, or has nothing but blanks and comments. */
    EMPTY("empty"),
    /** The file is larger than allowed. */
    TOO_LARGE("too large"),
    /** The file is no text. */
    NO_TEXT("no text"),
    /** Nothing is there. */
    MISSING("missing"),
    /** There are files, but none with a name that would be right, or several. */
    WRONG_NAME("wrong name"),
    /** What is there is a link, a device or something else that is not read. */
    NO_FILE("not a file"),
    /** The file cannot be read. */
    UNREADABLE("cannot be read"),
    /** A mistake of ours kept it from being marked. */
    INTERNAL("not marked");

    private final String words;

    Status(String words) {
        this.words = words;
    }

    /** For people. */
    public String words() {
        return words;
    }

    /** For files, as in {@code over-time}. */
    public String text() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    /** The status with this text. */
    public static Status of(String text) {
        for (Status status : values()) {
            if (status.text().equals(text)) {
                return status;
            }
        }
        throw new IllegalArgumentException("no status: " + text);
    }

    /** Whether checks were made. */
    public boolean isChecked() {
        return this == PASSED || this == FAILED || this == UNCHANGED;
    }

    /** Whether there was a file to look into. */
    public boolean isRead() {
        return isChecked() || this == ERRORS || this == OVER_TIME || this == EMPTY || this == INTERNAL;
    }
}
