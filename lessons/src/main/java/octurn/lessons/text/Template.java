package octurn.lessons.text;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import octurn.diag.Diagnostic;
import octurn.json.Passage;
import octurn.lessons.value.Expression;
import octurn.lessons.value.Unresolved;
import org.jspecify.annotations.Nullable;

/**
 * Markdown with values in braces, as in {@code It waits {wait} cycles.}; two braces stand for one.
 *
 * <p>The values are put in after the Markdown has been read, so that no value can become markup: until then a character
 * for private use stands for each.
 */
public final class Template {

    /** The most characters that a text may have. */
    public static final int LONGEST = 64 * 1024;

    private static final char FIRST_MARK = '\uE000';
    private static final int MOST_HOLES = 1000;

    private final Passage passage;
    private final String marked;
    private final List<Hole> holes;

    /**
     * A value that is to be put in.
     *
     * @param expression what it is
     * @param format how it is shown
     */
    public record Hole(Expression expression, Format format) {}

    /** Says what to put in. */
    @FunctionalInterface
    public interface Filler {
        /** The value as it is shown. */
        String text(Hole hole) throws Unresolved;
    }

    private Template(Passage passage, String marked, List<Hole> holes) {
        this.passage = passage;
        this.marked = marked;
        this.holes = List.copyOf(holes);
    }

    /**
     * Reads a text.
     *
     * @param problems is told what is wrong with it
     * @return null if anything is wrong with it
     */
    public static @Nullable Template parse(Passage passage, Consumer<Diagnostic> problems) {
        return new Reader(passage, problems).read();
    }

    /** The values that it needs, in order. */
    public List<Hole> holes() {
        return holes;
    }

    /** The passage that it was read from. */
    public Passage passage() {
        return passage;
    }

    /**
     * The text with its values in it.
     *
     * @throws Unresolved if one has none
     */
    public Prose fill(Filler filler) throws Unresolved {
        List<String> values = values(filler);
        return Markdown.read(marked, text -> put(text, values));
    }

    /**
     * The same without reading it as Markdown.
     *
     * @throws Unresolved if a value has none
     */
    public String fillPlain(Filler filler) throws Unresolved {
        return put(marked, values(filler));
    }

    private List<String> values(Filler filler) throws Unresolved {
        List<String> values = new ArrayList<>();
        for (Hole hole : holes) {
            values.add(filler.text(hole));
        }
        return values;
    }

    /** Puts in the values. Markdown can bring in characters by their numbers, so all are looked at again. */
    private static String put(String text, List<String> values) {
        StringBuilder filled = new StringBuilder();
        text.codePoints().forEach(c -> {
            int mark = c - FIRST_MARK;
            filled.append(mark >= 0 && mark < values.size() ? values.get(mark) : Harmless.text(Character.toString(c)));
        });
        return filled.toString();
    }

    /** An error about all of it, which stands at its beginning. */
    public Diagnostic error(String message, @Nullable String hint) {
        return passage.error(0, Math.min(1, passage.text().length()), message, hint);
    }

    /** How many words a reader has to read, the values counted as one each. */
    public int words() {
        return Markdown.read(marked, text -> text).plain().strip().split("\\s+").length;
    }

    /** Where its links lead, as they are written, the forbidden ones included. */
    public List<String> links() {
        return Markdown.targets(marked);
    }

    /** Finds the holes. */
    private static final class Reader {
        private final Passage passage;
        private final String text;
        private final Consumer<Diagnostic> problems;
        private final StringBuilder marked = new StringBuilder();
        private final List<Hole> holes = new ArrayList<>();
        private boolean wrong;

        Reader(Passage passage, Consumer<Diagnostic> problems) {
            this.passage = passage;
            this.text = passage.text();
            this.problems = problems;
        }

        @Nullable
        Template read() {
            if (text.length() > LONGEST) {
                tell(0, 1, "a text of %d characters".formatted(text.length()), "at most " + LONGEST);
                return null;
            }
            int plain = 0;
            int at = text.indexOf('{');
            while (at >= 0) {
                marked.append(Harmless.text(text.substring(plain, at)));
                if (text.startsWith("{{", at)) {
                    marked.append('{');
                    plain = at + 2;
                } else {
                    plain = hole(at);
                }
                at = text.indexOf('{', plain);
            }
            marked.append(Harmless.text(text.substring(plain)));
            return wrong ? null : new Template(passage, marked.toString(), holes);
        }

        /** Reads the hole that opens here, and returns the offset after it. */
        private int hole(int open) {
            int lineEnd = text.indexOf('\n', open);
            int close = text.indexOf('}', open);
            if (close < 0 || (lineEnd >= 0 && close > lineEnd)) {
                tell(open, open + 1, "no } follows on this line", "a brace that is meant as such is written {{");
                return open + 1;
            }
            if (holes.size() == MOST_HOLES) {
                tell(open, close + 1, "more than %d values in one text".formatted(MOST_HOLES), null);
                return text.length();
            }
            int colon = text.lastIndexOf(':', close);
            boolean formatted = colon > open;
            int end = formatted ? colon : close;
            String name = formatted ? text.substring(colon + 1, close) : "";
            Optional<Format> format = Format.of(name);
            if (format.isEmpty()) {
                String known = String.join(", ", Format.names());
                tell(colon + 1, close, "there is no format \"%s\"".formatted(name), "there are " + known);
            }
            Expression expression = Expression.parse(passage, open + 1, end, this::tell);
            if (expression != null && format.isPresent()) {
                marked.append((char) (FIRST_MARK + holes.size()));
                holes.add(new Hole(expression, format.get()));
            }
            return close + 1;
        }

        private void tell(int start, int end, String message, @Nullable String hint) {
            tell(passage.error(start, end, message, hint));
        }

        private void tell(Diagnostic diagnostic) {
            wrong = true;
            problems.accept(diagnostic);
        }
    }
}
