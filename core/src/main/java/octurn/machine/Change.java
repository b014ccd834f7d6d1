package octurn.machine;

import octurn.design.Design;
import octurn.design.Input;

/**
 * What a person can change by hand in a run. It takes effect at the beginning of a cycle, after all that ends with the
 * cycle before and before anything starts: an instruction that starts in that cycle sees it. One that is under way keeps
 * what it settled at its start (its address, where it jumps to, what it read from a port), and takes its other operands
 * when its own effect takes place.
 */
public sealed interface Change {

    /**
     * Checks that a chip of this design has what is to be changed.
     *
     * @throws IllegalArgumentException with the number and its range if it has not
     */
    void requireFits(Design design);

    /** A register of a core gets this value. */
    record Register(int core, int register, int value) implements Change {
        @Override
        public void requireFits(Design design) {
            check("core", core, design.cores());
            check("register", register, 16);
        }
    }

    /** A word of a core's private RAM gets this value. */
    record PrivateWord(int core, int address, int value) implements Change {
        @Override
        public void requireFits(Design design) {
            check("core", core, design.cores());
            check("private address", address, design.privateWords());
        }
    }

    /** A shared word gets this value. */
    record SharedWord(int address, int value) implements Change {
        @Override
        public void requireFits(Design design) {
            check("shared address", address, design.sharedWords());
        }
    }

    /**
     * The outside gives a pin this level, whatever the scenario says; {@link Input#NOTHING} leaves it to the scenario
     * again.
     */
    record PinLevel(int pin, int level) implements Change {
        @Override
        public void requireFits(Design design) {
            check("pin", pin, design.pins());
            check("level", level - Input.NOTHING, 3);
        }
    }

    private static void check(String what, int value, int count) {
        if (value < 0 || value >= count) {
            throw new IllegalArgumentException("%s: %d, not 0..%d".formatted(what, value, count - 1));
        }
    }
}
