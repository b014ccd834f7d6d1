package octurn.design;

import java.util.function.ToIntFunction;

/**
 * The whole-number fields of a design, once, with their ranges and defaults. Files, messages and sweeps over designs
 * all read this table. (The fields that are not plain numbers are {@code name}, {@code admission} and
 * {@code clock.source}.)
 */
public enum Field {
    CORES("cores", 1, 32, 8, Design::cores, Design::withCores),
    PRIVATE_WORDS(
            "privateWords",
            16,
            65536,
            1024,
            Design::privateWords,
            (design, words) -> design.withParts(words, design.sharedWords(), design.slotCycles(), design.pins())),
    SHARED_WORDS(
            "sharedWords",
            16,
            131072,
            16384,
            Design::sharedWords,
            (design, words) -> design.withParts(design.privateWords(), words, design.slotCycles(), design.pins())),
    SLOT_CYCLES(
            "slotCycles",
            1,
            64,
            3,
            Design::slotCycles,
            (design, cycles) -> design.withParts(design.privateWords(), design.sharedWords(), cycles, design.pins())),
    COST_PLAIN(
            "cost.plain",
            1,
            64,
            1,
            design -> design.cost().plain(),
            (design, cycles) -> design.withCost(
                    cost -> new Cost(cycles, cost.privateAccess(), cost.taken(), cost.multiply(), cost.divide()))),
    COST_PRIVATE(
            "cost.private",
            1,
            64,
            2,
            design -> design.cost().privateAccess(),
            (design, cycles) -> design.withCost(
                    cost -> new Cost(cost.plain(), cycles, cost.taken(), cost.multiply(), cost.divide()))),
    COST_TAKEN(
            "cost.taken",
            1,
            64,
            2,
            design -> design.cost().taken(),
            (design, cycles) -> design.withCost(
                    cost -> new Cost(cost.plain(), cost.privateAccess(), cycles, cost.multiply(), cost.divide()))),
    COST_MULTIPLY(
            "cost.multiply",
            1,
            64,
            4,
            design -> design.cost().multiply(),
            (design, cycles) -> design.withCost(
                    cost -> new Cost(cost.plain(), cost.privateAccess(), cost.taken(), cycles, cost.divide()))),
    COST_DIVIDE(
            "cost.divide",
            1,
            64,
            16,
            design -> design.cost().divide(),
            (design, cycles) -> design.withCost(
                    cost -> new Cost(cost.plain(), cost.privateAccess(), cost.taken(), cost.multiply(), cycles))),
    PINS(
            "pins",
            0,
            32,
            16,
            Design::pins,
            (design, pins) -> design.withParts(design.privateWords(), design.sharedWords(), design.slotCycles(), pins)),
    CLOCK_HERTZ(
            "clock.hertz",
            1,
            1_000_000_000,
            6_000_000,
            design -> design.clock().hertz(),
            (design, hertz) -> design.withClock(
                    clock -> new Clock(clock.source(), hertz, clock.multiplier(), clock.tolerancePpm()))),
    CLOCK_MULTIPLIER(
            "clock.multiplier",
            1,
            64,
            8,
            design -> design.clock().multiplier(),
            (design, factor) ->
                    design.withClock(clock -> new Clock(clock.source(), clock.hertz(), factor, clock.tolerancePpm()))),
    CLOCK_TOLERANCE(
            "clock.tolerancePpm",
            0,
            500_000,
            50,
            design -> design.clock().tolerancePpm(),
            (design, ppm) ->
                    design.withClock(clock -> new Clock(clock.source(), clock.hertz(), clock.multiplier(), ppm)));

    /** Makes another design with one field changed. */
    @FunctionalInterface
    private interface Setter {
        Design with(Design design, int value);
    }

    private final String path;
    private final int min;
    private final int max;
    private final int standard;
    private final ToIntFunction<Design> get;
    private final Setter set;

    Field(String path, int min, int max, int standard, ToIntFunction<Design> get, Setter set) {
        this.path = path;
        this.min = min;
        this.max = max;
        this.standard = standard;
        this.get = get;
        this.set = set;
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
     * This design with another value for the field. Other cores bring with them a plain order, or weights of 1, if those
     * of the design are plain.
     *
     * @throws IllegalArgumentException if the value is out of range, or does not go with the rest of the design
     */
    public Design with(Design design, int value) {
        return set.with(design, check(value));
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
