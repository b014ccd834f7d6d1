package octurn.machine;

import java.util.Arrays;
import octurn.design.Cost;
import octurn.isa.Codes;
import octurn.isa.Word;
import org.jspecify.annotations.Nullable;

/**
 * The instructions of one core that nobody else can see or reach, done in one go: arithmetic, private RAM, jumps in
 * private code, the core's own number, the time, and sleep up to a time.
 *
 * <p>They are done one by one, from words that were decoded once; code that goes on for long without anything else in
 * between is handed to a {@link Translation}.
 */
final class PrivateWork {

    /** The place of an instruction that is none of these; no operation has this code. */
    private static final int OTHER = 0x3F;

    /** Added to the code of an operation whose b, or whose part of an address, is a constant. */
    private static final int CONSTANT = 0x40;

    /** A stretch of fewer instructions than this is not worth a translation: calling it costs about as much. */
    private static final int LONG_STRETCH = 24;

    /** So many instructions in long stretches, and the code is translated. */
    private static final int HOT = 20_000;

    /** A core whose code was translated so often changes it all the time, and is left alone. */
    private static final int MOST_TRANSLATIONS = 64;

    private final Core core;
    private final Cost cost;
    private final int plain;
    private final int taken;
    private final int privateCost;
    private final int multiply;
    private final int divide;
    /** The longest that one of these instructions can take, sleeping apart. */
    private final int longest;

    /** By private address: the word that was decoded, and above it what to do. A word of 0 is no instruction. */
    private final long[] decoded;

    /** By private address: the translation that can be entered there. */
    private @Nullable Translation @Nullable [] entries;

    /** By private address: whether a translation that can be entered covers it. Of no length while there are none. */
    private boolean[] covered = {};

    private int translated;
    private long heat;

    PrivateWork(Core core, Cost cost) {
        this.core = core;
        this.cost = cost;
        this.plain = cost.plain();
        this.taken = cost.taken();
        this.privateCost = cost.privateAccess();
        this.multiply = cost.multiply();
        this.divide = cost.divide();
        this.longest = Math.max(Math.max(plain, taken), Math.max(privateCost, Math.max(multiply, divide)));
        this.decoded = new long[core.ram.length];
    }

    /**
     * Does instructions from this cycle on, none that would end after the horizon. Leaves the core before the first
     * instruction that was not done.
     *
     * @return the cycle at which that instruction starts
     */
    long run(long start, long horizon) {
        final int[] r = core.registers;
        final int[] ram = core.ram;
        final long[] known = decoded;
        final int plain = this.plain;
        final long safe = horizon - longest;
        long time = start;
        long done = 0;
        int pc = core.pc;
        boolean enter = true;
        ahead:
        while (time <= safe && pc >= 0 && pc < ram.length) {
            if (enter && entries != null) {
                enter = false;
                Translation translation = entries[pc];
                if (translation != null) {
                    core.pc = pc;
                    time = translation.run(core, time, horizon, covered);
                    pc = core.pc;
                    continue;
                }
            }
            int w = ram[pc];
            long decode = known[pc];
            if ((int) decode != w) {
                decode = decode(w);
                known[pc] = decode;
            }
            int op = (int) (decode >>> 32);
            int next = pc + 1;
            switch (op) {
                case Codes.SET -> r[w >>> 22 & 15] = w << 10 >> 10;
                case Codes.UPPER -> r[w >>> 22 & 15] = Alu.upper(r[w >>> 22 & 15], w & 0x3FF);
                case Codes.ADD -> r[w >>> 22 & 15] = Alu.add(r[w >>> 18 & 15], r[w & 15]);
                case Codes.ADD + CONSTANT -> r[w >>> 22 & 15] = Alu.add(r[w >>> 18 & 15], Word.constant(w));
                case Codes.SUB -> r[w >>> 22 & 15] = Alu.sub(r[w >>> 18 & 15], r[w & 15]);
                case Codes.SUB + CONSTANT -> r[w >>> 22 & 15] = Alu.sub(r[w >>> 18 & 15], Word.constant(w));
                case Codes.AND -> r[w >>> 22 & 15] = Alu.and(r[w >>> 18 & 15], r[w & 15]);
                case Codes.AND + CONSTANT -> r[w >>> 22 & 15] = Alu.and(r[w >>> 18 & 15], Word.constant(w));
                case Codes.OR -> r[w >>> 22 & 15] = Alu.or(r[w >>> 18 & 15], r[w & 15]);
                case Codes.OR + CONSTANT -> r[w >>> 22 & 15] = Alu.or(r[w >>> 18 & 15], Word.constant(w));
                case Codes.XOR -> r[w >>> 22 & 15] = Alu.xor(r[w >>> 18 & 15], r[w & 15]);
                case Codes.XOR + CONSTANT -> r[w >>> 22 & 15] = Alu.xor(r[w >>> 18 & 15], Word.constant(w));
                case Codes.SHL -> r[w >>> 22 & 15] = Alu.shl(r[w >>> 18 & 15], r[w & 15]);
                case Codes.SHL + CONSTANT -> r[w >>> 22 & 15] = Alu.shl(r[w >>> 18 & 15], Word.constant(w));
                case Codes.SHR -> r[w >>> 22 & 15] = Alu.shr(r[w >>> 18 & 15], r[w & 15]);
                case Codes.SHR + CONSTANT -> r[w >>> 22 & 15] = Alu.shr(r[w >>> 18 & 15], Word.constant(w));
                case Codes.SAR -> r[w >>> 22 & 15] = Alu.sar(r[w >>> 18 & 15], r[w & 15]);
                case Codes.SAR + CONSTANT -> r[w >>> 22 & 15] = Alu.sar(r[w >>> 18 & 15], Word.constant(w));
                case Codes.ROL -> r[w >>> 22 & 15] = Alu.rol(r[w >>> 18 & 15], r[w & 15]);
                case Codes.ROL + CONSTANT -> r[w >>> 22 & 15] = Alu.rol(r[w >>> 18 & 15], Word.constant(w));
                case Codes.MUL, Codes.MUL + CONSTANT -> {
                    r[w >>> 22 & 15] = Alu.mul(r[w >>> 18 & 15], operandB(r, w));
                    time += multiply - plain;
                }
                case Codes.MULH, Codes.MULH + CONSTANT -> {
                    r[w >>> 22 & 15] = Alu.mulh(r[w >>> 18 & 15], operandB(r, w));
                    time += multiply - plain;
                }
                case Codes.DIV, Codes.DIV + CONSTANT -> {
                    int divisor = operandB(r, w);
                    if (divisor == 0) {
                        break ahead;
                    }
                    r[w >>> 22 & 15] = Alu.div(r[w >>> 18 & 15], divisor);
                    time += divide - plain;
                }
                case Codes.REM, Codes.REM + CONSTANT -> {
                    int divisor = operandB(r, w);
                    if (divisor == 0) {
                        break ahead;
                    }
                    r[w >>> 22 & 15] = Alu.rem(r[w >>> 18 & 15], divisor);
                    time += divide - plain;
                }
                case Codes.LOAD, Codes.LOAD + CONSTANT -> {
                    int address = memoryAddress(r, w);
                    if (address < 0 || address >= ram.length) {
                        break ahead;
                    }
                    r[w >>> 22 & 15] = ram[address];
                    time += privateCost - plain;
                }
                case Codes.STORE, Codes.STORE + CONSTANT -> {
                    int address = memoryAddress(r, w);
                    if (address < 0 || address >= ram.length) {
                        break ahead;
                    }
                    ram[address] = r[w >>> 22 & 15];
                    stored(address);
                    time += privateCost - plain;
                }
                case Codes.JUMP_IF, Codes.JUMP_IF + CONSTANT -> {
                    int b = op == Codes.JUMP_IF ? r[w >>> 9 & 15] : w << 15 >> 24;
                    if (Alu.holds(w >>> 22 & 15, r[w >>> 18 & 15], b)) {
                        next = pc + (w << 23 >> 23);
                        time += taken - plain;
                    }
                }
                case Codes.JUMP, Codes.CALL, Codes.NEAR -> {
                    next = jumpTarget(r, w, op, pc);
                    if (op == Codes.CALL) {
                        r[15] = pc + 1;
                    }
                    time += taken - plain;
                    enter = true;
                }
                case Codes.AGAIN -> {
                    int left = --r[w >>> 22 & 15];
                    if (left != 0) {
                        next = pc + (w << 10 >> 10);
                        time += taken - plain;
                    }
                }
                case Codes.READ -> {
                    r[w >>> 22 & 15] = (w & 15) == Codes.TIME ? (int) time : core.number;
                    enter = true;
                }
                case Codes.PAUSE, Codes.PAUSE + CONSTANT, Codes.UNTIL, Codes.UNTIL + CONSTANT -> {
                    int b = operandB(r, w);
                    long woken = time + plain;
                    long sleep = (w >>> 26) == Codes.PAUSE ? (long) b - plain : b - (int) woken;
                    if (sleep > 0) {
                        if (sleep > safe - woken) {
                            break ahead;
                        }
                        core.spend(State.SLEEP, sleep);
                        time += sleep;
                    }
                    enter = true;
                }
                default -> {
                    break ahead;
                }
            }
            pc = next;
            time += plain;
            done++;
        }
        core.pc = pc;
        core.instructions += done;
        if (done >= LONG_STRETCH) {
            heat += done;
            if (heat > HOT && translated < MOST_TRANSLATIONS) {
                translate();
            }
        }
        return time;
    }

    /** Whether the instruction that the core is about to start is a fetch, post, swap or bump in private RAM. */
    boolean isAtAccess() {
        int pc = core.pc;
        if (pc < 0 || pc >= core.ram.length) {
            return false;
        }
        long decode = decoded[pc];
        if ((int) decode != core.ram[pc]) {
            decode = decode(core.ram[pc]);
            decoded[pc] = decode;
        }
        int kind = (int) (decode >>> 32);
        return kind >= Codes.FETCH && kind <= Codes.BUMP;
    }

    private void translate() {
        heat = 0;
        Translation made = Translator.translate(core.ram, core.pc, cost);
        if (made != null) {
            translated++;
            if (entries == null) {
                entries = new Translation[core.ram.length];
                covered = new boolean[core.ram.length];
            }
            for (int address : made.entries()) {
                entries[address] = made;
            }
            made.note(covered);
        }
    }

    /** A word was stored here: a translation that was made from what stood there is no longer right. */
    private void stored(int address) {
        if (entries != null && covered[address]) {
            Arrays.fill(covered, false);
            for (int i = 0; i < entries.length; i++) {
                Translation translation = entries[i];
                if (translation != null && translation.covers(address)) {
                    entries[i] = null;
                } else if (translation != null) {
                    translation.note(covered);
                }
            }
        }
    }

    /** The private RAM may have changed in any way since the last run. */
    void recheck() {
        if (entries != null) {
            Translation right = null;
            for (int i = 0; i < entries.length; i++) {
                Translation translation = entries[i];
                if (translation != null && translation != right) {
                    if (translation.holdsFor(core.ram)) {
                        right = translation;
                    } else {
                        entries[i] = null;
                    }
                }
            }
        }
    }

    /** What is done with this word: its operation, with {@link #CONSTANT} where b is one; or {@link #OTHER}. */
    private static long decode(int word) {
        int kind = OTHER;
        if (Word.isInstruction(word)) {
            int op = Word.op(word);
            kind = switch (op) {
                case Codes.SET, Codes.UPPER, Codes.JUMP, Codes.CALL, Codes.NEAR, Codes.AGAIN -> op;
                case Codes.FETCH, Codes.POST, Codes.SWAP, Codes.BUMP -> op;
                case Codes.FAR, Codes.WRITE, Codes.AWAIT, Codes.START, Codes.STOP, Codes.HALT -> OTHER;
                case Codes.READ -> Word.low(word) == Codes.TIME || Word.low(word) == Codes.CORE ? op : OTHER;
                default -> Word.hasConstant(word) ? op + CONSTANT : op;
            };
        }
        return (long) kind << 32 | Integer.toUnsignedLong(word);
    }

    private static int jumpTarget(int[] r, int w, int op, int pc) {
        if (!Word.jumpHasTarget(w)) {
            return r[w & 15];
        }
        return op == Codes.NEAR ? Word.crossAddress(w) : pc + Word.distance(w);
    }

    private static int operandB(int[] r, int w) {
        return Word.hasConstant(w) ? Word.constant(w) : r[w & 15];
    }

    private static int memoryAddress(int[] r, int w) {
        return Word.hasConstant(w) ? r[w >>> 18 & 15] + Word.constant(w) : Word.absolute(w);
    }
}
