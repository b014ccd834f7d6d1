package octurn.isa;

/**
 * The codes of {@link Op} and {@link Port} as plain numbers, for an engine's switches; a test binds the two.
 */
public final class Codes {

    public static final int SET = 0x01;
    public static final int UPPER = 0x02;
    public static final int ADD = 0x08;
    public static final int SUB = 0x09;
    public static final int MUL = 0x0A;
    public static final int MULH = 0x0B;
    public static final int DIV = 0x0C;
    public static final int REM = 0x0D;
    public static final int AND = 0x0E;
    public static final int OR = 0x0F;
    public static final int XOR = 0x10;
    public static final int SHL = 0x11;
    public static final int SHR = 0x12;
    public static final int SAR = 0x13;
    public static final int ROL = 0x14;
    public static final int LOAD = 0x18;
    public static final int STORE = 0x19;
    public static final int FETCH = 0x1A;
    public static final int POST = 0x1B;
    public static final int SWAP = 0x1C;
    public static final int BUMP = 0x1D;
    public static final int JUMP_IF = 0x20;
    public static final int JUMP = 0x21;
    public static final int CALL = 0x22;
    public static final int AGAIN = 0x23;
    public static final int FAR = 0x24;
    public static final int NEAR = 0x25;
    public static final int READ = 0x28;
    public static final int WRITE = 0x29;
    public static final int PAUSE = 0x2A;
    public static final int UNTIL = 0x2B;
    public static final int AWAIT = 0x2C;
    public static final int START = 0x30;
    public static final int STOP = 0x31;
    public static final int HALT = 0x32;

    public static final int PINS = 0;
    public static final int OUT = 1;
    public static final int DRIVE = 2;
    public static final int TIME = 3;
    public static final int CORE = 4;
    public static final int TALLY0 = 8;
    public static final int MODE0 = 9;
    public static final int SPAN0 = 10;
    public static final int LEVEL0 = 11;
    public static final int TALLY1 = 12;
    public static final int MODE1 = 13;
    public static final int SPAN1 = 14;
    public static final int LEVEL1 = 15;

    private Codes() {}
}
