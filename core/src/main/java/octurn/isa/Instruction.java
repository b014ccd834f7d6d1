package octurn.isa;

import org.jspecify.annotations.Nullable;

/**
 * One instruction with its fields apart: what the assembler makes a word from, and what a word is read as. Fields that
 * the form does not have are 0.
 *
 * @param op what it is
 * @param rd bits 25..22 as a number: the destination or source register, or the condition's code of {@code jump .. if}
 * @param ra bits 21..18: a register
 * @param constant whether {@code value} is a constant or address, rather than a register's number
 * @param value b, c, m, x, rb or the port's number, as the form has it; see {@link Form}
 * @param offset for {@code jump .. if} alone: the signed distance to the target
 */
public record Instruction(Op op, int rd, int ra, boolean constant, int value, int offset) {

    /**
     * Makes an instruction and checks that its word can hold it.
     *
     * @throws IllegalArgumentException if a field is out of the range that its form gives it
     */
    public Instruction {
        int word = pack(op, rd, ra, constant, value, offset);
        if (!Word.isInstruction(word) || !unpack(op, word, rd, ra, constant, value, offset)) {
            throw new IllegalArgumentException("no such instruction: %s rd=%d ra=%d constant=%b value=%d offset=%d"
                    .formatted(op, rd, ra, constant, value, offset));
        }
    }

    /** An instruction of no operands or of registers alone. */
    public static Instruction of(Op op, int rd, int ra, int rb) {
        return new Instruction(op, rd, ra, false, rb, 0);
    }

    /** The word, or null if it is no instruction. */
    public static @Nullable Instruction decode(int word) {
        if (!Word.isInstruction(word)) {
            return null;
        }
        Op op = Op.of(Word.op(word));
        if (op == null) {
            return null;
        }
        int rd = Word.rd(word);
        int ra = Word.ra(word);
        boolean constant = Word.hasConstant(word);
        int b = constant ? Word.constant(word) : Word.low(word);
        return switch (op.form()) {
            case SET -> new Instruction(op, rd, 0, true, Word.wide(word), 0);
            case UPPER -> new Instruction(op, rd, 0, true, Word.upper(word), 0);
            case THREE, AWAIT -> new Instruction(op, rd, ra, constant, b, 0);
            case HOLD -> new Instruction(op, 0, 0, constant, b, 0);
            case MEMORY -> new Instruction(op, rd, ra, constant, constant ? b : Word.absolute(word), 0);
            case BRANCH ->
                new Instruction(
                        op,
                        rd,
                        ra,
                        constant,
                        constant ? Word.branchConstant(word) : Word.branchRegister(word),
                        Word.branchOffset(word));
            case JUMP ->
                Word.jumpHasTarget(word)
                        ? new Instruction(op, 0, 0, true, Word.distance(word), 0)
                        : new Instruction(op, 0, 0, false, Word.low(word), 0);
            case CROSS ->
                Word.jumpHasTarget(word)
                        ? new Instruction(op, 0, 0, true, Word.crossAddress(word), 0)
                        : new Instruction(op, 0, 0, false, Word.low(word), 0);
            case LOOP -> new Instruction(op, rd, 0, true, Word.wide(word), 0);
            case READ, WRITE -> new Instruction(op, rd, 0, false, Word.low(word), 0);
            case START -> new Instruction(op, rd, ra, false, Word.low(word), 0);
            case STOP -> new Instruction(op, rd, 0, false, 0, 0);
            case BARE -> new Instruction(op, 0, 0, false, 0, 0);
        };
    }

    /** The instruction's word: exactly one for each instruction. */
    public int encode() {
        return pack(op, rd, ra, constant, value, offset);
    }

    private static int pack(Op op, int rd, int ra, boolean constant, int value, int offset) {
        int head = op.code() << 26;
        int i = constant ? 1 << 17 : 0;
        return switch (op.form()) {
            case SET, LOOP -> head | rd << 22 | (value & 0x3FFFFF);
            case UPPER -> head | rd << 22 | (value & 0x3FF);
            case THREE, MEMORY, AWAIT, HOLD -> head | rd << 22 | ra << 18 | i | (value & 0x1FFFF);
            case BRANCH -> head | rd << 22 | ra << 18 | i | (value & 0xFF) << 9 | (offset & 0x1FF);
            case JUMP, CROSS -> head | (constant ? 1 << 25 : 0) | (value & 0x1FFFFFF);
            case READ, WRITE, START -> head | rd << 22 | ra << 18 | (value & 15);
            case STOP -> head | rd << 22;
            case BARE -> head;
        };
    }

    /** Whether reading the word back gives the same fields: no field was cut off. */
    private static boolean unpack(Op op, int word, int rd, int ra, boolean constant, int value, int offset) {
        boolean c = Word.hasConstant(word);
        boolean fieldsKept = switch (op.form()) {
            case SET, LOOP -> constant && rd == Word.rd(word) && ra == 0 && value == Word.wide(word);
            case UPPER -> constant && rd == Word.rd(word) && ra == 0 && value == Word.upper(word);
            case THREE, AWAIT, HOLD ->
                c == constant
                        && rd == Word.rd(word)
                        && ra == Word.ra(word)
                        && value == (c ? Word.constant(word) : Word.low(word));
            case MEMORY ->
                c == constant
                        && rd == Word.rd(word)
                        && ra == Word.ra(word)
                        && value == (c ? Word.constant(word) : Word.absolute(word));
            case BRANCH ->
                c == constant
                        && rd == Word.rd(word)
                        && ra == Word.ra(word)
                        && value == (c ? Word.branchConstant(word) : Word.branchRegister(word))
                        && offset == Word.branchOffset(word);
            case JUMP ->
                rd == 0
                        && ra == 0
                        && constant == Word.jumpHasTarget(word)
                        && value == (constant ? Word.distance(word) : Word.low(word));
            case CROSS ->
                rd == 0
                        && ra == 0
                        && constant == Word.jumpHasTarget(word)
                        && value == (constant ? Word.crossAddress(word) : Word.low(word));
            case READ, WRITE -> !constant && rd == Word.rd(word) && ra == 0 && value == Word.low(word);
            case START -> !constant && rd == Word.rd(word) && ra == Word.ra(word) && value == Word.low(word);
            case STOP -> !constant && rd == Word.rd(word) && ra == 0 && value == 0;
            case BARE -> !constant && rd == 0 && ra == 0 && value == 0;
        };
        return fieldsKept && (op.form() == Form.BRANCH || offset == 0);
    }
}
