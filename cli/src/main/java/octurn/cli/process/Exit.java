package octurn.cli.process;

/** Exit codes of the command. */
public final class Exit {

    /** Done. */
    public static final int OK = 0;

    /** A mistake of ours. */
    public static final int INTERNAL_ERROR = 1;

    /** Bad usage, or a file with errors; nothing was run. */
    public static final int USAGE = 2;

    /** A core is in fault. */
    public static final int FAULT = 3;

    /** The run is stuck. */
    public static final int STUCK = 4;

    private Exit() {}
}
