package octurn.machine;

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

    private long busyCycles;
    private long busySince;

    /** The present cycle. */
    long cycle;
    /** The next cycle at which something happens; the first that the engine has not opened yet. */
    long nextCycle;

    @Nullable
    End ended;

    /** A chip with empty memories and all cores idle, before cycle 0. */
    public Chip(Design design, Scenario scenario) {
        this.design = design;
        this.scenario = scenario;
        this.cores = new Core[design.cores()];
        for (int i = 0; i < cores.length; i++) {
            cores[i] = new Core(i, design.privateWords());
        }
        this.shared = new int[design.sharedWords()];
        this.pins = new Pins(scenario, design.pinMask(), cores.length);
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

    void hold(long from) {
        if (holders++ == 0) {
            busySince = from;
        }
    }

    void release(long to) {
        if (--holders == 0) {
            busyCycles += to - busySince;
        }
    }

    /** A copy of all of this, to come back to. */
    public Saved save() {
        Chip copy = new Chip(design, scenario);
        copy.copyFrom(this);
        return new Saved(copy);
    }

    /**
     * Makes the chip again what it was when this was saved.
     *
     * @throws IllegalArgumentException if it was saved from a chip of another design
     */
    public void restore(Saved saved) {
        if (!saved.chip.design.equals(design)) {
            throw new IllegalArgumentException("saved from a chip of another design: " + saved.chip.design.name());
        }
        copyFrom(saved.chip);
    }

    private void copyFrom(Chip other) {
        for (int i = 0; i < cores.length; i++) {
            cores[i].copyFrom(other.cores[i]);
        }
        System.arraycopy(other.shared, 0, shared, 0, shared.length);
        pins.copyFrom(other.pins);
        arbiterMemory.copyFrom(other.arbiterMemory);
        System.arraycopy(other.requestCycles, 0, requestCycles, 0, requestCycles.length);
        requests = other.requests;
        holders = other.holders;
        busyCycles = other.busyCycles;
        busySince = other.busySince;
        cycle = other.cycle;
        nextCycle = other.nextCycle;
        ended = other.ended;
    }

    /** A chip at one moment, kept. */
    public static final class Saved {
        private final Chip chip;

        private Saved(Chip chip) {
            this.chip = chip;
        }

        /** The cycle at which it was saved. */
        public long cycle() {
            return chip.cycle;
        }
    }
}
