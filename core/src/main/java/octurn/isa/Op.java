package octurn.isa;

import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * The instruction table: every instruction of the chip, once, with its code, its layout, what its time depends on and
 * what it does. Assembler, decoder, disassembler, listing and the printed card read this table; what an instruction
 * computes is in {@code octurn.machine.Alu} and {@code octurn.machine.ClearEngine}.
 */
public enum Op {
    SET(0x01, Form.SET, Timing.PLAIN, "rd = c"),
    UPPER(0x02, Form.UPPER, Timing.PLAIN, "bits 31..22 of rd = c"),
    ADD(0x08, Form.THREE, Timing.PLAIN, "rd = ra + b"),
    SUB(0x09, Form.THREE, Timing.PLAIN, "rd = ra - b"),
    MUL(0x0A, Form.THREE, Timing.MULTIPLY, "rd = low word of ra * b"),
    MULH(0x0B, Form.THREE, Timing.MULTIPLY, "rd = high word of ra * b, signed"),
    DIV(0x0C, Form.THREE, Timing.DIVIDE, "rd = ra / b, signed, toward 0"),
    REM(0x0D, Form.THREE, Timing.DIVIDE, "rd = remainder of ra / b"),
    AND(0x0E, Form.THREE, Timing.PLAIN, "rd = ra AND b"),
    OR(0x0F, Form.THREE, Timing.PLAIN, "rd = ra OR b"),
    XOR(0x10, Form.THREE, Timing.PLAIN, "rd = ra XOR b"),
    SHL(0x11, Form.THREE, Timing.PLAIN, "rd = ra shifted left by b, zeros in"),
    SHR(0x12, Form.THREE, Timing.PLAIN, "rd = ra shifted right by b, zeros in"),
    SAR(0x13, Form.THREE, Timing.PLAIN, "rd = ra shifted right by b, sign in"),
    ROL(0x14, Form.THREE, Timing.PLAIN, "rd = ra rotated left by b"),
    LOAD(0x18, Form.MEMORY, Timing.PRIVATE, "rd = private word m"),
    STORE(0x19, Form.MEMORY, Timing.PRIVATE, "private word m = rd"),
    FETCH(0x1A, Form.MEMORY, Timing.ACCESS, "rd = shared word m"),
    POST(0x1B, Form.MEMORY, Timing.ACCESS, "shared word m = rd"),
    SWAP(0x1C, Form.MEMORY, Timing.ACCESS, "rd and shared word m trade values"),
    BUMP(0x1D, Form.MEMORY, Timing.ACCESS, "shared word m += rd; rd = the old value"),
    JUMP_IF(0x20, Form.BRANCH, Timing.TAKEN_OR_PLAIN, "go to x if it holds"),
    JUMP(0x21, Form.JUMP, Timing.TAKEN, "go to x"),
    CALL(0x22, Form.JUMP, Timing.TAKEN, "r15 = next address; go to x"),
    AGAIN(0x23, Form.LOOP, Timing.TAKEN_OR_PLAIN, "rd = rd - 1; go to x unless it is 0"),
    FAR(0x24, Form.CROSS, Timing.TAKEN, "go on at shared word x"),
    NEAR(0x25, Form.CROSS, Timing.TAKEN, "go on at private word x"),
    READ(0x28, Form.READ, Timing.PLAIN, "rd = the port"),
    WRITE(0x29, Form.WRITE, Timing.PLAIN, "the port = rs"),
    PAUSE(0x2A, Form.HOLD, Timing.HOLD, "hold for b cycles in all"),
    UNTIL(0x2B, Form.HOLD, Timing.UNTIL_TIME, "sleep until time reaches b"),
    AWAIT(0x2C, Form.AWAIT, Timing.UNTIL_PINS, "sleep until (pins AND ra) = b"),
    START(0x30, Form.START, Timing.ACCESS, "start idle core rd (-1: any) on the image at ra, its r1 = rb"),
    STOP(0x31, Form.STOP, Timing.ACCESS, "make core rc idle"),
    HALT(0x32, Form.BARE, Timing.PLAIN, "make this core idle");

    private static final @Nullable Op[] BY_CODE = new @Nullable Op[64];

    static {
        for (Op op : values()) {
            BY_CODE[op.code] = op;
        }
    }

    private final int code;
    private final Form form;
    private final Timing timing;
    private final String does;

    Op(int code, Form form, Timing timing, String does) {
        this.code = code;
        this.form = form;
        this.timing = timing;
        this.does = does;
    }

    /** The operation with this code, 0..63, or null where there is none. */
    public static @Nullable Op of(int code) {
        return BY_CODE[code & 63];
    }

    /** The bits 31..26 of the word. */
    public int code() {
        return code;
    }

    public Form form() {
        return form;
    }

    public Timing timing() {
        return timing;
    }

    /** What it does, in terms of its operands. */
    public String does() {
        return does;
    }

    /** As written in a program, in lower case; the two kinds of {@code jump} share one word. */
    public String mnemonic() {
        return this == JUMP_IF ? "jump" : name().toLowerCase(Locale.ROOT);
    }

    /** Whether it goes through the arbiter for data: the six access instructions. */
    public boolean isAccess() {
        return timing == Timing.ACCESS;
    }
}
