package octurn.isa;

/**
 * The fields of an instruction word, as plain numbers for the engine's loop. The layouts are drawn at {@link Form};
 * {@link Instruction} is the same for people.
 */
public final class Word {

    private Word() {}

    /** Bits 31..26. */
    public static int op(int word) {
        return word >>> 26;
    }

    /** Bits 25..22: the destination, also the source of {@code store}, {@code post}, {@code write}. */
    public static int rd(int word) {
        return word >>> 22 & 15;
    }

    /** Bits 21..18. */
    public static int ra(int word) {
        return word >>> 18 & 15;
    }

    /** Bit 17: whether b (or the part added to an address register) is a constant. Forms A, M, C, W. */
    public static boolean hasConstant(int word) {
        return (word & 1 << 17) != 0;
    }

    /** Bits 16..0, signed: the constant of forms A, M and W. */
    public static int constant(int word) {
        return word << 15 >> 15;
    }

    /** Bits 16..0, unsigned: the absolute address of form M. */
    public static int absolute(int word) {
        return word & 0x1FFFF;
    }

    /** Bits 3..0: the register of forms A, J, W, the rb of T, the port of P. */
    public static int low(int word) {
        return word & 15;
    }

    /** Bits 21..0, signed: the constant of {@code set} and the offset of form L. */
    public static int wide(int word) {
        return word << 10 >> 10;
    }

    /** Bits 9..0: the constant of {@code upper}. */
    public static int upper(int word) {
        return word & 0x3FF;
    }

    /** Bits 16..9, signed: the constant of form C. */
    public static int branchConstant(int word) {
        return word << 15 >> 24;
    }

    /** Bits 12..9: the register of form C. */
    public static int branchRegister(int word) {
        return word >>> 9 & 15;
    }

    /** Bits 8..0, signed: the offset of form C. */
    public static int branchOffset(int word) {
        return word << 23 >> 23;
    }

    /** Bit 25: whether form J holds its target rather than a register. */
    public static boolean jumpHasTarget(int word) {
        return (word & 1 << 25) != 0;
    }

    /** Bits 24..0, signed: the distance of {@code jump} and {@code call}. */
    public static int distance(int word) {
        return word << 7 >> 7;
    }

    /** Bits 24..0, unsigned: the address of {@code far} and {@code near}. */
    public static int crossAddress(int word) {
        return word & 0x1FFFFFF;
    }

    /**
     * Whether this word is an instruction: its operation exists, every bit that its form does not name is 0, and a
     * named port or condition is one of those listed.
     */
    public static boolean isInstruction(int word) {
        Op op = Op.of(op(word));
        return op != null && (word & mustBeZero(op.form(), word)) == 0 && fieldsExist(op, word);
    }

    private static int mustBeZero(Form form, int word) {
        return switch (form) {
            case SET, LOOP -> 0;
            case UPPER -> 0x003F_FC00;
            case THREE -> hasConstant(word) ? 0 : 0x0001_FFF0;
            case MEMORY -> hasConstant(word) ? 0 : 0x003C_0000;
            case BRANCH -> hasConstant(word) ? 0 : 0x0001_E000;
            case JUMP, CROSS -> jumpHasTarget(word) ? 0 : 0x01FF_FFF0;
            case READ, WRITE -> 0x003F_FFF0;
            case HOLD -> 0x03FC_0000 | (hasConstant(word) ? 0 : 0x0001_FFF0);
            case AWAIT -> 0x03C0_0000 | (hasConstant(word) ? 0 : 0x0001_FFF0);
            case START -> 0x0003_FFF0;
            case STOP -> 0x003F_FFFF;
            case BARE -> 0x03FF_FFFF;
        };
    }

    private static boolean fieldsExist(Op op, int word) {
        return switch (op.form()) {
            case BRANCH -> rd(word) < Condition.values().length;
            case READ -> Port.of(low(word)) != null;
            case WRITE -> {
                Port port = Port.of(low(word));
                yield port != null && port.writable();
            }
            default -> true;
        };
    }
}
