package octurn.machine;

import java.util.Objects;
import octurn.arbiter.Memory;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.design.Scenario;
import org.jspecify.annotations.Nullable;

/**
 * All that the chip is at the beginning of one cycle: cores, memories, pins, the arbiter's memory, and the counters of
 * the run so far. An {@link Engine} moves it through time; {@link #save} and {@link #restore} take it back and forth.
 *
 * <p>Before an engine has run it, a chip is at cycle 0 with no decision made; after {@code engine.runTo(t)} it is at the
 * beginning of cycle t: instructions that start at t have sampled, and an admission at t is made, but nothing of cycle t
 * is counted.
 */
public final class Chip {

    final Design design;
    final Scenario scenario;
    final Core[] cores;
    final int[] shared;
    final Pins pins;
    final Memory arbiterMemory;
    final long[] requestCycles;
    /** The cores whose requests are up under a policy that chooses, bit i for core i. */
    int requests;
    /** Cores that hold the memory; more than one under own-port alone. */
    int holders;
    /** Cores admitted in a cycle that is not over, bit i for core i: their admissions are not counted yet. */
    int admitted;

    private long busyCycles;
    private long busySince;
    /** Under own-port: no access that is counted later held the memory in a cycle before this that is not counted. */
    private long busyTo;

    /** The present cycle. */
    long cycle;
    /** The next cycle at which something happens; the first that the engine has not opened yet. */
    long nextCycle;

    @Nullable
    End ended;

    /** A chip with empty memories and all cores idle, before cycle 0. */
    public Chip(Design design, Scenario scenario) {
        this(
                design,
                scenario,
                design.privateWords(),
                design.sharedWords(),
                new Pins(scenario, design.pinMask(), design.cores()));
    }

    /** The same with memories of any size: a chip that is only kept has its memories apart, and none here. */
    private Chip(Design design, Scenario scenario, int privateWords, int sharedWords, Pins pins) {
        this.design = design;
        this.scenario = scenario;
        this.cores = new Core[design.cores()];
        for (int i = 0; i < cores.length; i++) {
            cores[i] = new Core(i, privateWords);
        }
        this.shared = new int[sharedWords];
        this.pins = pins;
        long seed = design.admission() instanceof Admission.Lottery lottery ? lottery.seed() : 1;
        this.arbiterMemory = new Memory(cores.length - 1, (int) seed);
        this.requestCycles = new long[cores.length];
    }

    /** What the chip is built like. */
    public Design design() {
        return design;
    }

    /** What the world does to its pins. */
    public Scenario scenario() {
        return scenario;
    }

    /** The present cycle: everything before it is done. */
    public long cycle() {
        return cycle;
    }

    /** Why the run ended, or null while it goes on. */
    public @Nullable End ended() {
        return ended;
    }

    /** One of its cores. */
    public Core core(int number) {
        return cores[number];
    }

    /** A shared word. */
    public int sharedWord(int address) {
        return shared[address];
    }

    /** The level of every pin in the present cycle, bit i for pin i. */
    public int pinLevels() {
        return pins.levels();
    }

    /** The pins with a clash in the present cycle. */
    public int pinClashes() {
        return pins.clashes();
    }

    /** The pins that the outside gives a level in the present cycle. */
    public int pinsGiven() {
        return pins.given();
    }

    /** The value of a core's tally 0 or 1 in the present cycle. */
    public int tally(int core, int tally) {
        return cores[core].tallies[tally].valueAt(cycle, pins.levels());
    }

    /** The core admitted last under a policy that chooses; before the first admission the highest-numbered one. */
    public int lastAdmitted() {
        return arbiterMemory.lastAdmitted;
    }

    /** Cycles so far in which at least one access held the memory. */
    public long busyCycles() {
        return busyCycles + (holders > 0 ? cycle - busySince : 0);
    }

    /** Cycles so far in which any pin had a clash. */
    public long clashCycles() {
        return pins.clashCycles(cycle);
    }

    /** Cycles so far in which a pin that this core drives had a clash. */
    public long clashCycles(int core) {
        return pins.clashCycles(core, cycle);
    }

    /** Puts words into a core's private RAM. */
    public void loadPrivate(int core, int[] words) {
        System.arraycopy(words, 0, cores[core].ram, 0, words.length);
    }

    /** Puts words into shared memory. */
    public void loadShared(int address, int[] words) {
        System.arraycopy(words, 0, shared, address, words.length);
    }

    /** Lets a core start at its private address 0 at cycle 0. Before the first cycle only. */
    public void startAtZero(int core) {
        cores[core].schedule(Core.Due.BEGIN, 0);
        cores[core].enter(State.WORK, 0);
    }

    /** Goes on to this cycle; admissions before it are counted from now on. */
    void moveTo(long later) {
        for (int rest = admitted; rest != 0; rest &= rest - 1) {
            Core core = cores[Integer.numberOfTrailingZeros(rest)];
            if (core.stateSince() < later) {
                core.countAdmission();
                admitted &= ~(1 << core.number);
            }
        }
        cycle = later;
    }

    void hold(long from) {
        if (holders++ == 0) {
            busySince = from;
        }
    }

    void release(long to) {
        if (--holders == 0) {
            busyCycles += to - busySince;
            busyTo = to;
        }
    }

    /** Whether the present cycle has been opened; it has not before an engine has run the chip. */
    boolean isOpen() {
        return nextCycle > cycle || ended != null;
    }

    /** Counts cycles in which one access held the memory that was never noted by {@link #hold}. */
    void addBusy(long cycles) {
        busyCycles += cycles;
    }

    /**
     * Counts the cycles in which an access held the memory that was never noted by {@link #hold}, while others may have
     * held it too: own-port. To be called in the order in which the accesses end.
     */
    void addBusy(long from, long to) {
        long end = holders == 0 ? to : Math.min(to, busySince);
        busyCycles += Math.max(0, end - Math.max(from, busyTo));
        busyTo = Math.max(busyTo, end);
    }

    /** Under own-port: up to which cycle {@link #addBusy(long, long)} has counted. */
    long busyTo() {
        return busyTo;
    }

    void setBusyTo(long cycle) {
        busyTo = cycle;
    }

    /** A copy of all of this, to come back to. */
    public Saved save() {
        return new Saved(this, null);
    }

    /**
     * The same, but what the memories hold unchanged since an earlier copy is shared with it: the nearer in time, the
     * smaller the copy.
     */
    public Saved save(Saved before) {
        return new Saved(this, before);
    }

    /**
     * Makes the chip again what it was when this was saved.
     *
     * @throws IllegalArgumentException if it was saved from a chip of another design
     */
    public void restore(Saved saved) {
        if (!Objects.equals(saved.rest.design, design)) {
            throw new IllegalArgumentException("saved from a chip of another design: " + saved.rest.design.name());
        }
        copyRestFrom(saved.rest);
        saved.shared.copyTo(shared);
        for (int i = 0; i < cores.length; i++) {
            saved.rams[i].copyTo(cores[i].ram);
            Pages origins = saved.origins[i];
            cores[i].copyOriginsFrom(origins);
        }
    }

    private void copyRestFrom(Chip other) {
        for (int i = 0; i < cores.length; i++) {
            cores[i].copyRestFrom(other.cores[i]);
        }
        pins.copyFrom(other.pins);
        arbiterMemory.copyFrom(other.arbiterMemory);
        System.arraycopy(other.requestCycles, 0, requestCycles, 0, requestCycles.length);
        requests = other.requests;
        holders = other.holders;
        admitted = other.admitted;
        busyCycles = other.busyCycles;
        busySince = other.busySince;
        busyTo = other.busyTo;
        cycle = other.cycle;
        nextCycle = other.nextCycle;
        ended = other.ended;
    }

    /** A chip at one moment, kept. Who keeps many can have their memory counted by {@link #keep} and {@link #letGo}. */
    public static final class Saved {
        /** About what a core takes besides its memory, and a chip besides its cores, in bytes. */
        private static final int CORE_BYTES = 1000;

        private static final int CHIP_BYTES = 1000;

        /** All but the memories. */
        private final Chip rest;

        private final Pages shared;
        private final Pages[] rams;
        private final @Nullable Pages[] origins;

        private Saved(Chip chip, @Nullable Saved before) {
            rest = new Chip(chip.design, chip.scenario, 0, 0, new Pins(chip.pins));
            rest.copyRestFrom(chip);
            shared = Pages.copyOf(chip.shared, before == null ? null : before.shared);
            rams = new Pages[chip.cores.length];
            origins = new @Nullable Pages[rams.length];
            for (int i = 0; i < rams.length; i++) {
                Core core = chip.cores[i];
                rams[i] = Pages.copyOf(core.ram, before == null ? null : before.rams[i]);
                origins[i] = core.saveOrigins(before == null ? null : before.origins[i]);
            }
        }

        /** The cycle at which it was saved. */
        public long cycle() {
            return rest.cycle;
        }

        /** Counts a keeper of this copy; returns about how many bytes more are kept in memory through it. */
        public long keep() {
            long bytes = CHIP_BYTES + (long) CORE_BYTES * rams.length + shared.keep();
            for (int i = 0; i < rams.length; i++) {
                Pages pages = origins[i];
                bytes += rams[i].keep() + (pages == null ? 0 : pages.keep());
            }
            return bytes;
        }

        /** Takes back one {@link #keep}; returns about how many bytes less are kept in memory without it. */
        public long letGo() {
            long bytes = CHIP_BYTES + (long) CORE_BYTES * rams.length + shared.letGo();
            for (int i = 0; i < rams.length; i++) {
                Pages pages = origins[i];
                bytes += rams[i].letGo() + (pages == null ? 0 : pages.letGo());
            }
            return bytes;
        }
    }
}
