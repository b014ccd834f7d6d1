package octurn.asm;

import java.util.List;
import octurn.isa.Form;
import octurn.isa.Instruction;
import octurn.isa.Op;
import org.jspecify.annotations.Nullable;

/** Makes the words of each statement, and tells what does not fit into them. */
final class Encoder {

    /** Any 32-bit word, signed or not. */
    private static final Range WORD = new Range(Integer.MIN_VALUE, 0xFFFF_FFFFL);

    private static final Range ADDED = Range.signed(17);
    private static final Range ABSOLUTE = Range.unsigned(17);
    private static final Range CROSS = Range.unsigned(25);

    private final Source source;
    private final Evaluator evaluator;
    private final Problems problems;

    // The statement at hand.
    private Section section = new Section(Block.Kind.CORE, Place.FILE, "");
    private int line;
    private long at;
    /** Whether the words are wanted, or only what is wrong with them. */
    private final boolean writing;

    Encoder(Source source, Evaluator evaluator, Problems problems) {
        this.source = source;
        this.evaluator = evaluator;
        this.problems = problems;
        this.writing = !problems.anyErrors();
    }

    /**
     * Fills the sections.
     *
     * @param sizes how many words each statement takes
     */
    void run(List<Statement> statements, long[] sizes) {
        for (int i = 0; i < sizes.length; i++) {
            Statement statement = statements.get(i);
            line = statement.place().line();
            if (statement instanceof Statement.Open open) {
                begin(open.section());
                continue;
            }
            long end = at + sizes[i];
            if (statement instanceof Statement.Instruct instruct) {
                instruct(instruct);
            } else if (statement instanceof Statement.Words data) {
                data.values().forEach(this::word);
            } else if (statement instanceof Statement.Characters text) {
                for (int codePoint : text.codePoints()) {
                    put(codePoint, false);
                }
            } else if (statement instanceof Statement.Space && writing) {
                while (at < end) {
                    put(0, false);
                }
            }
            at = end;
        }
    }

    private void begin(Section opened) {
        section = opened;
        at = 0;
        if (writing) {
            int size = (int) section.size;
            section.words = new int[size];
            section.lines = new int[size];
            section.code = new boolean[size];
        }
        if (section.kind == Block.Kind.IMAGE) {
            put((int) section.size - 1, false);
        }
    }

    private void put(int word, boolean code) {
        if (writing) {
            int index = (int) at;
            section.words[index] = word;
            section.lines[index] = line;
            section.code[index] = code;
        }
        at++;
    }

    private void word(Expression expression) {
        Long number = evaluator.number(expression, section, WORD, "word", null);
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
                            ? constant(operand, range(op.form()), shown(op), hint(op.form()))
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
        return evaluator.number(expression, section, range, taker, hint);
    }

    private @Nullable Long address(Operand operand, String taker) {
        if (operand.expression() == null) {
            return 0L;
        }
        return operand.isRegister()
                ? constant(operand, ADDED, taker + " [ra+c]", "add it to the register first")
                : constant(operand, ABSOLUTE, taker + " [c]", null);
    }

    /** The number that the word holds for a target: a distance, or for {@code far} and {@code near} an address. */
    private @Nullable Long target(Op op, Operand operand) {
        Expression expression = operand.expression();
        if (expression == null) {
            throw new IllegalStateException("no target at " + operand.place());
        }
        Value value = evaluator.value(expression, section);
        if (value == null || !mayGo(op, value, operand.place())) {
            return null;
        }
        if (op.form() == Form.CROSS) {
            return constant(operand, CROSS, op.mnemonic(), null);
        }
        long distance = value.number() - section.labelAddress(at);
        Range range = Range.signed(op.form() == Form.BRANCH ? 9 : op.form() == Form.LOOP ? 22 : 25);
        if (!range.has(distance)) {
            boolean back = distance < 0;
            problems.error(
                    operand.place(),
                    "%s is too far: %d words %s, %s reaches %d"
                            .formatted(
                                    shown(operand.place()),
                                    Math.abs(distance),
                                    back ? "back" : "ahead",
                                    shown(op),
                                    back ? -range.least() : range.most()),
                    op == Op.JUMP_IF ? "jump over a plain jump, with the opposite condition" : null);
            return null;
        }
        return distance;
    }

    /** Whether this instruction may go to such an address; tells why if not. */
    private boolean mayGo(Op op, Value value, Place place) {
        Home home = value.home();
        boolean crossing = op.form() == Form.CROSS;
        if (home == (op == Op.FAR ? Home.SHARED : section.home)) {
            if (op == Op.NEAR && home == Home.SHARED) {
                problems.warning(
                        place,
                        "near goes to private word %d, %s is a label of shared memory"
                                .formatted(value.number(), shown(place)),
                        "jump stays in shared memory");
            }
            return true;
        }
        if (crossing && value.isPlain()) {
            return true;
        }
        String going = "%s cannot go to %s".formatted(op.mnemonic(), shown(place));
        if (value.isPlain()) {
            boolean register = op.form() == Form.JUMP;
            problems.error(
                    place,
                    going + ": it is a number, not a label",
                    register
                            ? "put an address into a register, and jump to that"
                            : "a label of the same memory is wanted");
        } else if (home == Home.IMAGE) {
            problems.error(place, going + ": it is an image", "start loads an image into a core and begins there");
        } else if (home == Home.SHARED) {
            problems.error(place, going + ": it lies in shared memory", "far goes to shared memory");
        } else if (op == Op.FAR && home == section.home) {
            problems.error(place, going + ": it lies in private RAM", "near goes to private RAM");
        } else {
            problems.error(place, going + ": it is a label of another section's private RAM", (String) null);
        }
        return false;
    }

    private static String shown(Op op) {
        return op == Op.JUMP_IF ? "jump .. if" : op.mnemonic();
    }

    private String shown(Place place) {
        return Text.quoted(source.text(place));
    }
}
