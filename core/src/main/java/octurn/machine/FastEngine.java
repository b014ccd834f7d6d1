package octurn.machine;

import java.util.Arrays;
import octurn.arbiter.Chooser;
import octurn.arbiter.Rotation;
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
    private final PrivateWork[] work;
    private final Rotation.Cursor[] cursors;

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
        this.chip = chip;
        this.cores = chip.cores;
        this.limit = limit;
        this.clear = new ClearEngine(chip, limit, null);
        this.rotation = clear.rotation;
        this.chooser = clear.chooser;
        this.slotCycles = design.slotCycles();
        this.plain = design.cost().plain();
        this.work = new PrivateWork[cores.length];
        for (Core core : cores) {
            work[core.number] = new PrivateWork(core, design.cost());
        }
        this.cursors = new Rotation.Cursor[rotation == null ? 0 : cores.length];
        for (int i = 0; rotation != null && i < cores.length; i++) {
            cursors[i] = rotation.cursor(i);
        }
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
            work[core.number].recheck();
            if (core.state.isAdmitted()) {
                memoryFree = core.dueCycle;
            }
        }
        long next = chip.nextCycle;
        while (next < to && stopAt == NEVER) {
            chip.moveTo(next);
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
                work[core.number].recheck();
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

    /** An access that the core starts at t: seen through to its turn, unless the horizon is too near. */
    private void startAccess(Core core, int word, long t) {
        long request = t + plain;
        if (request + slotCycles >= horizon) {
            return;
        }
        int address =
                Word.hasConstant(word) ? core.registers[Word.ra(word)] + Word.constant(word) : Word.absolute(word);
        if (address < 0 || address >= chip.shared.length) {
            return;
        }
        if (rotation != null) {
            long turn = cursors[core.number].next(request);
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
        core.word = word;
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

    /** Counts an access; what follows from it is added up later by {@link #addWaits}. */
    private void countAccess(Core core, long wait) {
        if (wait >= WAITS) {
            addAccesses(core, core.pc, wait, 1);
            return;
        }
        long[] counts = waits[core.number][core.pc];
        if (counts == null) {
            counts = new long[rotation != null ? Math.min(WAITS, chip.design.rotationCycles()) : WAITS];
            waits[core.number][core.pc] = counts;
        }
        counts[(int) wait]++;
    }

    /** Adds the accesses counted so far to the cores' own figures. */
    private void addWaits() {
        for (Core core : cores) {
            long[][] byAddress = waits[core.number];
            for (int address = 0; address < byAddress.length; address++) {
                long[] counts = byAddress[address];
                for (int wait = 0; counts != null && wait < counts.length; wait++) {
                    if (counts[wait] != 0) {
                        addAccesses(core, address, wait, counts[wait]);
                        counts[wait] = 0;
                    }
                }
            }
        }
    }

    private void addAccesses(Core core, int address, long wait, long times) {
        core.countAccesses(address, wait, times);
        core.spend(State.WAIT, wait * times);
        core.spend(State.SLOT, slotCycles * times);
        chip.addBusy(slotCycles * times);
    }

    // ---- running ahead ----

    /**
     * Lets the core do what nobody else can see or reach, from cycle t on, and settles when it is due next: at the first
     * instruction that is more than that, or at the end of an access.
     */
    private void runAhead(Core core, long t) {
        core.schedule(Due.BEGIN, t);
        if (!core.pcInShared) {
            if (core.state != State.WORK) {
                core.enter(State.WORK, t);
            }
            long time = work[core.number].run(t, horizon);
            core.dueCycle = time;
            if (work[core.number].isAtAccess()) {
                startAccess(core, core.ram[core.pc], time);
            }
        }
    }
}
