package octurn.machine;

import octurn.isa.Codes;

/**
 * What the arithmetic instructions and the conditions compute, for every engine. Words are 32 bits, two's complement;
 * arithmetic wraps. Conditions go by the codes of {@code octurn.isa.Condition}; a test binds
 * them.
 */
final class Alu {

    private Alu() {}

    /**
     * The result of {@code add} .. {@code rol} ({@code b} taken modulo 32 in shifts).
     *
     * @throws ArithmeticException for {@code div} and {@code rem} by 0, which the engine has ruled out before
     */
    static int compute(int op, int a, int b) {
        return switch (op) {
            case Codes.ADD -> a + b;
            case Codes.SUB -> a - b;
            case Codes.MUL -> a * b;
            case Codes.MULH -> (int) ((long) a * b >> 32);
            case Codes.DIV -> a / b;
            case Codes.REM -> a % b;
            case Codes.AND -> a & b;
            case Codes.OR -> a | b;
            case Codes.XOR -> a ^ b;
            case Codes.SHL -> a << b;
            case Codes.SHR -> a >>> b;
            case Codes.SAR -> a >> b;
            case Codes.ROL -> Integer.rotateLeft(a, b);
            default -> throw new IllegalArgumentException("no arithmetic: operation " + op);
        };
    }

    /** Whether the condition with this code holds. */
    static boolean holds(int condition, int a, int b) {
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

    /** Bits 31..22 become c, the others stay: {@code upper}. */
    static int upper(int old, int c) {
        return old & 0x003F_FFFF | c << 22;
    }
}
