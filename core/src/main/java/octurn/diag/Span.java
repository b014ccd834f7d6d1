package octurn.diag;

/**
 * A place in a file.
 *
 * @param file its name as the user gave it
 * @param line from 1; 0 where the whole file is meant
 * @param column from 1, in characters (code points); 0 where the whole line or file is meant
 * @param length how many characters the mistake covers, at least 1 where there is a column
 */
public record Span(String file, int line, int column, int length) {

    /** The whole file. */
    public static Span file(String file) {
        return new Span(file, 0, 0, 0);
    }
}
