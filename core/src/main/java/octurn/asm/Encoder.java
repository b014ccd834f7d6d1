package octurn.asm;

import java.util.List;
import octurn.isa.Form;
import octurn.isa.Instruction;
import octurn.isa.Op;
import org.jspecify.annotations.Nullable;

/** Makes the words of each statement, and tells what does not fit into them. */
final class Encoder {

    private record Range(long least, long most) {
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

    /** Any 32-bit word, signed or not. */
    private static final Range WORD = new Range(Integer.MIN_VALUE, 0xFFFF_FFFFL);

    private static final Range ADDED = Range.signed(17);
    private static final Range ABSOLUTE = Range.unsigned(17);
    private static final Range CROSS = Range.unsigned(25);

    private final Evaluator evaluator;
    private final Problems problems;

    // The statement at hand.
    private Section section = new Section(Block.Kind.CORE, Place.FILE, "");
    private int line;
    private int at;
    /** Whether the words are wanted, or only what is wrong with them. */
    private boolean writing;

    Encoder(Evaluator evaluator, Problems problems) {
        this.evaluator = evaluator;
        this.problems = problems;
    }

    /**
     * Fills the sections.
     *
     * @param words for each statement where in its section it stands
     */
    void run(List<Statement> statements, long[] words) {
        writing = !problems.any();
        for (int i = 0; i < words.length; i++) {
            Statement statement = statements.get(i);
            line = statement.place().line();
            at = (int) words[i];
            if (statement instanceof Statement.Open open) {
                begin(open.section());
            } else if (statement instanceof Statement.Instruct instruct) {
                instruct(instruct);
            } else if (statement instanceof Statement.Words data) {
                data.values().forEach(this::word);
            } else if (statement instanceof Statement.Characters text) {
                for (int codePoint : text.codePoints()) {
                    put(codePoint, false);
                }
            } else if (statement instanceof Statement.Space && writing) {
                long end = i + 1 < words.length && !(statements.get(i + 1) instanceof Statement.Open)
                        ? words[i + 1]
                        : section.size;
                while (at < end) {
                    put(0, false);
                }
            }
        }
    }

    private void begin(Section opened) {
        section = opened;
        if (!writing) {
            return;
        }
        int size = (int) section.size;
        section.words = new int[size];
        section.lines = new int[size];
        section.code = new boolean[size];
        at = 0;
        if (section.kind == Block.Kind.IMAGE) {
            put(size - 1, false);
        }
    }

    private void put(int word, boolean code) {
        if (writing) {
            section.words[at] = word;
            section.lines[at] = line;
            section.code[at] = code;
        }
        at++;
    }

    private void word(Expression expression) {
        Long number = inRange(expression, WORD, "a word", null);
        put(number == null ? 0 : number.intValue(), false);
    }

    // Instructions.

    private void instruct(Statement.Instruct statement) {
        Mnemonic mnemonic = statement.mnemonic();
        if (mnemonic.isPair()) {
            pair(statement.operands());
            return;
        }
        Instruction instruction = single(mnemonic, statement.operands());
        put(instruction == null ? 0 : instruction.encode(), true);
    }

    /** {@code set} with the low 22 bits, {@code upper} with the rest. */
    private void pair(List<Operand> operands) {
        int rd = operands.get(0).number();
        Long number = constant(operands.get(1), WORD, "big", null);
        int word = number == null ? 0 : number.intValue();
        put(new Instruction(Op.SET, rd, 0, true, word << 10 >> 10, 0).encode(), true);
        put(new Instruction(Op.UPPER, rd, 0, true, word >>> 22, 0).encode(), true);
    }

    private @Nullable Instruction single(Mnemonic mnemonic, List<Operand> operands) {
        Op op = mnemonic.op();
        List<String> slots = Mnemonic.operands(op);
        int rd = 0;
        int ra = 0;
        boolean constant = false;
        int offset = 0;
        Long value = 0L;
        for (int i = 0; i < slots.size(); i++) {
            Operand operand = operands.get(i);
            switch (slots.get(i)) {
                case "rd", "rs", "rc", "COND" -> rd = operand.number();
                case "ra" -> ra = operand.number();
                case "rb", "PORT" -> value = (long) operand.number();
                case "[m]" -> {
                    constant = operand.isRegister();
                    ra = constant ? operand.number() : 0;
                    value = address(operand, mnemonic.name());
                }
                case "x" -> {
                    constant = !operand.isRegister();
                    Long target = constant ? target(op, operand) : Long.valueOf(operand.number());
                    if (op.form() == Form.BRANCH) {
                        offset = target == null ? 0 : target.intValue();
                    } else {
                        value = target;
                    }
                }
                default -> {
                    constant = !operand.isRegister();
                    value = constant
                            ? constant(operand, range(op.form()), mnemonic.name(), hint(op.form()))
                            : Long.valueOf(operand.number());
                }
            }
        }
        return value == null ? null : new Instruction(op, rd, ra, constant, value.intValue(), offset);
    }

    private static Range range(Form form) {
        return switch (form) {
            case SET -> Range.signed(22);
            case UPPER -> Range.unsigned(10);
            case BRANCH -> Range.signed(8);
            default -> Range.signed(17);
        };
    }

    private static @Nullable String hint(Form form) {
        return switch (form) {
            case SET -> "big takes any 32-bit constant";
            case UPPER -> "it sets bits 31..22 alone";
            default -> "put it into a register first, with set or big";
        };
    }

    private @Nullable Long constant(Operand operand, Range range, String taker, @Nullable String hint) {
        Expression expression = operand.expression();
        if (expression == null) {
            throw new IllegalStateException("no constant at " + operand.place());
        }
        return inRange(expression, range, taker, hint);
    }

    private @Nullable Long inRange(Expression expression, Range range, String taker, @Nullable String hint) {
        Value value = evaluator.value(expression, section);
        if (value == null) {
            return null;
        }
        if (!range.has(value.number())) {
            problems.error(
                    expression.place(),
                    "constant %d does not fit: %s takes %s".formatted(value.number(), taker, range),
                    hint);
            return null;
        }
        return value.number();
    }

    private @Nullable Long address(Operand operand, String taker) {
        if (operand.expression() == null) {
            return 0L;
        }
        return operand.isRegister()
                ? constant(operand, ADDED, taker + " [ra+c]", "add it to the register first")
                : constant(operand, ABSOLUTE, taker + " [c]", "a word address is not below 0");
    }

    /** The number that the word holds for a target: a distance, or for {@code far} and {@code near} an address. */
    private @Nullable Long target(Op op, Operand operand) {
        Expression expression = operand.expression();
        if (expression == null) {
            throw new IllegalStateException("no target at " + operand.place());
        }
        Value value = evaluator.value(expression, section);
        if (value == null || !checkHome(op, value, operand.place())) {
            return null;
        }
        if (op.form() == Form.CROSS) {
            return inRange(expression, CROSS, op.mnemonic(), null);
        }
        long distance = value.number() - section.labelAddress(at);
        Range range = Range.signed(op.form() == Form.BRANCH ? 9 : op.form() == Form.LOOP ? 22 : 25);
        if (!range.has(distance)) {
            problems.error(
                    operand.place(),
                    "the target is too far: %d words %s, %s reaches %d back and %d ahead"
                            .formatted(
                                    Math.abs(distance),
                                    distance < 0 ? "back" : "ahead",
                                    op == Op.JUMP_IF ? "jump .. if" : op.mnemonic(),
                                    -range.least,
                                    range.most),
                    op == Op.JUMP_IF ? "jump over a plain jump with the opposite condition" : null);
            return null;
        }
        return distance;
    }

    private boolean checkHome(Op op, Value value, Place place) {
        Home home = value.home();
        boolean crossing = op.form() == Form.CROSS;
        Home wanted = op == Op.FAR ? Home.SHARED : section.home;
        if (home == wanted || (crossing && home == Home.NOWHERE)) {
            return true;
        }
        if (home == Home.IMAGE) {
            problems.error(
                    place,
                    "%s cannot go to an image".formatted(op.mnemonic()),
                    "start loads it into a core's private RAM and begins there");
        } else if (home == Home.NOWHERE) {
            problems.error(
                    place,
                    "%d is no label: %s goes to a label of the memory that it stands in"
                            .formatted(value.number(), op.mnemonic()),
                    op.form() == Form.JUMP ? "put an address into a register, and jump to that" : null);
        } else {
            boolean shared = home == Home.SHARED;
            problems.error(
                    place,
                    "%s cannot go to a label of %s"
                            .formatted(
                                    op.mnemonic(),
                                    shared
                                            ? "shared memory"
                                            : section.isPrivate() && !crossing ? "another section" : "private RAM"),
                    shared ? "far goes to shared memory" : "near goes to private RAM");
        }
        return false;
    }
}
