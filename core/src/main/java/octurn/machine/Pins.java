package octurn.machine;

import octurn.design.Input;
import octurn.design.Scenario;

/**
 * The outside lines: what drives them, their levels, and where outputs fight.
 *
 * <p>Levels hold from one {@link #update} to the next; the engine calls it at each cycle at which something that they
 * depend on may have changed.
 */
final class Pins {

    /** Inputs by place in the scenario; what they do is part of the run, not of the state. */
    private final Input[] inputs;

    private final long[] nextInput;
    /** Pins that the outside gives a level, and those levels. */
    private int given;

    private int givenLevels;
    /** Levels that a person set by hand, which go before the scenario's: which pins, and what. */
    private int forced;

    private int forcedLevels;

    private int levels;
    private int clashes;
    /** A latch, a mask or a tally that may put out pulses has changed since the last update. */
    boolean changed;

    private long nextPulse = Core.NEVER;
    private long nextOutside = Core.NEVER;

    private long updated;
    private long clashCycles;
    private final long[] clashCyclesByCore;
    /** Cores that drive a pin with a clash, bit i for core i. */
    private int clashing;

    Pins(Scenario scenario, int pinMask, int cores) {
        this.inputs = scenario.inputs().stream()
                .filter(input -> (pinMask >>> input.pin() & 1) != 0)
                .toArray(Input[]::new);
        this.nextInput = new long[inputs.length];
        this.clashCyclesByCore = new long[cores];
        this.changed = true;
        this.nextOutside = inputs.length == 0 ? Core.NEVER : 0;
    }

    /** A copy. */
    Pins(Pins other) {
        this.inputs = other.inputs;
        this.nextInput = new long[inputs.length];
        this.clashCyclesByCore = new long[other.clashCyclesByCore.length];
        copyFrom(other);
    }

    /** The level of every pin, bit i for pin i. */
    int levels() {
        return levels;
    }

    /** The pins at which driving values, or a driving value and the outside, differ. */
    int clashes() {
        return clashes;
    }

    /** What the outside gives: the pins. */
    int given() {
        return (given & ~forced) | forced;
    }

    /** What the outside gives: their levels. */
    int givenLevels() {
        return (givenLevels & ~forced) | (forcedLevels & forced);
    }

    /** The next cycle at which levels may change with no core doing anything. */
    long nextChange() {
        return Math.min(nextPulse, nextOutside);
    }

    /** Whether what the scenario gives changes at a later cycle than that of the last update. */
    boolean outsideWillChange() {
        return nextOutside != Core.NEVER;
    }

    long clashCycles(long cycle) {
        return clashCycles + (clashes != 0 ? cycle - updated : 0);
    }

    long clashCycles(int core, long cycle) {
        return clashCyclesByCore[core] + ((clashing >>> core & 1) != 0 ? cycle - updated : 0);
    }

    /** Whether there is anything to do at this cycle. */
    boolean isDue(long cycle) {
        return changed || nextPulse <= cycle || nextOutside <= cycle;
    }

    /** Takes the levels, and all that depends on them, to this cycle. Returns whether any level changed. */
    boolean update(long cycle, Core[] cores) {
        account(cycle, cores.length);
        readOutside(cycle);
        int high = 0;
        int low = 0;
        nextPulse = Core.NEVER;
        for (Core core : cores) {
            if (core.drive != 0) {
                int value = core.out | pulses(core, cycle);
                high |= core.drive & value;
                low |= core.drive & ~value;
            }
        }
        int before = levels;
        int driven = high | low;
        levels = high | (~driven & givenLevels() & given());
        clashes = (high & low) | (driven & given() & (levels ^ givenLevels()));
        clashing = 0;
        for (Core core : cores) {
            if ((core.drive & clashes) != 0) {
                clashing |= 1 << core.number;
            }
        }
        changed = false;
        int flipped = before ^ levels;
        if (flipped != 0) {
            tellTallies(cycle, cores, flipped, before);
        }
        return flipped != 0;
    }

    private void account(long cycle, int cores) {
        long gone = cycle - updated;
        updated = cycle;
        if (clashes != 0) {
            clashCycles += gone;
            for (int core = 0; core < cores; core++) {
                if ((clashing >>> core & 1) != 0) {
                    clashCyclesByCore[core] += gone;
                }
            }
        }
    }

    private void readOutside(long cycle) {
        if (nextOutside > cycle) {
            return;
        }
        nextOutside = Core.NEVER;
        for (int i = 0; i < inputs.length; i++) {
            if (nextInput[i] <= cycle) {
                int bit = 1 << inputs[i].pin();
                int now = inputs[i].at(cycle);
                given = now == Input.NOTHING ? given & ~bit : given | bit;
                givenLevels = now == 1 ? givenLevels | bit : givenLevels & ~bit;
                nextInput[i] = inputs[i].nextChange(cycle);
            }
            nextOutside = Math.min(nextOutside, nextInput[i]);
        }
    }

    private int pulses(Core core, long cycle) {
        int pulses = 0;
        for (TallyUnit tally : core.tallies) {
            if (tally.mode == TallyUnit.PULSE && (core.drive >>> tally.pin & 1) != 0) {
                if (tally.putsOut(cycle)) {
                    pulses |= 1 << tally.pin;
                }
                nextPulse = Math.min(nextPulse, tally.nextPulseChange(cycle));
            }
        }
        return pulses;
    }

    private static void tellTallies(long cycle, Core[] cores, int flipped, int before) {
        for (Core core : cores) {
            for (TallyUnit tally : core.tallies) {
                if (tally.mode >= TallyUnit.RISING && tally.mode <= TallyUnit.LOW && (flipped >>> tally.pin & 1) != 0) {
                    tally.settle(cycle, before);
                    tally.pinChanged((before >>> tally.pin & 1) == 0, cycle);
                }
            }
        }
    }

    void copyFrom(Pins other) {
        System.arraycopy(other.nextInput, 0, nextInput, 0, nextInput.length);
        given = other.given;
        givenLevels = other.givenLevels;
        forced = other.forced;
        forcedLevels = other.forcedLevels;
        levels = other.levels;
        clashes = other.clashes;
        changed = other.changed;
        nextPulse = other.nextPulse;
        nextOutside = other.nextOutside;
        updated = other.updated;
        clashCycles = other.clashCycles;
        System.arraycopy(other.clashCyclesByCore, 0, clashCyclesByCore, 0, clashCyclesByCore.length);
        clashing = other.clashing;
    }

    /** Lets a person give a pin a level from outside, or with {@link Input#NOTHING} leaves it to the scenario again. */
    void force(int pin, int level) {
        int bit = 1 << pin;
        forced = level == Input.NOTHING ? forced & ~bit : forced | bit;
        forcedLevels = level == 1 ? forcedLevels | bit : forcedLevels & ~bit;
        changed = true;
    }
}
