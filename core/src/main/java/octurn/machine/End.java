package octurn.machine;

/** Why a run ended. */
public enum End {
    /** Every core is idle or in fault. */
    ALL_IDLE("all-idle"),
    /** Nothing can ever happen again, and at least one core waits for it. */
    STUCK("stuck"),
    /** The cycle limit was reached. */
    LIMIT("limit");

    private final String text;

    End(String text) {
        this.text = text;
    }

    /** As in the run report. */
    public String text() {
        return text;
    }
}
