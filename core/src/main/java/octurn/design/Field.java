package octurn.design;

import java.util.function.ToIntFunction;

/**
 * The whole-number fields of a design, once, with their ranges and defaults. Files, messages and sweeps over designs
 * all read this table. (The fields that are not plain numbers are {@code name}, {@code admission} and
 * {@code clock.source}.)
 */
public enum Field {
    CORES("cores", 1, 32, 8, Design::cores),
    PRIVATE_WORDS("privateWords", 16, 65536, 1024, Design::privateWords),
    SHARED_WORDS("sharedWords", 16, 131072, 16384, Design::sharedWords),
    SLOT_CYCLES("slotCycles", 1, 64, 3, Design::slotCycles),
    COST_PLAIN("cost.plain", 1, 64, 1, design -> design.cost().plain()),
    COST_PRIVATE("cost.private", 1, 64, 2, design -> design.cost().privateAccess()),
    COST_TAKEN("cost.taken", 1, 64, 2, design -> design.cost().taken()),
    COST_MULTIPLY("cost.multiply", 1, 64, 4, design -> design.cost().multiply()),
    COST_DIVIDE("cost.divide", 1, 64, 16, design -> design.cost().divide()),
    PINS("pins", 0, 32, 16, Design::pins),
    CLOCK_HERTZ(
            "clock.hertz", 1, 1_000_000_000, 6_000_000, design -> design.clock().hertz()),
    CLOCK_MULTIPLIER("clock.multiplier", 1, 64, 8, design -> design.clock().multiplier()),
    CLOCK_TOLERANCE(
            "clock.tolerancePpm", 0, 500_000, 50, design -> design.clock().tolerancePpm());

    private final String path;
    private final int min;
    private final int max;
    private final int standard;
    private final ToIntFunction<Design> get;

    Field(String path, int min, int max, int standard, ToIntFunction<Design> get) {
        this.path = path;
        this.min = min;
        this.max = max;
        this.standard = standard;
        this.get = get;
    }

    /** Its place in a design file, as in {@code cost.plain}. */
    public String path() {
        return path;
    }

    /** The least it may be. */
    public int min() {
        return min;
    }

    /** The most it may be. */
    public int max() {
        return max;
    }

    /** What it is in a design file that leaves it out. */
    public int standard() {
        return standard;
    }

    /** Its value in a design. */
    public int of(Design design) {
        return get.applyAsInt(design);
    }

    /**
     * The value, if it is in range.
     *
     * @throws IllegalArgumentException otherwise, with name, value and range
     */
    int check(int value) {
        if (value < min || value > max) {
            throw new IllegalArgumentException("%s: %d, not %d..%d".formatted(path, value, min, max));
        }
        return value;
    }
}
