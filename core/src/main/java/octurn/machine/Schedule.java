package octurn.machine;

import octurn.arbiter.Chooser;
import octurn.design.Admission;
import org.jspecify.annotations.Nullable;

/**
 * Whose access takes effect next, of those that the fast engine does in one step. Under rotation and own-port it is known
 * of each when it ends; under the policies that choose, when its request is raised, and it is admitted here.
 *
 * <p>It is open up to a cycle before which nothing else is due. A translation asks it for the next core and goes on with
 * that one, if it has the same code, without coming back to the engine.
 */
final class Schedule {

    private static final int NOBODY = -1;

    private final Chip chip;
    private final @Nullable Chooser chooser;
    private final boolean ownPort;
    private final int slotCycles;
    private final PrivateWork[] work;

    /** The accesses that were asked for, by the cycle that {@link Accesses#ask} answered; those that wait apart. */
    private final Agenda agenda = new Agenda();

    /** Under the policies that choose: the cores whose requests were up at the last admission, bit i for core i. */
    private int waiting;
    /** Under the policies that choose: the first cycle at which no access holds the memory. */
    private long memoryFree;

    private long until;
    private long horizon;
    /** At which cycle the access is over of whom {@link #next} has answered: it takes effect at the end of the cycle before. */
    long end;
    /** Who comes next, or left the code: noted by a translation when it comes back. */
    @Nullable
    PrivateWork current;

    /** Under the policies that choose: who was chosen for an access that is left to the clear engine, or {@link #NOBODY}. */
    private int left = NOBODY;

    /**
     * @param work by core, to be filled in
     */
    Schedule(Chip chip, @Nullable Chooser chooser, PrivateWork[] work) {
        this.chip = chip;
        this.chooser = chooser;
        this.ownPort = chip.design.admission() instanceof Admission.OwnPort;
        this.slotCycles = chip.design.slotCycles();
        this.work = work;
    }

    /**
     * Begins anew, with nothing asked for, closed.
     *
     * @param free the first cycle in which no access that the clear engine began holds the memory
     * @param horizon no access ends at this cycle or later
     */
    void begin(long free, long horizon) {
        memoryFree = free;
        this.horizon = horizon;
        close();
    }

    /** From now on accesses that end, or are admitted, before this cycle are answered. */
    void open(long cycle) {
        until = Math.min(cycle, horizon);
    }

    /** From now on none are, though they can be asked for. Returns what it was open to. */
    long close() {
        long before = until;
        until = 0;
        return before;
    }

    /** The cycle that it is open to. */
    long until() {
        return until;
    }

    /** A core has asked for an access. */
    void add(PrivateWork asker, long asked) {
        agenda.add(-asked, asker.core.number);
    }

    /** The same as {@link #next()} after this core has asked for an access. */
    @Nullable
    PrivateWork next(PrivateWork asker, long asked) {
        agenda.add(-asked, asker.core.number);
        return next();
    }

    /** The core whose access takes effect next, at {@link #end}; null if something else comes before, or nothing. */
    @Nullable
    PrivateWork next() {
        PrivateWork found = null;
        long cycle = agenda.cycle();
        if (chooser != null) {
            found = choose(chooser);
        } else if (cycle < until) {
            end = cycle;
            found = work[agenda.core()];
            agenda.remove();
            if (ownPort) {
                chip.addBusy(cycle - slotCycles, cycle);
            }
        }
        return found;
    }

    /** Notes {@link #current}. */
    void leave(@Nullable PrivateWork work) {
        current = work;
    }

    private @Nullable PrivateWork choose(Chooser chooser) {
        long admission = nextAdmission();
        if (admission >= until) {
            return null;
        }
        while (agenda.cycle() <= admission) {
            waiting |= 1 << agenda.core();
            agenda.remove();
        }
        int core = chooser.choose(waiting | chip.requests, chip.requestCycles, chip.arbiterMemory);
        chip.arbiterMemory.lastAdmitted = core;
        memoryFree = admission + slotCycles;
        int bit = 1 << core;
        if ((waiting & bit) == 0 || memoryFree >= horizon) {
            left = core;
            return null;
        }
        waiting &= ~bit;
        PrivateWork found = work[core];
        found.accesses.count(found.core.pc, admission - chip.requestCycles[core]);
        end = memoryFree;
        return found;
    }

    private long nextAdmission() {
        if (waiting != 0) {
            return memoryFree;
        }
        long first = agenda.cycle();
        for (int rest = chip.requests; rest != 0; rest &= rest - 1) {
            first = Math.min(first, chip.requestCycles[Integer.numberOfTrailingZeros(rest)]);
        }
        return Math.max(first, memoryFree);
    }

    /** The next cycle at which something on it ends or is admitted; later than any that is simulated if there is none. */
    long nextCycle() {
        return chooser == null ? agenda.cycle() : nextAdmission();
    }

    /** Whether the access of this core ends at this cycle, rotation or own-port; it is then taken as {@link #next} does. */
    boolean takeAt(long cycle, Core core) {
        if (chooser != null || agenda.cycle() != cycle || agenda.core() != core.number) {
            return false;
        }
        open(cycle + 1);
        next();
        close();
        return true;
    }

    /** Whether a core was chosen whose access is left to the clear engine. */
    boolean hasLeft() {
        return left != NOBODY;
    }

    /** That core; it holds the memory up to {@link #memoryFree}. */
    int takeLeft() {
        int core = left;
        left = NOBODY;
        return core;
    }

    /** When the core chosen last was admitted. */
    long admission() {
        return memoryFree - slotCycles;
    }

    /** Takes all accesses away that were asked for and have not ended; returns whose they were, bit i for core i. */
    int takeBack() {
        for (; !agenda.isEmpty(); agenda.remove()) {
            waiting |= 1 << agenda.core();
        }
        agenda.clear();
        int all = waiting;
        waiting = 0;
        return all;
    }

    /** Takes one of them away. */
    boolean takeBack(int core) {
        int bit = 1 << core;
        boolean found = (waiting & bit) != 0;
        waiting &= ~bit;
        return found;
    }

    // ---- moments ----

    /** All that is kept here when this core, which is not on the agenda, goes on at this cycle. */
    Moment moment(PrivateWork current, long time) {
        long[] cycles = new long[work.length];
        int[] pcs = new int[work.length];
        int asked = agenda.copyTo(cycles);
        for (int core = 0; core < work.length; core++) {
            pcs[core] = work[core].core.pc;
            if ((waiting >>> core & 1) != 0) {
                cycles[core] = chip.requestCycles[core];
            }
        }
        return new Moment(
                current.core.number,
                time,
                asked,
                waiting,
                chip.requests,
                pcs,
                cycles,
                chooser == null ? time : memoryFree,
                chip.arbiterMemory.lastAdmitted,
                ownPort ? chip.busyTo() : time);
    }

    /**
     * Makes all as it was at this moment, but some cycles later.
     *
     * @param starved cores whose requests are older, and stay as they are
     */
    void goTo(Moment moment, long later, int starved) {
        agenda.clear();
        waiting = moment.waiting();
        work[moment.current()].goTo(moment.pcs()[moment.current()]);
        for (int rest = moment.asked() | waiting; rest != 0; rest &= rest - 1) {
            int core = Integer.numberOfTrailingZeros(rest);
            long cycle = moment.cycles()[core] + later;
            work[core].goTo(moment.pcs()[core]);
            if ((waiting >>> core & 1) == 0) {
                agenda.add(cycle, core);
            }
            if (chooser != null && (starved >>> core & 1) == 0) {
                chip.requestCycles[core] = cycle;
            }
        }
        chip.arbiterMemory.lastAdmitted = moment.lastAdmitted();
        if (chooser != null) {
            memoryFree = moment.memoryFree() + later;
        }
        if (ownPort) {
            chip.setBusyTo(moment.busyTo() + later);
        }
    }
}
