package octurn.isa;

import java.util.function.IntFunction;
import org.jspecify.annotations.Nullable;

/** Words back to text. */
public final class Disassembler {

    private Disassembler() {}

    /**
     * The instruction in this word as the assembler would take it, but for targets, which are plain addresses; or
     * {@code word 0x..} where it is no instruction.
     *
     * @param address where the word lies: relative targets are counted from it
     */
    public static String text(int word, int address) {
        return text(word, address, target -> null);
    }

    /**
     * The same, with names for the targets of {@code jump}, {@code call} and {@code again}.
     *
     * @param labels the name of an address, or null where it has none
     */
    public static String text(int word, int address, IntFunction<@Nullable String> labels) {
        Instruction instruction = Instruction.decode(word);
        if (instruction == null) {
            return "word 0x%08X".formatted(word);
        }
        Op op = instruction.op();
        String rd = "r" + instruction.rd();
        String ra = "r" + instruction.ra();
        String b = instruction.constant() ? Integer.toString(instruction.value()) : "r" + instruction.value();
        String operands = switch (op.form()) {
            case SET, UPPER -> rd + ", " + b;
            case THREE -> rd + ", " + ra + ", " + b;
            case MEMORY -> rd + ", " + memory(instruction);
            case BRANCH ->
                "%s if %s %s %s"
                        .formatted(
                                target(address + instruction.offset(), labels),
                                ra,
                                Condition.values()[instruction.rd()].text(),
                                b);
            case JUMP -> instruction.constant() ? target(address + instruction.value(), labels) : b;
            case CROSS -> b;
            case LOOP -> rd + ", " + target(address + instruction.value(), labels);
            case READ -> rd + ", " + portName(instruction.value());
            case WRITE -> portName(instruction.value()) + ", " + rd;
            case HOLD -> b;
            case AWAIT -> ra + ", " + b;
            case START -> rd + ", " + ra + ", r" + instruction.value();
            case STOP -> rd;
            case BARE -> "";
        };
        return operands.isEmpty() ? op.mnemonic() : op.mnemonic() + " " + operands;
    }

    private static String memory(Instruction instruction) {
        int x = instruction.value();
        if (!instruction.constant()) {
            return "[" + x + "]";
        }
        String ra = "r" + instruction.ra();
        return x == 0 ? "[" + ra + "]" : "[%s%+d]".formatted(ra, x);
    }

    private static String target(int address, IntFunction<@Nullable String> labels) {
        String label = labels.apply(address);
        return label != null ? label : Integer.toUnsignedString(address);
    }

    private static String portName(int code) {
        Port port = Port.of(code);
        return port == null ? Integer.toString(code) : port.text();
    }
}
