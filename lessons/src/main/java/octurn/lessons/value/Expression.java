package octurn.lessons.value;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import java.util.stream.Stream;
import octurn.diag.Diagnostic;
import octurn.json.Passage;
import org.jspecify.annotations.Nullable;

/**
 * A number that a lesson has computed: arithmetic over numbers, names, and measures of runs, as in
 * {@code first.core(3).waits.max + 1}.
 *
 * <p>Numbers are {@code double}s, so whole numbers are exact up to 2^53. Division is that of fractions; {@code %} has
 * the sign of its left side; {@code round} takes halves away from 0.
 */
public final class Expression {

    /** The most characters that an expression may have. */
    public static final int LONGEST = 500;

    /** The run that a check is about. */
    public static final String THE_RUN = "run";

    /** Names that have a meaning of their own, so that no lesson can define them. */
    public static final List<String> RESERVED =
            Stream.concat(Stream.of(THE_RUN), Function.names().stream()).toList();

    private final Passage passage;
    private final Node root;

    Expression(Passage passage, Node root) {
        this.passage = passage;
        this.root = root;
    }

    /**
     * A name that an expression needs a value for.
     *
     * @param name which
     * @param isRun whether it is the name of a run
     * @param mayBeLabel whether it may as well be a label of a program
     * @param start its offset in the passage
     * @param end the offset after it
     */
    public record Use(String name, boolean isRun, boolean mayBeLabel, int start, int end) {}

    /**
     * Reads an expression that is part of a passage.
     *
     * @param from the offset of its first character in the passage
     * @param to the offset after its last one
     * @param problems is told what is wrong with it
     * @return null if anything is wrong with it
     */
    public static @Nullable Expression parse(Passage passage, int from, int to, Consumer<Diagnostic> problems) {
        return new ExpressionParser(passage, from, to).parse(problems);
    }

    /** Reads an expression that is all of a passage. */
    public static @Nullable Expression parse(Passage passage, Consumer<Diagnostic> problems) {
        return parse(passage, 0, passage.text().length(), problems);
    }

    /** As it is written. */
    public String text() {
        return passage.text().substring(root.start(), root.end());
    }

    /** An error about this expression as a whole. */
    public Diagnostic error(String message, @Nullable String hint) {
        return passage.error(root.start(), root.end(), message, hint);
    }

    /** An error about a name in it. */
    public Diagnostic error(Use use, String message, @Nullable String hint) {
        return passage.error(use.start(), use.end(), message, hint);
    }

    /** The names that it needs values for, as often as they stand in it. */
    public List<Use> uses() {
        List<Use> uses = new ArrayList<>();
        collect(root, uses);
        return uses;
    }

    /** The same where it stands for a place in a program: the name that it begins with may be a label. */
    public List<Use> usesAsPlace() {
        List<Use> uses = new ArrayList<>();
        collectLabel(root, uses);
        return uses;
    }

    private static void collect(Node node, List<Use> uses) {
        if (node instanceof Node.Name name) {
            uses.add(new Use(name.name(), false, false, name.start(), name.end()));
        } else if (node instanceof Node.Negative negative) {
            collect(negative.operand(), uses);
        } else if (node instanceof Node.Binary binary) {
            collect(binary.left(), uses);
            collect(binary.right(), uses);
        } else if (node instanceof Node.Call call) {
            call.arguments().forEach(argument -> collect(argument, uses));
        } else if (node instanceof Node.Path path) {
            uses.add(new Use(
                    path.run(),
                    true,
                    false,
                    path.start(),
                    path.start() + path.run().length()));
            for (Measures.Step step : Measures.steps(path)) {
                for (int i = 0; i < step.part().arguments().size(); i++) {
                    collect(
                            step.part().arguments().get(i),
                            step.member().arguments().get(i),
                            uses);
                }
            }
        }
    }

    private static void collect(Node argument, Measures.Argument kind, List<Use> uses) {
        switch (kind) {
            case NUMBER -> collect(argument, uses);
            case LABEL -> collectLabel(argument, uses);
            case WORD, REGISTER -> {
                if (!(argument instanceof Node.Name)) {
                    collect(argument, uses);
                }
            }
        }
    }

    /** Of a label plus and minus numbers, the label itself is left out. */
    private static void collectLabel(Node node, List<Use> uses) {
        if (node instanceof Node.Name name) {
            uses.add(new Use(name.name(), false, true, name.start(), name.end()));
        } else if (node instanceof Node.Binary binary && LabelPlus.isSum(binary)) {
            collectLabel(binary.left(), uses);
            collect(binary.right(), uses);
        } else {
            collect(node, uses);
        }
    }

    /**
     * What it comes to.
     *
     * @throws Unresolved if it comes to nothing: a division by 0, a label that is not there
     */
    public double value(Names names) throws Unresolved {
        return new Evaluation(passage, names).value(root);
    }

    /**
     * What it comes to, which must be a whole number of this range.
     *
     * @throws Unresolved if it is not
     */
    public long whole(Names names, long least, long most) throws Unresolved {
        return new Evaluation(passage, names).whole(root, least, most);
    }

    /**
     * What it comes to as a place in this program's shared memory, or with a core in that core's private RAM: a label, a
     * label plus or minus a number, or an address.
     *
     * @param core whose private RAM; -1 for shared memory
     * @throws Unresolved if there is no such label or word
     */
    public int address(Names names, Measured run, int core) throws Unresolved {
        return new Evaluation(passage, names).address(root, run, core);
    }

    /**
     * The lines of the program that this label stands for, in a core's own section or (-1) in every section; or the one
     * line of this number.
     *
     * @throws Unresolved if there is no such label or line
     */
    public List<Integer> lines(Names names, Measured run, int core) throws Unresolved {
        return new Evaluation(passage, names).lines(root, run, core);
    }

    @Override
    public String toString() {
        return text();
    }
}
