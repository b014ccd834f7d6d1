package octurn.reference;

/** Reading instruction words, for the reference model: written from the table of forms, not from the chip's decoder. */
final class Words {

    static final int SET = 0x01;
    static final int UPPER = 0x02;
    static final int ADD = 0x08;
    static final int SUB = 0x09;
    static final int MUL = 0x0A;
    static final int MULH = 0x0B;
    static final int DIV = 0x0C;
    static final int REM = 0x0D;
    static final int AND = 0x0E;
    static final int OR = 0x0F;
    static final int XOR = 0x10;
    static final int SHL = 0x11;
    static final int SHR = 0x12;
    static final int SAR = 0x13;
    static final int ROL = 0x14;
    static final int LOAD = 0x18;
    static final int STORE = 0x19;
    static final int FETCH = 0x1A;
    static final int POST = 0x1B;
    static final int SWAP = 0x1C;
    static final int BUMP = 0x1D;
    static final int JUMP_IF = 0x20;
    static final int JUMP = 0x21;
    static final int CALL = 0x22;
    static final int AGAIN = 0x23;
    static final int FAR = 0x24;
    static final int NEAR = 0x25;
    static final int READ = 0x28;
    static final int WRITE = 0x29;
    static final int PAUSE = 0x2A;
    static final int UNTIL = 0x2B;
    static final int AWAIT = 0x2C;
    static final int START = 0x30;
    static final int STOP = 0x31;
    static final int HALT = 0x32;

    private Words() {}

    /** This many bits of the word from this bit on, two's complement. */
    static int signed(int word, int from, int bits) {
        int value = word >>> from & (1 << bits) - 1;
        return value >= 1 << (bits - 1) ? value - (1 << bits) : value;
    }

    /** Whether bits {@code high} .. {@code low} are all 0. */
    private static boolean zero(int word, int high, int low) {
        for (int bit = low; bit <= high; bit++) {
            if ((word >>> bit & 1) != 0) {
                return false;
            }
        }
        return true;
    }

    /** Every bit that a form does not name is 0, and what the word names exists. */
    static boolean isInstruction(int word) {
        boolean i17 = (word >>> 17 & 1) != 0;
        boolean i25 = (word >>> 25 & 1) != 0;
        int port = word & 15;
        return switch (word >>> 26) {
            case SET, AGAIN -> true;
            case UPPER -> zero(word, 21, 10);
            case ADD, SUB, MUL, MULH, DIV, REM, AND, OR, XOR, SHL, SHR, SAR, ROL -> i17 || zero(word, 16, 4);
            case LOAD, STORE, FETCH, POST, SWAP, BUMP -> i17 || zero(word, 21, 18);
            case JUMP_IF -> (word >>> 22 & 15) <= 9 && (i17 || zero(word, 16, 13));
            case JUMP, CALL, FAR, NEAR -> i25 || zero(word, 24, 4);
            case READ -> zero(word, 21, 4) && (port <= 4 || port >= 8);
            case WRITE -> zero(word, 21, 4) && (port == 1 || port == 2 || port >= 8);
            case PAUSE, UNTIL -> zero(word, 25, 18) && (i17 || zero(word, 16, 4));
            case AWAIT -> zero(word, 25, 22) && (i17 || zero(word, 16, 4));
            case START -> zero(word, 17, 4);
            case STOP -> zero(word, 21, 0);
            case HALT -> zero(word, 25, 0);
            default -> false;
        };
    }

    /** The conditions of {@code jump .. if}, by code. */
    static boolean holds(int condition, int a, int b) {
        long ua = a & 0xFFFFFFFFL;
        long ub = b & 0xFFFFFFFFL;
        return switch (condition) {
            case 0 -> a == b;
            case 1 -> a != b;
            case 2 -> a < b;
            case 3 -> a <= b;
            case 4 -> a > b;
            case 5 -> a >= b;
            case 6 -> ua < ub;
            case 7 -> ua <= ub;
            case 8 -> ua > ub;
            case 9 -> ua >= ub;
            default -> throw new AssertionError(condition);
        };
    }
}
