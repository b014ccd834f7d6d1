package octurn.trace;

/**
 * The kinds of event, with the meaning of their two numbers. An event's cycle is the first one from whose beginning on
 * it holds: what takes effect at the end of cycle t is told with cycle t+1. So the chip at the beginning of cycle t is
 * the chip at cycle 0 plus all events up to and including t.
 *
 * <p>Where a number is an address with its memory, it is {@link #place}: the unsigned address, with bit 32 set for
 * shared memory.
 */
public enum Kind {
    /** The core's state changed. a: the new state's ordinal; b: the old one's. */
    STATE,
    /** An instruction starts. a: its place; b: its word. */
    BEGIN,
    /** An instruction finished. a: its place; b: its word. */
    FINISH,
    /** A request is raised. a: the waiting state's ordinal; b: the shared address, or -1 for start and stop. */
    REQUEST,
    /** A request is admitted. a: its wait in cycles; b: the shared address, or -1 for start and stop. */
    ADMIT,
    /** A request or an access under way is given up, because its core was stopped. */
    GIVE_UP,
    /** An access read a shared word. a: its address; b: the value. */
    SHARED_READ,
    /** An access wrote a shared word, or with core -1 a person did by hand. a: its address; b: the new value. */
    SHARED_WRITE,
    /** A load read a private word. a: its address; b: the value. */
    PRIVATE_READ,
    /** A store or a loading core wrote a private word. a: its address; b: the new value. */
    PRIVATE_WRITE,
    /** A register was written. a: its number; b: the new value. */
    REGISTER,
    /** A port was written. a: its code; b: the new value as kept. */
    PORT,
    /** Pins changed; core is -1. a: all levels, bit i for pin i; b: the pins with a clash. */
    PINS,
    /** The core was chosen by a start and begins loading; its registers and private RAM are cleared. a: who; b: where. */
    LOADING,
    /** The core starts at private address 0. */
    START,
    /** The core became idle. a: the core that stopped it, itself included, or -1 for its own halt. */
    IDLE,
    /** The core is in fault. a: the kind's ordinal; b: the place. */
    FAULT,
    /** The core lets go of its pins, and its tallies become 0. */
    LET_GO,
    /** The run ended; core is -1. a: the reason's ordinal. */
    END;

    private static final long SHARED = 1L << 32;

    /** An address together with which memory it is in. */
    public static long place(int address, boolean inShared) {
        return Integer.toUnsignedLong(address) | (inShared ? SHARED : 0);
    }

    /** The unsigned address of a place. */
    public static int address(long place) {
        return (int) place;
    }

    /** Whether a place is in shared memory. */
    public static boolean inShared(long place) {
        return (place & SHARED) != 0;
    }
}
