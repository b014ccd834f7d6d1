package octurn.machine;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import octurn.design.Cost;
import octurn.isa.Codes;
import octurn.isa.Word;
import org.jspecify.annotations.Nullable;

/**
 * The instructions of one core that nobody else can see or reach, done in one go: arithmetic, private RAM, jumps in
 * private code, the core's own number, the time, and sleep up to a time. It ends with an access that is asked for, or
 * before an instruction that is none of these.
 *
 * <p>They are done one by one, from words that were decoded once; code that is busy is handed to a {@link Translation}.
 */
final class PrivateWork {

    /** The place of an instruction that is none of these; no operation has this code. */
    private static final int OTHER = 0x3F;

    /** Added to the code of an operation whose b, or whose part of an address, is a constant. */
    private static final int CONSTANT = 0x40;

    /** A stretch of so many instructions is worth a translation by itself. */
    private static final int LONG_STRETCH = 24;

    /**
     * So many instructions in long stretches, and the code is translated. The first translation of a run takes as long as
     * some ten million instructions done one by one, most of it for classes that are needed the first time.
     */
    static final int HOT = 20_000;

    /** An access that ends a short stretch wins less: so many times more of them, and the code is translated. */
    private static final int HOT_ACCESSES = 8;

    /** A core whose code was translated so often changes it all the time, and is left alone. */
    private static final int MOST_TRANSLATIONS = 64;

    /** So many translations are kept for other cores. */
    private static final int MOST_SHARED = 64;

    final Core core;
    final Accesses accesses;
    final Schedule schedule;
    private final List<Translation> shared;
    private final int hot;
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

    /** What the core's code was translated to, as far as its words still are those. */
    private final List<Translation> inForce = new ArrayList<>();

    /** The words that something else was made from, as far as they still stand there. */
    private final List<CodeWords> kept = new ArrayList<>();

    /** By private address: the code that can be entered there. Of no length while there is none, as the next two. */
    private Translation.@Nullable Code[] entries = {};

    /** By private address of an access: the code that can be entered when it ends. */
    private Translation.@Nullable Code[] resumptions = {};

    /** By private address: whether something in force was made from the word there. */
    boolean[] covered = {};

    /** The code to enter when the access ends that the core has asked for. */
    Translation.@Nullable Code resumption;

    private int translated;
    /** Instructions in long stretches, and accesses, that were done one by one since the last translation. */
    private long heat;

    private long asked;
    /** Whether there was enough of it. */
    private boolean wanted;

    /**
     * @param shared translations of all cores of one engine
     * @param hot how many instructions of busy code are done before it is translated
     */
    PrivateWork(Core core, Cost cost, Accesses accesses, Schedule schedule, List<Translation> shared, int hot) {
        this.core = core;
        this.cost = cost;
        this.accesses = accesses;
        this.schedule = schedule;
        this.shared = shared;
        this.hot = hot;
        this.plain = cost.plain();
        this.taken = cost.taken();
        this.privateCost = cost.privateAccess();
        this.multiply = cost.multiply();
        this.divide = cost.divide();
        this.longest = Math.max(Math.max(plain, taken), Math.max(privateCost, Math.max(multiply, divide)));
        this.decoded = new long[core.ram.length];
    }

    /** Whether {@link #resume} can be called for the access that the core has asked for. */
    boolean canResume() {
        return resumption != null;
    }

    /**
     * Does an access that ends with the cycle before this one, and goes on as long as the translation does, with other
     * cores, too, as the schedule says.
     *
     * @return the cycle at which {@link Schedule#current} starts an instruction that the translation leaves; or something
     *     below 0, if that is who is next
     */
    long resume(long time, long horizon) {
        Translation.Code code = resumption;
        if (code == null) {
            throw new IllegalStateException("nothing to resume");
        }
        return code.run(this, ~core.pc, time, horizon);
    }

    /**
     * Does instructions from this cycle on, none that would end after the horizon. Leaves the core before the first
     * instruction that was not done. The schedule is closed.
     *
     * @return the cycle at which that instruction starts; or something below 0, if it is an access that was asked for
     */
    long run(long start, long horizon) {
        return run(start, horizon, Long.MAX_VALUE);
    }

    /** The same for one instruction, which is never one of a translation. */
    long step(long start, long horizon) {
        return run(start, horizon, 1);
    }

    private long run(long start, long horizon, long most) {
        final int[] r = core.registers;
        final int[] ram = core.ram;
        final long[] known = decoded;
        final int plain = this.plain;
        final long safe = horizon - longest;
        long time = start;
        long done = 0;
        int pc = core.pc;
        boolean enter = most > 1;
        boolean jumped = false;
        ahead:
        while (time <= safe && done < most && pc >= 0 && pc < ram.length) {
            if (jumped && wanted) {
                translate(pc);
                enter = true;
            }
            if ((enter || jumped) && entries.length != 0) {
                enter = false;
                jumped = false;
                Translation.Code code = entries[pc];
                if (code != null) {
                    core.pc = pc;
                    time = code.run(this, pc, time, horizon);
                    pc = core.pc;
                    if (time < 0) {
                        core.instructions += done;
                        resumption = code;
                        return time;
                    }
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
                    int address = Accesses.address(r, w);
                    if (address < 0 || address >= ram.length) {
                        break ahead;
                    }
                    r[w >>> 22 & 15] = ram[address];
                    time += privateCost - plain;
                }
                case Codes.STORE, Codes.STORE + CONSTANT -> {
                    int address = Accesses.address(r, w);
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
                        jumped = true;
                    }
                }
                case Codes.JUMP, Codes.CALL, Codes.NEAR -> {
                    next = jumpTarget(r, w, op, pc);
                    if (op == Codes.CALL) {
                        r[15] = pc + 1;
                    }
                    time += taken - plain;
                    jumped = true;
                }
                case Codes.AGAIN -> {
                    int left = --r[w >>> 22 & 15];
                    if (left != 0) {
                        next = pc + (w << 10 >> 10);
                        time += taken - plain;
                        jumped = true;
                    }
                }
                case Codes.READ -> {
                    r[w >>> 22 & 15] = (w & 15) == Codes.TIME ? (int) time : core.number;
                    enter = true;
                }
                case Codes.PAUSE, Codes.PAUSE + CONSTANT, Codes.UNTIL, Codes.UNTIL + CONSTANT -> {
                    long cycles = hold(w >>> 26, operandB(r, w), time, safe);
                    if (cycles < 0) {
                        break ahead;
                    }
                    time += cycles - plain;
                    enter = true;
                }
                case Codes.FETCH, Codes.POST, Codes.SWAP, Codes.BUMP -> {
                    core.accessAddress = Accesses.address(r, w);
                    long answer = accesses.ask(pc, core.accessAddress, time);
                    if (answer == Accesses.LEFT) {
                        break ahead;
                    }
                    core.pc = pc;
                    core.instructions += done;
                    asked++;
                    warm(done);
                    if (wanted) {
                        translate(pc);
                    }
                    resumption = resumptions.length == 0 ? null : resumptions[pc];
                    schedule.add(this, answer);
                    return answer;
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
        warm(done);
        return time;
    }

    /**
     * How many cycles a {@code pause} or {@code until} takes that starts at this cycle, or -1 if it ends too late: an
     * instruction can start at the cycle {@code latest} at the latest. Its sleep is counted.
     */
    long hold(int op, int b, long time, long latest) {
        long woken = time + plain;
        long sleep = op == Codes.PAUSE ? (long) b - plain : b - (int) woken;
        if (sleep <= 0) {
            return plain;
        }
        if (sleep > latest - woken) {
            return -1;
        }
        core.spend(State.SLEEP, sleep);
        return plain + sleep;
    }

    /** A stretch of so many instructions was done one by one. */
    private void warm(long instructions) {
        if (instructions >= Math.min(LONG_STRETCH, hot)) {
            heat += instructions;
        }
        wanted = (heat > hot || asked > (long) HOT_ACCESSES * hot) && translated < MOST_TRANSLATIONS;
    }

    /** Translates what begins at this address: where a jump led, or an access. */
    private void translate(int pc) {
        heat = 0;
        asked = 0;
        wanted = false;
        Translation found = null;
        for (Translation other : shared) {
            if (other.goesOnFrom(pc) && other.words().holdsFor(core.ram)) {
                found = other;
                break;
            }
        }
        if (found == null) {
            found = Translator.translate(core.ram, pc, cost);
            if (found != null && shared.size() < MOST_SHARED) {
                shared.add(found);
            }
        }
        if (found != null) {
            translated++;
            inForce.add(found);
            rebuild();
        }
    }

    /** A word was stored here: a translation that was made from what stood there is no longer right. */
    private void stored(int address) {
        if (covered.length != 0 && covered[address]) {
            inForce.removeIf(translation -> translation.words().covers(address));
            kept.removeIf(words -> words.covers(address));
            rebuild();
        }
    }

    /** The private RAM may have changed in any way since the last run. */
    void recheck() {
        boolean changed =
                !inForce.isEmpty() && inForce.removeIf(one -> !one.words().holdsFor(core.ram));
        changed |= !kept.isEmpty() && kept.removeIf(words -> !words.holdsFor(core.ram));
        if (changed) {
            rebuild();
        }
    }

    /** From now on these words are looked after: what is stored over one of them is noticed. */
    void keep(CodeWords words) {
        kept.add(words);
        rebuild();
    }

    /** Whether the words still stand there, and always have. */
    boolean keeps(CodeWords words) {
        return kept.contains(words);
    }

    /** They are of no interest any more. */
    void letGo(CodeWords words) {
        kept.remove(words);
    }

    /** The core is at this instruction, and has asked for its access if it is one. */
    void goTo(int pc) {
        core.pc = pc;
        resumption = resumptions.length == 0 ? null : resumptions[pc];
        if (!Word.hasConstant(core.ram[pc])) {
            core.accessAddress = Word.absolute(core.ram[pc]);
        }
    }

    private void rebuild() {
        if (covered.length == 0) {
            entries = new Translation.Code[core.ram.length];
            resumptions = new Translation.Code[core.ram.length];
            covered = new boolean[core.ram.length];
        }
        Arrays.fill(entries, null);
        Arrays.fill(resumptions, null);
        Arrays.fill(covered, false);
        for (Translation translation : inForce) {
            for (int address : translation.entries()) {
                entries[address] = translation.code();
            }
            for (int address : translation.accesses()) {
                resumptions[address] = translation.code();
            }
            translation.words().note(covered);
        }
        kept.forEach(words -> words.note(covered));
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
}
