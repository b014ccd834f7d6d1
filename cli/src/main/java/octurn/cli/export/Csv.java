package octurn.cli.export;

import java.util.ArrayList;
import java.util.List;

/**
 * Rows of comma-separated values (RFC 4180), UTF-8, lines ended by CR and LF. A text that a spreadsheet would take for a
 * formula gets an apostrophe in front (common practice; OWASP, "CSV Injection"); control characters become blanks.
 */
public final class Csv {

    private static final String FORMULA = "=+-@";

    private final List<String> cells = new ArrayList<>();

    /** A cell of text, from wherever it comes. */
    public Csv text(String text) {
        StringBuilder safe = new StringBuilder();
        text.codePoints().map(c -> Character.isISOControl(c) ? ' ' : c).forEach(safe::appendCodePoint);
        boolean formula = !safe.isEmpty()
                && (FORMULA.indexOf(safe.charAt(0)) >= 0
                        || safe.toString().stripLeading().length() < safe.length());
        cells.add(quoted((formula ? "'" : "") + safe));
        return this;
    }

    /** A cell with a whole number. */
    public Csv number(long number) {
        cells.add(Long.toString(number));
        return this;
    }

    /** A cell with a number that is written already. */
    public Csv number(String number) {
        if (!number.matches("-?[0-9]+(\\.[0-9]+)?(E-?[0-9]+)?")) {
            throw new IllegalArgumentException("no number: " + number);
        }
        cells.add(number);
        return this;
    }

    /** An empty cell. */
    public Csv nothing() {
        cells.add("");
        return this;
    }

    private static String quoted(String text) {
        boolean plain = text.chars().noneMatch(c -> c == ',' || c == '"' || c == '\n' || c == '\r');
        return plain ? text : '"' + text.replace("\"", "\"\"") + '"';
    }

    /** The row, with its line end. */
    public String row() {
        return String.join(",", cells) + "\r\n";
    }
}
