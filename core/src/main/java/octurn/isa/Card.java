package octurn.isa;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.function.ToIntFunction;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;

/**
 * The instruction card: the whole instruction set on one page of Markdown, made from the tables that the assembler and
 * the decoder use. Where a field lies in the word is found by encoding: it is the bits that change with the field.
 */
public final class Card {

    /** A heading of the card and the operations below it. */
    private record Group(String title, Set<Op> ops) {}

    /** A field of a word: what it is called on the card, and the bits that it takes. */
    private record Field(String name, int mask) {

        /** As in "rd 25..22", or "16" for a single bit. */
        String text() {
            int low = Integer.numberOfTrailingZeros(mask);
            int high = 31 - Integer.numberOfLeadingZeros(mask);
            return low == high ? "%s %d".formatted(name, low) : "%s %d..%d".formatted(name, high, low);
        }
    }

    private static final List<Group> GROUPS = List.of(
            new Group("Constants", EnumSet.range(Op.SET, Op.UPPER)),
            new Group("Arithmetic and bits", EnumSet.range(Op.ADD, Op.ROL)),
            new Group("Memory", EnumSet.range(Op.LOAD, Op.BUMP)),
            new Group("Jumps", EnumSet.range(Op.JUMP_IF, Op.NEAR)),
            new Group("Ports and waiting", EnumSet.range(Op.READ, Op.AWAIT)),
            new Group("Cores", EnumSet.range(Op.START, Op.HALT)));

    private static final List<Timing> COSTS =
            List.of(Timing.PLAIN, Timing.PRIVATE, Timing.TAKEN, Timing.MULTIPLY, Timing.DIVIDE);

    /** What a field is tried with: every small number, and the powers of two on both sides. */
    private static final List<Integer> TRIED = IntStream.concat(
                    IntStream.range(0, 16), IntStream.range(4, 31).flatMap(bit -> IntStream.of(1 << bit, -(1 << bit))))
            .boxed()
            .toList();

    private Card() {}

    /**
     * The card.
     *
     * @param cycles what {@link Timing#PLAIN}, {@link Timing#PRIVATE}, {@link Timing#TAKEN}, {@link Timing#MULTIPLY}
     *     and {@link Timing#DIVIDE} cost on the chip that the card is for
     * @return Markdown; each line ends with a line feed
     */
    public static String markdown(ToIntFunction<Timing> cycles) {
        List<String> lines = new ArrayList<>();
        lines.add("# The instruction card");
        lines.add("");
        lines.add("Registers `r0` .. `r15`, of 32 bits; `call` keeps the way back in `r15`. `rd`, `ra`, `rb`, `rc`: a"
                + " register. `b`: a register or a constant. `c`: a constant. `x`: a label; in `jump`, `call`, `far` and"
                + " `near` also a register. `[m]`: `[ra]`, `[ra+c]`, `[ra-c]` or `[c]`.");
        lines.add("");
        lines.add(COSTS.stream()
                .map(timing -> "%s %d".formatted(timing.text(), cycles.applyAsInt(timing)))
                .collect(Collectors.joining(", ", "Cycles on the standard chip: ", ".")));
        lines.add("");
        addInstructions(lines);
        addShortForms(lines);
        addConditions(lines);
        addPorts(lines);
        addLayouts(lines);
        return String.join("\n", lines) + "\n";
    }

    private static void addInstructions(List<String> lines) {
        lines.add("| code | form | instruction | does | time |");
        lines.add("|---|---|---|---|---|");
        for (Group group : GROUPS) {
            lines.add("| | | **%s** | | |".formatted(group.title()));
            for (Op op : group.ops()) {
                lines.add("| %02X | %c | %s | %s | %s |"
                        .formatted(
                                op.code(),
                                op.form().letter(),
                                code((op.mnemonic() + " " + op.form().operands()).strip()),
                                op.does(),
                                op.timing().text()));
            }
        }
        lines.add("");
    }

    private static void addShortForms(List<String> lines) {
        lines.add(
                "Short forms: `big rd, c`, any c, is `set` and `upper`; `copy rd, ra` is `add rd, ra, 0`; `not rd, ra`"
                        + " is `xor rd, ra, -1`; `nop` is `add r0, r0, 0`; `ret` is `jump r15`.");
        lines.add("");
    }

    private static void addConditions(List<String> lines) {
        List<Condition> all = Arrays.asList(Condition.values());
        lines.add("## Conditions");
        lines.add("");
        lines.add(row("code", all.stream().map(c -> Integer.toString(c.code())).toList()));
        lines.add("|---".repeat(all.size() + 1) + "|");
        lines.add(row("COND", all.stream().map(c -> code(c.text())).toList()));
        lines.add("");
    }

    private static void addPorts(List<String> lines) {
        lines.add("## Ports");
        lines.add("");
        lines.add("| code | port | what it is |");
        lines.add("|---|---|---|");
        for (Port port : Port.values()) {
            String meaning = port.writable() ? port.meaning() : port.meaning() + "; read only";
            lines.add("| %d | %s | %s |".formatted(port.code(), code(port.text()), meaning));
        }
        lines.add("");
    }

    private static void addLayouts(List<String> lines) {
        lines.add("## In the word");
        lines.add("");
        lines.add(
                "The code is bits 31..26. Bits that the form does not name are 0. Constants and distances are signed, the"
                        + " latter from the word's own address; addresses, the x of `far` and `near` and the c of `upper` are"
                        + " not.");
        lines.add("");
        lines.add("| form | instructions | bits |");
        lines.add("|---|---|---|");
        for (Form form : Form.values()) {
            List<Op> ops =
                    Arrays.stream(Op.values()).filter(op -> op.form() == form).toList();
            String names = ops.stream()
                    .map(op -> code(op == Op.JUMP_IF ? "jump .. if" : op.mnemonic()))
                    .collect(Collectors.joining(" "));
            lines.add("| %c | %s | %s |".formatted(form.letter(), names, layout(ops.get(0))));
        }
    }

    /** The fields of an operation's word; where a constant and a register are told apart by a bit, both ways. */
    private static String layout(Op op) {
        List<Field> withConstant = fields(op, true);
        List<Field> withRegister = fields(op, false);
        Integer zeroWithConstant = encode(op, 0, 0, true, 0, 0);
        Integer zeroWithRegister = encode(op, 0, 0, false, 0, 0);
        if (zeroWithConstant == null || zeroWithRegister == null) {
            List<Field> fields = withConstant.isEmpty() ? withRegister : withConstant;
            return fields.isEmpty() ? "none besides" : text(fields);
        }
        int bit = Integer.numberOfTrailingZeros(zeroWithConstant ^ zeroWithRegister);
        return "%d = 1: %s<br>%d = 0: %s".formatted(bit, text(withConstant), bit, text(withRegister));
    }

    private static String text(List<Field> fields) {
        return fields.stream().map(Field::text).collect(Collectors.joining(", "));
    }

    private static List<Field> fields(Op op, boolean constant) {
        int rd = 0;
        int ra = 0;
        int value = 0;
        int offset = 0;
        // A port that exists and can be written, where the form has one; any other field can be 0.
        int legal = op.form() == Form.WRITE ? Port.OUT.code() : 0;
        for (int tried : TRIED) {
            rd |= changed(op, constant, legal, encode(op, tried, 0, constant, legal, 0));
            ra |= changed(op, constant, legal, encode(op, 0, tried, constant, legal, 0));
            value |= changed(op, constant, legal, encode(op, 0, 0, constant, tried, 0));
            offset |= changed(op, constant, legal, encode(op, 0, 0, constant, legal, tried));
        }
        List<Field> fields = new ArrayList<>();
        fields.add(new Field(rdName(op.form()), rd));
        fields.add(new Field("ra", ra));
        fields.add(new Field(valueName(op.form(), constant), value));
        fields.add(new Field("distance to x", offset));
        fields.removeIf(field -> field.mask() == 0);
        return fields;
    }

    private static int changed(Op op, boolean constant, int legal, @Nullable Integer word) {
        Integer base = encode(op, 0, 0, constant, legal, 0);
        return word == null || base == null ? 0 : word ^ base;
    }

    /** The word of an instruction, or null if there is no such instruction. */
    private static @Nullable Integer encode(Op op, int rd, int ra, boolean constant, int value, int offset) {
        try {
            return new Instruction(op, rd, ra, constant, value, offset).encode();
        } catch (IllegalArgumentException e) {
            return null;
        }
    }

    private static String rdName(Form form) {
        return switch (form) {
            case BRANCH -> "COND";
            case WRITE -> "rs";
            case STOP -> "rc";
            default -> "rd";
        };
    }

    private static String valueName(Form form, boolean constant) {
        return switch (form) {
            case SET, UPPER -> "c";
            case MEMORY -> constant ? "c" : "address";
            case JUMP, CROSS -> !constant ? "register" : form == Form.JUMP ? "distance to x" : "x";
            case LOOP -> "distance to x";
            case READ, WRITE -> "PORT";
            case START -> "rb";
            case THREE, BRANCH, HOLD, AWAIT, STOP, BARE -> constant ? "constant b" : "register b";
        };
    }

    private static String row(String head, List<String> cells) {
        return "| " + head + " | " + String.join(" | ", cells) + " |";
    }

    private static String code(String text) {
        return "`" + text + "`";
    }
}
