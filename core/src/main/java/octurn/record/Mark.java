package octurn.record;

/** The kinds of what a {@link Lane} puts down, with the numbers that follow each; the ordinals are written. */
enum Mark {
    /** An instruction starts: the one that followed the last one before. */
    BEGIN,
    /** An instruction starts. Follows: its number. */
    BEGIN_OTHER,
    /** The instruction has finished. */
    FINISH,
    /** A request is raised. Follows: the waiting state; value: the shared address, -1 for none. */
    REQUEST,
    /** The request is admitted. */
    ADMIT,
    /** The request or the access under way is given up. */
    GIVE_UP,
    /** The core's state changes. Follows: the state. */
    STATE,
    /** A register is written. Follows: which; value: the new one. */
    REGISTER,
    /** A shared word is written. Values: its address less that of the request, the new word. */
    SHARED_WORD,
    /** A private word is written. Values: its address, the new word. */
    PRIVATE_WORD,
    /** A port is written. Follows: its code; value: the new one. */
    PORT,
    /** The core begins loading, cleared. Follow: who started it, the image's address. */
    LOADING,
    /** The core starts at its private address 0. */
    START,
    /** The core becomes idle. Follow: who stopped it and 1 more, 0 for its own halt; the instruction it stands at. */
    IDLE,
    /** The core is in fault. Follow: the number of the message; the instruction it stands at. */
    FAULT,
    /** The core lets go of its pins, and its tallies become 0. */
    LET_GO;

    /** How many bits an ordinal takes; the cycles since the mark before are in the bits above. */
    static final int BITS = 5;
}
