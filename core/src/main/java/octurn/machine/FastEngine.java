package octurn.machine;

import java.util.ArrayList;
import java.util.List;
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
 *   <li>An access is one step. Under rotation and own-port its turn is known when it is reached; under the policies that
 *       choose it is settled when the memory is given away ({@link Schedule}). Wait and slot are counted at once.
 *   <li>Busy code is translated to Java bytecode ({@link Translator}), which goes from access to access and from core to
 *       core.
 *   <li>Where all that the cores do comes again and again with the same times, one round of it is translated as a whole
 *       ({@link ChipLoops}): nobody asks, waits or is chosen any more.
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

    private final Chip chip;
    private final Core[] cores;
    private final ClearEngine clear;
    private final long limit;
    private final @Nullable Rotation rotation;
    private final @Nullable Chooser chooser;
    private final PrivateWork[] work;
    private final Accesses[] accesses;
    private final Schedule schedule;
    /** For tests, too. */
    final ChipLoops loops;

    /** No core runs ahead to this cycle or past it. */
    private long horizon;
    /** Where a core is about to start a {@code stop}, or NEVER. */
    private long stopAt;

    /**
     * @param limit the cycle at which the run ends at the latest
     */
    public FastEngine(Chip chip, long limit) {
        this(chip, limit, PrivateWork.HOT);
    }

    /**
     * @param hot how many instructions of busy code are done before it is translated
     */
    FastEngine(Chip chip, long limit, int hot) {
        Design design = chip.design;
        this.chip = chip;
        this.cores = chip.cores;
        this.limit = limit;
        this.clear = new ClearEngine(chip, limit, null);
        this.rotation = clear.rotation;
        this.chooser = clear.chooser;
        this.work = new PrivateWork[cores.length];
        this.accesses = new Accesses[cores.length];
        this.schedule = new Schedule(chip, chooser, work);
        List<Translation> translations = new ArrayList<>();
        for (Core core : cores) {
            accesses[core.number] = new Accesses(chip, core, rotation);
            work[core.number] =
                    new PrivateWork(core, design.cost(), accesses[core.number], schedule, translations, hot);
        }
        this.loops = new ChipLoops(chip, clear, schedule, work, hot);
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
        long memoryFree = 0;
        for (Core core : cores) {
            work[core.number].recheck();
            accesses[core.number].setHorizon(to);
            if (core.state.isAdmitted()) {
                memoryFree = core.dueCycle;
            }
        }
        schedule.begin(memoryFree, to);
        loops.begin(chip.cycle);
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
            endAccesses(others);
            next = Math.min(nextOther(), schedule.nextCycle());
            chip.nextCycle = next;
        }
        handOver(to);
        addWaits();
    }

    /** Leaves the requests that were not admitted to the clear engine. */
    private void handOver(long to) {
        for (int rest = schedule.takeBack(); rest != 0; rest &= rest - 1) {
            Core core = cores[Integer.numberOfTrailingZeros(rest)];
            long request = chip.requestCycles[core.number];
            accesses[core.number].settle();
            if (request < to) {
                clear.request(core, State.WAIT, request);
            } else {
                core.schedule(Due.REQUEST, request);
            }
            chip.nextCycle = Math.min(chip.nextCycle, core.dueCycle);
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
            } else if (schedule.takeAt(t, core)) {
                endAccess(work[core.number]);
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

    /**
     * Ends the accesses that end, or under the policies that choose are admitted, before anything else is due. What comes
     * in the same cycle is left to {@link #open}, for the order.
     */
    private void endAccesses(long others) {
        long from = schedule.nextCycle();
        boolean early = from < loops.next();
        schedule.open(early ? Math.min(others, loops.next()) : others);
        PrivateWork next = schedule.next();
        if (next != null && !early && loops.fitsIn(from, others)) {
            next = goOn(loops.go(next, horizon));
            schedule.open(Math.min(schedule.close(), loops.next()));
        }
        while (next != null || schedule.hasLeft()) {
            next = next != null ? endAccess(next) : admitLeft();
        }
        schedule.close();
    }

    /** The access of this core takes effect, and it goes on, perhaps others after it; who is next. */
    private @Nullable PrivateWork endAccess(PrivateWork mine) {
        if (mine.canResume()) {
            return goOn(mine.resume(schedule.end, horizon));
        }
        mine.accesses.end(clear, schedule.end);
        return goOn(mine, schedule.end);
    }

    /** {@link Schedule#current} is about to start an instruction, or with a time below 0 is next; who is next. */
    private @Nullable PrivateWork goOn(long time) {
        PrivateWork current = schedule.current;
        return time < 0 || current == null ? current : goOn(current, time);
    }

    /** A core is about to start an instruction after an access; who is next. */
    private @Nullable PrivateWork goOn(PrivateWork mine, long time) {
        long until = schedule.close();
        long next = mine.run(time, horizon);
        if (next >= 0) {
            mine.core.schedule(Due.BEGIN, next);
            until = Math.min(until, next);
        }
        schedule.open(until);
        return schedule.next();
    }

    /** Admits a core that was chosen for something other than an access in one step; who is next. */
    private @Nullable PrivateWork admitLeft() {
        Core core = cores[schedule.takeLeft()];
        if (schedule.takeBack(core.number)) {
            accesses[core.number].settle();
            clear.request(core, State.WAIT, chip.requestCycles[core.number]);
        }
        chip.requests &= ~(1 << core.number);
        clear.admit(core, schedule.admission());
        schedule.open(Math.min(schedule.close(), core.dueCycle));
        return schedule.next();
    }

    /** Adds the accesses counted so far to the cores' own figures. */
    private void addWaits() {
        for (Accesses counted : accesses) {
            counted.addUp();
        }
    }

    // ---- running ahead ----

    /**
     * Lets the core do what nobody else can see or reach, from cycle t on, and settles when it is due next: at the first
     * instruction that is more than that, or at the end of an access.
     */
    private void runAhead(Core core, long t) {
        if (!core.pcInShared) {
            if (core.state != State.WORK) {
                core.enter(State.WORK, t);
            }
            long next = work[core.number].run(t, horizon);
            if (next < 0) {
                core.schedule(Due.NOTHING, NEVER);
            } else {
                core.schedule(Due.BEGIN, next);
            }
        }
    }
}
