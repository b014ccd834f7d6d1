package octurn.asm;

/**
 * What an expression comes to.
 *
 * @param home the memory that it is an address in: a label's, kept when a plain number is added or taken away
 */
record Value(long number, Home home) {

    static Value plain(long number) {
        return new Value(number, Home.NOWHERE);
    }

    boolean isPlain() {
        return home == Home.NOWHERE;
    }
}
