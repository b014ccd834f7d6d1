package octurn.asm;

/**
 * A stretch of a line of the source.
 *
 * @param line from 1; 0 for the whole file
 * @param column from 1, in code points; 0 for the whole line
 * @param length in code points
 */
record Place(int line, int column, int length) {

    static final Place FILE = new Place(0, 0, 0);

    static Place line(int line) {
        return new Place(line, 0, 0);
    }

    /** From the beginning of this place to the end of another one further on in the same line. */
    Place to(Place end) {
        return new Place(line, column, end.column + end.length - column);
    }

    /** The column after the last one. */
    int end() {
        return column + length;
    }
}
