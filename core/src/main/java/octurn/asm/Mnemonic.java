package octurn.asm;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.regex.Pattern;
import octurn.isa.Op;
import org.jspecify.annotations.Nullable;

/**
 * A word that begins an instruction: one of the table, or a short form of one.
 *
 * @param name as listed, in lower case
 * @param op the instruction that it makes; of {@code big} the first of two
 * @param syntax its operands as written
 * @param slots the syntax in pieces: operands, commas and the word {@code if}
 * @param fixed the operands that the short form leaves out, at the end of the instruction's own
 */
record Mnemonic(String name, Op op, String syntax, List<String> slots, List<Operand> fixed) {

    private static final Place NOWHERE = Place.FILE;

    private static final Map<String, Mnemonic> ALL = new LinkedHashMap<>();

    /** The operands of each operation, without commas, in the order in which they are written. */
    private static final Map<Op, List<String>> OPERANDS = new HashMap<>();

    private static final Pattern PIECE = Pattern.compile("\\[m]|\\w+|,");

    /** {@code jump} with a condition, which begins as the plain one does. */
    static final Mnemonic JUMP_IF = of("jump", Op.JUMP_IF, Op.JUMP_IF.form().operands());

    static {
        for (Op op : Op.values()) {
            if (op != Op.JUMP_IF) {
                add(of(op.mnemonic(), op, op.form().operands()));
            }
            OPERANDS.put(
                    op,
                    pieces(op.form().operands()).stream()
                            .filter(slot -> !slot.equals(",") && !slot.equals("if"))
                            .toList());
        }
        add(of("big", Op.SET, "rd, c"));
        add(of("copy", Op.ADD, "rd, ra", constant(0)));
        add(of("not", Op.XOR, "rd, ra", constant(-1)));
        add(of("nop", Op.ADD, "", register(0), register(0), constant(0)));
        add(of("ret", Op.JUMP, "", register(15)));
    }

    /** The one with this name, in any case, or null. */
    static @Nullable Mnemonic find(String word) {
        return ALL.get(word.toLowerCase(Locale.ROOT));
    }

    /** All names, in the order of the table. */
    static Iterable<String> names() {
        return ALL.keySet();
    }

    static List<String> operands(Op op) {
        return OPERANDS.getOrDefault(op, List.of());
    }

    /** Whether it is the pair of {@code set} and {@code upper}. */
    boolean isPair() {
        return words() == 2;
    }

    int words() {
        return name.equals("big") ? 2 : 1;
    }

    /** How it is written. */
    String usage() {
        return syntax.isEmpty() ? name : name + " " + syntax;
    }

    private static void add(Mnemonic mnemonic) {
        ALL.put(mnemonic.name, mnemonic);
    }

    private static Mnemonic of(String name, Op op, String syntax, Operand... fixed) {
        return new Mnemonic(name, op, syntax, pieces(syntax), List.of(fixed));
    }

    private static List<String> pieces(String syntax) {
        List<String> pieces = new ArrayList<>();
        PIECE.matcher(syntax).results().forEach(piece -> pieces.add(piece.group()));
        return pieces;
    }

    private static Operand register(int number) {
        return Operand.number(number, NOWHERE);
    }

    private static Operand constant(int number) {
        return Operand.of(new Expression.Literal(number, NOWHERE));
    }
}
