package octurn.cli.stepper;

import java.util.List;

/**
 * What a command came to.
 *
 * @param kind which sort of answer
 * @param title of a text; empty for the others
 * @param lines the text: for {@link Kind#TEXT} any number, for the others at most one
 */
public record Answer(Kind kind, String title, List<String> lines) {

    /** The sorts of answer. */
    public enum Kind {
        /** The present cycle is another, or has been looked at anew; a line says why it came to rest there, if it matters. */
        MOVED,
        /** Something was done, said in one line. */
        DONE,
        /** A text to read. */
        TEXT,
        /** Nothing was done, and a line says why. */
        REFUSED,
        /** The user wants to leave. */
        QUIT
    }

    public Answer {
        lines = List.copyOf(lines);
    }

    static Answer moved() {
        return new Answer(Kind.MOVED, "", List.of());
    }

    static Answer moved(String why) {
        return new Answer(Kind.MOVED, "", List.of(why));
    }

    static Answer done(String what) {
        return new Answer(Kind.DONE, "", List.of(what));
    }

    static Answer text(String title, List<String> lines) {
        return new Answer(Kind.TEXT, title, lines);
    }

    static Answer refused(String why) {
        return new Answer(Kind.REFUSED, "", List.of(why));
    }

    static Answer quit() {
        return new Answer(Kind.QUIT, "", List.of());
    }

    /** Its one line, or nothing. */
    public String line() {
        return lines.isEmpty() ? "" : lines.get(0);
    }
}
