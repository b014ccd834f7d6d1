package octurn.asm;

/**
 * The numbers that fit somewhere.
 *
 * @param least the smallest of them
 * @param most the largest of them
 */
record Range(long least, long most) {

    /** Two's complement of this many bits. */
    static Range signed(int bits) {
        return new Range(-(1L << (bits - 1)), (1L << (bits - 1)) - 1);
    }

    static Range unsigned(int bits) {
        return new Range(0, (1L << bits) - 1);
    }

    boolean has(long number) {
        return number >= least && number <= most;
    }

    @Override
    public String toString() {
        return least + ".." + most;
    }
}
