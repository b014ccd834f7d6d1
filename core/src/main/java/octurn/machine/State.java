package octurn.machine;

/** What a core does in a cycle: exactly one of these. The ordinals are used in the engine's loop and in events. */
public enum State {
    /** Doing an instruction, the work cycles of an access included. */
    WORK("work"),
    /** An access instruction's request is up, not admitted. */
    WAIT("wait"),
    /** An access instruction holds the memory. */
    SLOT("slot"),
    /** As wait, for fetching an instruction from shared memory. */
    CODE_WAIT("codeWait"),
    /** As slot, for fetching an instruction from shared memory. */
    CODE_SLOT("codeSlot"),
    /** As wait, for loading an image. */
    LOAD_WAIT("loadWait"),
    /** As slot, for loading an image. */
    LOAD_SLOT("loadSlot"),
    /** In pause, until or await after the instruction's work cycles. */
    SLEEP("sleep"),
    /** Not started, halted or stopped. */
    IDLE("idle"),
    /** Ended by a fault. */
    FAULT("fault");

    private final String text;

    State(String text) {
        this.text = text;
    }

    /** As in the run report. */
    public String text() {
        return text;
    }

    /** Whether the core's request is up and not admitted. */
    public boolean isWaiting() {
        return this == WAIT || this == CODE_WAIT || this == LOAD_WAIT;
    }

    /**
     * What a waiting state becomes when the request is admitted.
     *
     * @throws IllegalStateException for a state that does not wait
     */
    State admitted() {
        return switch (this) {
            case WAIT -> SLOT;
            case CODE_WAIT -> CODE_SLOT;
            case LOAD_WAIT -> LOAD_SLOT;
            default -> throw new IllegalStateException("not waiting: " + this);
        };
    }

    /** Whether the core holds the memory. */
    public boolean isAdmitted() {
        return this == SLOT || this == CODE_SLOT || this == LOAD_SLOT;
    }
}
