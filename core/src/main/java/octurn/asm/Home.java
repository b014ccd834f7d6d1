package octurn.asm;

/** What the number of an expression is an address in. Each private RAM that is written for is a home of its own. */
final class Home {
    /** A plain number. */
    static final Home NOWHERE = new Home();
    /** The shared memory. */
    static final Home SHARED = new Home();
    /** An image's place in shared memory: an address, but nothing to jump to. */
    static final Home IMAGE = new Home();
}
