package octurn.machine;

import octurn.isa.Codes;

/**
 * What the arithmetic instructions, the conditions and the data accesses compute, for every engine. Words are 32 bits,
 * two's complement; arithmetic wraps. Conditions go by the codes of {@code octurn.isa.Condition}; a test binds them.
 */
public final class Alu {

    private Alu() {}

    /**
     * The result of {@code add} .. {@code rol} ({@code b} taken modulo 32 in shifts).
     *
     * @throws ArithmeticException for {@code div} and {@code rem} by 0, which the engine has ruled out before
     */
    static int compute(int op, int a, int b) {
        return switch (op) {
            case Codes.ADD -> add(a, b);
            case Codes.SUB -> sub(a, b);
            case Codes.MUL -> mul(a, b);
            case Codes.MULH -> mulh(a, b);
            case Codes.DIV -> div(a, b);
            case Codes.REM -> rem(a, b);
            case Codes.AND -> and(a, b);
            case Codes.OR -> or(a, b);
            case Codes.XOR -> xor(a, b);
            case Codes.SHL -> shl(a, b);
            case Codes.SHR -> shr(a, b);
            case Codes.SAR -> sar(a, b);
            case Codes.ROL -> rol(a, b);
            default -> throw new IllegalArgumentException("no arithmetic: operation " + op);
        };
    }

    static int add(int a, int b) {
        return a + b;
    }

    static int sub(int a, int b) {
        return a - b;
    }

    static int mul(int a, int b) {
        return a * b;
    }

    static int mulh(int a, int b) {
        return (int) (((long) a * b) >> 32);
    }

    static int div(int a, int b) {
        return a / b;
    }

    static int rem(int a, int b) {
        return a % b;
    }

    static int and(int a, int b) {
        return a & b;
    }

    static int or(int a, int b) {
        return a | b;
    }

    static int xor(int a, int b) {
        return a ^ b;
    }

    static int shl(int a, int b) {
        return a << b;
    }

    static int shr(int a, int b) {
        return a >>> b;
    }

    static int sar(int a, int b) {
        return a >> b;
    }

    static int rol(int a, int b) {
        return Integer.rotateLeft(a, b);
    }

    /** Whether the condition with this code holds. */
    public static boolean holds(int condition, int a, int b) {
        return switch (condition) {
            case 0 -> a == b;
            case 1 -> a != b;
            case 2 -> a < b;
            case 3 -> a <= b;
            case 4 -> a > b;
            case 5 -> a >= b;
            case 6 -> Integer.compareUnsigned(a, b) < 0;
            case 7 -> Integer.compareUnsigned(a, b) <= 0;
            case 8 -> Integer.compareUnsigned(a, b) > 0;
            case 9 -> Integer.compareUnsigned(a, b) >= 0;
            default -> throw new IllegalArgumentException("no condition: " + condition);
        };
    }

    /** Whether a is below b, both unsigned. */
    static boolean isBelow(int a, int b) {
        return Integer.compareUnsigned(a, b) < 0;
    }

    /** Whether an access reads its shared word: its register becomes what stood there. */
    static boolean readsShared(int op) {
        return op != Codes.POST;
    }

    /** Whether an access writes its shared word. */
    static boolean writesShared(int op) {
        return op != Codes.FETCH;
    }

    /** What an access leaves in the shared word, if it writes it: from its register and what stood there. */
    static int posted(int op, int mine, int theirs) {
        return op == Codes.BUMP ? theirs + mine : mine;
    }

    /** Bits 31..22 become c, the others stay: {@code upper}. */
    static int upper(int old, int c) {
        return (old & 0x003F_FFFF) | c << 22;
    }
}
