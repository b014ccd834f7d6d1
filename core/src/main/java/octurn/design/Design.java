package octurn.design;

import java.util.HashSet;
import java.util.List;
import java.util.Objects;
import java.util.function.UnaryOperator;
import java.util.stream.IntStream;

/**
 * A chip's design: everything that a design file can say.
 *
 * @param name 1..60 printable characters
 * @param cores how many, 1..32
 * @param privateWords words of private RAM a core, 16..65536
 * @param sharedWords words of shared memory, 16..131072
 * @param slotCycles cycles that an access holds the memory, 1..64
 * @param admission who is admitted, and when
 * @param cost what instructions cost
 * @param pins outside lines, 0..32
 * @param clock how long a cycle is
 */
public record Design(
        String name,
        int cores,
        int privateWords,
        int sharedWords,
        int slotCycles,
        Admission admission,
        Cost cost,
        int pins,
        Clock clock) {

    /** The name of a design that gives none. */
    public static final String DEFAULT_NAME = "eight in turn";

    /** The design of an empty design file: eight cores in plain rotation. */
    public static final Design DEFAULT = new Design(
            DEFAULT_NAME,
            Field.CORES.standard(),
            Field.PRIVATE_WORDS.standard(),
            Field.SHARED_WORDS.standard(),
            Field.SLOT_CYCLES.standard(),
            new Admission.Rotation(plainOrder(Field.CORES.standard())),
            Cost.DEFAULT,
            Field.PINS.standard(),
            Clock.DEFAULT);

    /**
     * Checks the fields against their ranges and each other.
     *
     * @throws IllegalArgumentException with the field's name, its value and what is allowed
     */
    public Design {
        Objects.requireNonNull(admission);
        Objects.requireNonNull(cost);
        Objects.requireNonNull(clock);
        checkName(name);
        Field.CORES.check(cores);
        Field.PRIVATE_WORDS.check(privateWords);
        Field.SHARED_WORDS.check(sharedWords);
        Field.SLOT_CYCLES.check(slotCycles);
        Field.PINS.check(pins);
        if (admission instanceof Admission.Rotation rotation) {
            checkCores(rotation.order(), cores);
        } else if (admission instanceof Admission.Priority priority) {
            checkCores(priority.order(), cores);
            if (priority.order().size() != cores || new HashSet<>(priority.order()).size() != cores) {
                throw new IllegalArgumentException("admission.order: under priority every core once");
            }
        } else if (admission instanceof Admission.Lottery lottery) {
            if (lottery.weights().size() != cores) {
                throw new IllegalArgumentException("admission.weights: %d of them, not one for each of %d cores"
                        .formatted(lottery.weights().size(), cores));
            }
            for (int weight : lottery.weights()) {
                if (weight < 1 || weight > 1000) {
                    throw new IllegalArgumentException("admission.weights: %d, not 1..1000".formatted(weight));
                }
            }
        }
    }

    /** The numbers 0 .. cores-1: the order of a design that gives none. */
    public static List<Integer> plainOrder(int cores) {
        return IntStream.range(0, cores).boxed().toList();
    }

    /** The weights of a lottery that gives none: 1 for each core. */
    public static List<Integer> plainWeights(int cores) {
        return IntStream.range(0, cores).map(core -> 1).boxed().toList();
    }

    /**
     * Cycles until the same slot comes round: slot x length of the order under {@code rotation}, slot x cores under
     * other policies. This is the constant {@code rotation} of a program.
     */
    public int rotationCycles() {
        int slots = admission instanceof Admission.Rotation rotation
                ? rotation.order().size()
                : cores;
        return slotCycles * slots;
    }

    /** The mask of the pins that exist: bit i is 1 for pin i. */
    public int pinMask() {
        return pins == 32 ? -1 : (1 << pins) - 1;
    }

    /** Cores that the rotation's order leaves out, ascending: they are never admitted. Empty under other policies. */
    public List<Integer> coresWithoutSlot() {
        return admission instanceof Admission.Rotation rotation
                ? plainOrder(cores).stream()
                        .filter(core -> !rotation.order().contains(core))
                        .toList()
                : List.of();
    }

    /** This design under another name. */
    public Design withName(String newName) {
        return new Design(newName, cores, privateWords, sharedWords, slotCycles, admission, cost, pins, clock);
    }

    /**
     * This design with another policy.
     *
     * @throws IllegalArgumentException if its order or weights do not go with the cores
     */
    public Design withAdmission(Admission newAdmission) {
        return new Design(name, cores, privateWords, sharedWords, slotCycles, newAdmission, cost, pins, clock);
    }

    /** This design with another kind of clock source. */
    public Design withClockSource(Clock.Source source) {
        return withClock(before -> new Clock(source, before.hertz(), before.multiplier(), before.tolerancePpm()));
    }

    Design withCores(int newCores) {
        return new Design(
                name,
                newCores,
                privateWords,
                sharedWords,
                slotCycles,
                admission.forCores(cores, newCores),
                cost,
                pins,
                clock);
    }

    Design withParts(int newPrivateWords, int newSharedWords, int newSlotCycles, int newPins) {
        return new Design(name, cores, newPrivateWords, newSharedWords, newSlotCycles, admission, cost, newPins, clock);
    }

    Design withCost(UnaryOperator<Cost> change) {
        return new Design(
                name, cores, privateWords, sharedWords, slotCycles, admission, change.apply(cost), pins, clock);
    }

    Design withClock(UnaryOperator<Clock> change) {
        return new Design(
                name, cores, privateWords, sharedWords, slotCycles, admission, cost, pins, change.apply(clock));
    }

    private static void checkName(String name) {
        int length = name.codePointCount(0, name.length());
        if (length < 1 || length > 60 || name.codePoints().anyMatch(c -> !isPrintable(c))) {
            throw new IllegalArgumentException("name: not 1..60 printable characters");
        }
    }

    /** Whether a character may stand in a name: no control, format, surrogate or line separator characters. */
    public static boolean isPrintable(int codePoint) {
        return switch (Character.getType(codePoint)) {
            case Character.CONTROL,
                    Character.FORMAT,
                    Character.SURROGATE,
                    Character.PRIVATE_USE,
                    Character.UNASSIGNED,
                    Character.LINE_SEPARATOR,
                    Character.PARAGRAPH_SEPARATOR -> false;
            default -> true;
        };
    }

    private static void checkCores(List<Integer> order, int cores) {
        for (int core : order) {
            if (core < 0 || core >= cores) {
                throw new IllegalArgumentException("admission.order: %d, not 0..%d".formatted(core, cores - 1));
            }
        }
    }
}
