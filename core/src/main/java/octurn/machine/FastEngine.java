package octurn.machine;

import java.util.Arrays;
import octurn.arbiter.Chooser;
import octurn.arbiter.Rotation;
import octurn.design.Admission;
import octurn.design.Cost;
import octurn.design.Design;
import octurn.isa.Codes;
import octurn.isa.Word;
import octurn.machine.Core.Due;
import org.jspecify.annotations.Nullable;

/**
 * The engine that is in a hurry: it leaves the same chip behind as {@link ClearEngine}, on which it leans for all that
 * is rare, and nobody is told what happened on the way.
 *
 * <p>What makes it fast is that a core need not be looked at in every cycle:
 *
 * <ul>
 *   <li>A core whose instructions touch nothing that others can see runs ahead on its own ({@link #runAhead}), up to its
 *       next instruction that does. Others may be many cycles behind: nothing that they do can reach it in between, but
 *       for {@code stop} (see {@link #runTo}).
 *   <li>An access is one step. Under rotation its turn is known when it is reached; under the policies that choose it is
 *       settled when the memory is given away. Wait and slot are counted at once.
 *   <li>All that others can see is done in the order of time, and within one cycle in the order of the rules: what is
 *       not an access or private work goes through the clear engine's own methods ({@link #open}).
 * </ul>
 */
public final class FastEngine implements Engine {

    /** A span of cycles so short that getting ready for it costs more than it saves. */
    private static final long SHORT = 200;

    /** How far to go between two saved states: first, least and most. */
    private static final long FIRST_STRIDE = 1 << 16;

    private static final long LEAST_STRIDE = 1 << 12;
    private static final long MOST_STRIDE = 1 << 24;

    private static final long NEVER = Core.NEVER;

    /** The place of an instruction that runAhead leaves alone; no operation has this code. */
    private static final int EVENT = 0x3F;

    /** Added to the code of an operation whose b, or whose part of an address, is a constant. */
    private static final int CONSTANT = 0x40;

    /** Longer waits than this are counted one by one rather than in a table for each instruction. */
    private static final int WAITS = 1024;

    private final Chip chip;
    private final Core[] cores;
    private final ClearEngine clear;
    private final long limit;
    private final @Nullable Rotation rotation;
    private final @Nullable Chooser chooser;
    private final int slotCycles;
    private final int plain;
    private final int taken;
    private final int privateCost;
    private final int multiply;
    private final int divide;
    /** The longest that an instruction which runAhead does can take, sleeping apart. */
    private final int longest;

    /** By core and private address: the word that was looked at, and above it what runAhead does there. */
    private final long[][] decoded;
    /** By core, private address and wait: accesses not yet added to the core's own counts. */
    private final long[] @Nullable [][] waits;

    /** By core: when its access under way ends (rotation), or NEVER. */
    private final long[] slotEnd;
    /** By core: when the request of its access was or will be raised (policies that choose), or NEVER. */
    private final long[] requestAt;
    /** Under the policies that choose: the first cycle at which no access of the fast kind holds the memory. */
    private long memoryFree;

    /** No core runs ahead to this cycle or past it. */
    private long horizon;
    /** Where a core is about to start a {@code stop}, or NEVER. */
    private long stopAt;

    /**
     * @param limit the cycle at which the run ends at the latest
     */
    public FastEngine(Chip chip, long limit) {
        Design design = chip.design;
        Admission admission = design.admission();
        Cost cost = design.cost();
        this.chip = chip;
        this.cores = chip.cores;
        this.limit = limit;
        this.clear = new ClearEngine(chip, limit, null);
        this.rotation = clear.rotation;
        this.chooser = clear.chooser;
        this.slotCycles = design.slotCycles();
        this.plain = cost.plain();
        this.taken = cost.taken();
        this.privateCost = cost.privateAccess();
        this.multiply = cost.multiply();
        this.divide = cost.divide();
        this.longest = Math.max(Math.max(plain, taken), Math.max(privateCost, Math.max(multiply, divide)));
        this.decoded = new long[cores.length][design.privateWords()];
        this.waits = new long[cores.length][design.privateWords()][];
        this.slotEnd = new long[cores.length];
        this.requestAt = new long[cores.length];
        Arrays.fill(slotEnd, NEVER);
        Arrays.fill(requestAt, NEVER);
    }

    @Override
    public Chip chip() {
        return chip;
    }

    /**
     * {@inheritDoc}
     *
     * <p>It goes in strides. Before each the chip is saved: if a core comes to a {@code stop}, which could reach a core
     * that has already run past it, the chip is taken back and the clear engine carries it over that place.
     */
    @Override
    public void runTo(long cycle) {
        long target = Math.min(cycle, limit);
        long stride = FIRST_STRIDE;
        while (chip.ended == null && target - chip.cycle > SHORT) {
            if (isStopUnderWay()) {
                clear.runTo(Math.min(target, chip.cycle + SHORT));
                continue;
            }
            Chip.Saved before = chip.save();
            long to = Math.min(target, chip.cycle + stride);
            advance(to);
            if (stopAt == NEVER) {
                clear.runTo(to);
                stride = Math.min(MOST_STRIDE, 2 * stride);
            } else {
                long beyond = stopAt + 1;
                chip.restore(before);
                Arrays.fill(slotEnd, NEVER);
                clear.runTo(Math.min(target, beyond));
                stride = LEAST_STRIDE;
            }
        }
        clear.runTo(target);
    }

    /** Whether a core is doing a {@code stop}; one that waits for a turn that never comes can reach nobody. */
    private boolean isStopUnderWay() {
        for (Core core : cores) {
            boolean inInstruction = core.state == State.WORK || core.state == State.WAIT || core.state == State.SLOT;
            boolean slotless = rotation != null && core.due == Due.ADMISSION && core.dueCycle == NEVER;
            if (inInstruction && core.due != Due.BEGIN && !slotless && Word.op(core.word) == Codes.STOP) {
                return true;
            }
        }
        return false;
    }

    // ---- the order of time ----

    /** Does all that is due before this cycle, or goes up to the first {@code stop}. */
    private void advance(long to) {
        horizon = to;
        stopAt = NEVER;
        memoryFree = 0;
        for (Core core : cores) {
            if (core.state.isAdmitted()) {
                memoryFree = core.dueCycle;
            }
        }
        long next = chip.nextCycle;
        while (next < to && stopAt == NEVER) {
            chip.cycle = next;
            open(next);
            if (clear.isAllIdle() || clear.isStuck()) {
                // The clear engine ends the run at this very cycle.
                chip.nextCycle = next;
                break;
            }
            long others = nextOther();
            long accesses = rotation != null ? takeTurns(others) : giveAway(others);
            next = Math.min(nextOther(), accesses);
            chip.nextCycle = next;
        }
        handOver(to);
        addWaits();
    }

    /** Leaves the requests that were not admitted to the clear engine. */
    private void handOver(long to) {
        for (Core core : cores) {
            long request = requestAt[core.number];
            if (request != NEVER) {
                requestAt[core.number] = NEVER;
                if (request < to) {
                    clear.request(core, State.WAIT, request);
                } else {
                    core.schedule(Due.REQUEST, request);
                }
                chip.nextCycle = Math.min(chip.nextCycle, core.dueCycle);
            }
        }
    }

    /** The next cycle at which something other than an access of the fast kind is due. */
    private long nextOther() {
        long next = chip.pins.nextChange();
        for (Core core : cores) {
            next = Math.min(next, core.dueCycle);
        }
        return next;
    }

    /** One cycle's worth of rare things, in the order that the clear engine gives. */
    private void open(long t) {
        for (Core core : cores) {
            if (core.dueCycle == t) {
                clear.finish(core, t);
            }
        }
        if (clear.controlling != 0) {
            addWaits();
            clear.controlCores(t);
        }
        if (chip.pins.isDue(t)) {
            clear.updatePins(t);
        }
        for (Core core : cores) {
            if (core.dueCycle == t && core.due == Due.WATCH) {
                clear.watch(core, t);
            }
            if (core.dueCycle == t && core.due == Due.BEGIN) {
                begin(core, t);
            } else if (core.dueCycle == t) {
                clear.start(core, t);
            }
        }
        if (chooser == null) {
            clear.admit(t);
        }
    }

    private void begin(Core core, long t) {
        runAhead(core, t);
        if (core.dueCycle == t) {
            if (isStop(core)) {
                stopAt = t;
            } else {
                clear.start(core, t);
            }
        }
    }

    private static boolean isStop(Core core) {
        boolean inRam = !core.pcInShared && core.pc >= 0 && core.pc < core.ram.length;
        int word = inRam ? core.ram[core.pc] : core.pcInShared && core.codeInHand ? core.word : 0;
        return Word.op(word) == Codes.STOP;
    }

    // ---- accesses ----

    /** Under rotation and own-port: ends the accesses under way that end before others do anything; the next one left. */
    private long takeTurns(long others) {
        long until = others;
        while (true) {
            int first = 0;
            long end = slotEnd[0];
            for (int i = 1; i < slotEnd.length; i++) {
                if (slotEnd[i] < end) {
                    end = slotEnd[i];
                    first = i;
                }
            }
            if (end > until || end == NEVER) {
                return end;
            }
            slotEnd[first] = NEVER;
            finishAccess(cores[first], end);
            until = Math.min(until, cores[first].dueCycle);
        }
    }

    /** Under the policies that choose: admits as long as nothing else comes before; the next admission left. */
    private long giveAway(long others) {
        Chooser choice = chooser;
        long until = others;
        while (choice != null) {
            long first = NEVER;
            for (long request : requestAt) {
                first = Math.min(first, request);
            }
            for (int rest = chip.requests; rest != 0; rest &= rest - 1) {
                first = Math.min(first, chip.requestCycles[Integer.numberOfTrailingZeros(rest)]);
            }
            long admission = Math.max(first, memoryFree);
            if (admission >= until || admission >= horizon) {
                return first == NEVER ? NEVER : admission;
            }
            int mask = chip.requests;
            for (int i = 0; i < requestAt.length; i++) {
                if (requestAt[i] <= admission) {
                    mask |= 1 << i;
                }
            }
            Core core = cores[choice.choose(mask, chip.requestCycles, chip.arbiterMemory)];
            chip.arbiterMemory.lastAdmitted = core.number;
            admit(core, admission);
            until = Math.min(until, core.dueCycle);
        }
        return NEVER;
    }

    private void admit(Core core, long admission) {
        memoryFree = admission + slotCycles;
        long request = requestAt[core.number];
        if (request == NEVER) {
            chip.requests &= ~(1 << core.number);
            clear.admit(core, admission);
        } else {
            requestAt[core.number] = NEVER;
            if (memoryFree < horizon) {
                countAccess(core, admission - request);
                finishAccess(core, memoryFree);
            } else {
                clear.request(core, State.WAIT, request);
                chip.requests &= ~(1 << core.number);
                clear.admit(core, admission);
            }
        }
    }

    /** An access instruction that this core starts at t, unless it is better left to the clear engine. */
    private void startAccess(Core core, int word, long t) {
        core.word = word;
        int address = memoryAddress(core.registers, word);
        long request = t + plain;
        if (address < 0 || address >= chip.shared.length || request + slotCycles >= horizon) {
            return;
        }
        if (rotation != null) {
            long turn = rotation.nextSlot(core.number, request);
            if (turn >= horizon - slotCycles) {
                return;
            }
            slotEnd[core.number] = turn + slotCycles;
            countAccess(core, turn - request);
        } else if (chooser != null) {
            requestAt[core.number] = request;
            chip.requestCycles[core.number] = request;
        } else {
            return;
        }
        core.accessAddress = address;
        core.nextPc = core.pc + 1;
        core.nextInShared = false;
        core.schedule(Due.NOTHING, NEVER);
    }

    private void finishAccess(Core core, long t) {
        clear.access(core, Word.op(core.word), t);
        core.instructions++;
        core.pc++;
        runAhead(core, t);
    }

    private void countAccess(Core core, long wait) {
        core.spend(State.WAIT, wait);
        core.spend(State.SLOT, slotCycles);
        chip.addBusy(slotCycles);
        if (wait >= WAITS) {
            core.countAccesses(core.pc, wait, 1);
            return;
        }
        long[] counts = waits[core.number][core.pc];
        if (counts == null) {
            counts = new long[rotation != null ? Math.min(WAITS, chip.design.rotationCycles()) : WAITS];
            waits[core.number][core.pc] = counts;
        }
        counts[(int) wait]++;
    }

    /** Adds the accesses of the fast kind to the cores' own counts. */
    private void addWaits() {
        for (Core core : cores) {
            long[][] byAddress = waits[core.number];
            for (int address = 0; address < byAddress.length; address++) {
                long[] counts = byAddress[address];
                for (int wait = 0; counts != null && wait < counts.length; wait++) {
                    if (counts[wait] != 0) {
                        core.countAccesses(address, wait, counts[wait]);
                        counts[wait] = 0;
                    }
                }
            }
        }
    }

    // ---- private work ----

    /**
     * Does instructions from cycle t on that nobody else can see or reach, and settles when the core is due next: at the
     * first instruction that is none of these, or at the end of an access.
     */
    private void runAhead(Core core, long t) {
        core.schedule(Due.BEGIN, t);
        if (core.pcInShared) {
            return;
        }
        if (core.state != State.WORK) {
            core.enter(State.WORK, t);
        }
        final int[] r = core.registers;
        final int[] ram = core.ram;
        final long[] known = decoded[core.number];
        final int plain = this.plain;
        final long safe = horizon - longest;
        long time = t;
        long done = 0;
        int pc = core.pc;
        int w = 0;
        int op = EVENT;
        ahead:
        while (time <= safe && pc >= 0 && pc < ram.length) {
            w = ram[pc];
            long decode = known[pc];
            if ((int) decode != w) {
                decode = decode(w);
                known[pc] = decode;
            }
            op = (int) (decode >>> 32);
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
                }
                case Codes.AGAIN -> {
                    int left = --r[w >>> 22 & 15];
                    if (left != 0) {
                        next = pc + (w << 10 >> 10);
                        time += taken - plain;
                    }
                }
                case Codes.READ -> r[w >>> 22 & 15] = (w & 15) == Codes.TIME ? (int) time : core.number;
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
        core.schedule(Due.BEGIN, time);
        if (op >= Codes.FETCH && op <= Codes.BUMP && time <= safe) {
            startAccess(core, w, time);
        }
    }

    /** What runAhead does with this word: its operation, with {@link #CONSTANT} where b is one; or {@link #EVENT}. */
    private static long decode(int word) {
        int kind = EVENT;
        if (Word.isInstruction(word)) {
            int op = Word.op(word);
            kind = switch (op) {
                case Codes.SET, Codes.UPPER, Codes.JUMP, Codes.CALL, Codes.NEAR, Codes.AGAIN -> op;
                case Codes.FETCH, Codes.POST, Codes.SWAP, Codes.BUMP -> op;
                case Codes.FAR, Codes.WRITE, Codes.AWAIT, Codes.START, Codes.STOP, Codes.HALT -> EVENT;
                case Codes.READ -> Word.low(word) == Codes.TIME || Word.low(word) == Codes.CORE ? op : EVENT;
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
