package octurn.lessons.value;

import java.util.List;
import octurn.json.Passage;
import org.jspecify.annotations.Nullable;

/** What the parts of one expression come to. */
final class Evaluation {

    private static final double EXACT = 1L << 53;

    private final Passage passage;
    private final Names names;

    Evaluation(Passage passage, Names names) {
        this.passage = passage;
        this.names = names;
    }

    double value(Node node) throws Unresolved {
        double value = compute(node);
        if (Double.isNaN(value) || Double.isInfinite(value)) {
            throw wrong(node, "the result is too large to be a number", null);
        }
        return value;
    }

    private double compute(Node node) throws Unresolved {
        if (node instanceof Node.Literal literal) {
            return literal.number();
        } else if (node instanceof Node.Name name) {
            Double number = names.number(name.name());
            if (number == null) {
                throw wrong(name, "there is no value %s".formatted(name.name()), null);
            }
            return number;
        } else if (node instanceof Node.Negative negative) {
            // Not the negative sign of 0, which would be seen.
            return 0 - value(negative.operand());
        } else if (node instanceof Node.Binary binary) {
            return compute(binary);
        } else if (node instanceof Node.Call call) {
            double[] numbers = new double[call.arguments().size()];
            for (int i = 0; i < numbers.length; i++) {
                numbers[i] = value(call.arguments().get(i));
            }
            return call.function().of(numbers);
        } else {
            return measure((Node.Path) node);
        }
    }

    private double compute(Node.Binary binary) throws Unresolved {
        double left = value(binary.left());
        double right = value(binary.right());
        if (right == 0 && (binary.sign() == '/' || binary.sign() == '%')) {
            throw wrong(binary.right(), "a division by 0", null);
        }
        return switch (binary.sign()) {
            case '+' -> left + right;
            case '-' -> left - right;
            case '*' -> left * right;
            case '/' -> left / right;
            default -> left % right;
        };
    }

    private double measure(Node.Path path) throws Unresolved {
        Measured run = names.run(path.run());
        if (run == null) {
            int end = path.start() + path.run().length();
            throw new Unresolved(passage.error(path.start(), end, "there is no run %s".formatted(path.run()), null));
        }
        Object subject = run;
        for (Measures.Step step : Measures.steps(path)) {
            subject = step.member().getter().get(subject, new Given(run, step.part()));
        }
        return subject instanceof octurn.measure.Spread spread ? spread.total() : (Double) subject;
    }

    long whole(Node node, long least, long most) throws Unresolved {
        double value = value(node);
        if (value != Math.rint(value) || Math.abs(value) > EXACT) {
            throw wrong(node, "%s is no whole number".formatted(shown(value)), null);
        }
        if (value < least || value > most) {
            throw wrong(node, "%s is not in %d..%d".formatted(shown(value), least, most), null);
        }
        return (long) value;
    }

    int address(Node node, Measured run, int core) throws Unresolved {
        int words = core < 0 ? run.design().sharedWords() : run.design().privateWords();
        LabelPlus place = LabelPlus.of(node);
        Node.Name label = place.label();
        Integer base = label == null ? null : run.address(label.name(), core);
        if (label == null || (base == null && names.number(label.name()) != null)) {
            return (int) whole(node, 0, words - 1L);
        }
        if (base == null) {
            String memory = core < 0 ? "the shared memory" : "core %d's section".formatted(core);
            List<String> known = List.copyOf(
                    (core < 0 ? run.places().sharedAddresses() : run.places().privateAddresses(core)).keySet());
            String hint = known.isEmpty() ? "there are no labels there" : ExpressionParser.hint(label.name(), known);
            throw wrong(
                    label,
                    "there is no label %s in %s of %s"
                            .formatted(label.name(), memory, run.program().name()),
                    hint);
        }
        long address = base + whole(place.offset(), -words, words);
        if (address < 0 || address >= words) {
            throw wrong(node, "that is address %d, not in 0..%d".formatted(address, words - 1), null);
        }
        return (int) address;
    }

    List<Integer> lines(Node node, Measured run, int core) throws Unresolved {
        LabelPlus place = LabelPlus.of(node);
        Node.Name label = place.label();
        boolean isLabel = label != null && run.hasLabel(label.name());
        if (label == null || (!isLabel && names.number(label.name()) != null)) {
            return List.of((int) whole(node, 1, run.program().source().size()));
        }
        List<Integer> lines = isLabel ? run.lines(label.name(), whole(place.offset(), -65536, 65536), core) : List.of();
        if (lines.isEmpty()) {
            String message = isLabel
                    ? "no line of %s is so far from the label %s"
                            .formatted(run.program().name(), label.name())
                    : "there is no label %s in %s"
                            .formatted(label.name(), run.program().name());
            throw wrong(node, message, null);
        }
        return lines;
    }

    private static String shown(double value) {
        return Numbers.plain(value);
    }

    private Unresolved wrong(Node node, String message, @Nullable String hint) {
        return new Unresolved(passage.error(node.start(), node.end(), message, hint));
    }

    /** The arguments of one part of a path. */
    private final class Given implements Measures.Arguments {
        private final Measured run;
        private final Node.Part part;

        Given(Measured run, Node.Part part) {
            this.run = run;
            this.part = part;
        }

        @Override
        public Measured run() {
            return run;
        }

        private Node node(int i) {
            return part.arguments().get(i);
        }

        @Override
        public long whole(int i, long least, long most) throws Unresolved {
            return Evaluation.this.whole(node(i), least, most);
        }

        @Override
        public String word(int i, List<String> words) throws Unresolved {
            if (node(i) instanceof Node.Name name && words.contains(name.name())) {
                return name.name();
            }
            throw wrong("one of these must stand here: " + String.join(", ", words));
        }

        @Override
        public int register(int i) throws Unresolved {
            if (node(i) instanceof Node.Name name && name.name().matches("r(\\d|1[0-5])")) {
                return Integer.parseInt(name.name().substring(1));
            }
            return (int) whole(i, 0, 15);
        }

        @Override
        public int address(int i, int core) throws Unresolved {
            return Evaluation.this.address(node(i), run, core);
        }

        @Override
        public List<Integer> lines(int i, int core) throws Unresolved {
            return Evaluation.this.lines(node(i), run, core);
        }

        @Override
        public double constant(int i) throws Unresolved {
            Long value = node(i) instanceof Node.Name name
                    ? run.program().constants().get(name.name())
                    : null;
            if (value == null) {
                throw Evaluation.this.wrong(
                        node(i),
                        "%s has no such constant".formatted(run.program().name()),
                        null);
            }
            return value;
        }

        @Override
        public Unresolved wrong(String message) {
            return new Unresolved(passage.error(part.start(), part.end(), message, null));
        }
    }
}
