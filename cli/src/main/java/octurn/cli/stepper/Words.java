package octurn.cli.stepper;

import java.util.List;
import java.util.Locale;
import octurn.diag.Nearest;

/** The words of a command line, taken one by one; whatever is wrong with them ends as a {@link Mistake}. */
final class Words {

    private final String text;
    private int at;

    Words(String text) {
        this.text = text;
        skipBlanks();
    }

    private void skipBlanks() {
        while (at < text.length() && Character.isWhitespace(text.charAt(at))) {
            at++;
        }
    }

    boolean isEnd() {
        return at >= text.length();
    }

    /** The next word without taking it; empty at the end. */
    String peek() {
        int end = at;
        while (end < text.length() && !Character.isWhitespace(text.charAt(end))) {
            end++;
        }
        return text.substring(at, end);
    }

    /** The next word. */
    String next(String what) {
        if (isEnd()) {
            throw new Mistake(what + " is missing");
        }
        String word = peek();
        at += word.length();
        skipBlanks();
        return word;
    }

    /** Takes the next word if it is this one. */
    boolean take(String word) {
        if (peek().equalsIgnoreCase(word)) {
            next(word);
            return true;
        }
        return false;
    }

    /** One of these words. */
    String oneOf(String what, List<String> known) {
        if (isEnd()) {
            throw new Mistake("%s is missing: %s".formatted(what, String.join(", ", known)));
        }
        String word = next(what).toLowerCase(Locale.ROOT);
        if (known.contains(word)) {
            return word;
        }
        List<String> begin = known.stream().filter(one -> one.startsWith(word)).toList();
        if (begin.size() == 1) {
            return begin.get(0);
        }
        String nearest = Nearest.of(word, known);
        throw new Mistake("%s cannot be \"%s\"%s: %s"
                .formatted(
                        what,
                        word,
                        nearest == null ? "" : "; did you mean %s?".formatted(nearest),
                        String.join(", ", known)));
    }

    /** All that is left, as it is. */
    String rest() {
        String rest = text.substring(at).strip();
        at = text.length();
        return rest;
    }

    /** A whole number from .. to. */
    long number(String what, long from, long to) {
        String word = next(what);
        long number = Numerals.parse(word, what);
        if (number < from || number > to) {
            throw new Mistake("%s: %s is not %d..%d".formatted(what, word, from, to));
        }
        return number;
    }

    /** A whole number from 1 on, or 1 if there is none. */
    long count() {
        return isEnd() ? 1 : number("how many", 1, Numerals.MOST);
    }

    /** Nothing may follow. */
    void end() {
        if (!isEnd()) {
            throw new Mistake("\"%s\" is too much here".formatted(rest()));
        }
    }
}
