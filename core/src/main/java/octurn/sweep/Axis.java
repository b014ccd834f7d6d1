package octurn.sweep;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.function.Function;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import octurn.design.Admission;
import octurn.design.Clock;
import octurn.design.Design;
import octurn.design.Field;
import octurn.diag.Nearest;
import org.jspecify.annotations.Nullable;

/**
 * What is varied, and over which values: a field of the design, or else a constant of the program.
 *
 * @param name the field's path in a design file, as {@code cost.plain}, or the constant's name
 * @param values as they were written, a range by each of its values; none comes twice
 * @param kind what the name stands for
 */
public record Axis(String name, List<String> values, Kind kind) {

    /** What a name can stand for. */
    public enum Kind {
        /** A whole-number field of the design. */
        FIELD,
        POLICY,
        ORDER,
        WEIGHTS,
        SEED,
        CLOCK_SOURCE,
        /** A constant of the program. */
        CONSTANT;

        /** Whether the values are numbers, so that they can be drawn along a line. */
        public boolean isNumber() {
            return this == FIELD || this == SEED || this == CONSTANT;
        }
    }

    /** More values than any grid may have points. */
    public static final int MOST_VALUES = Grid.MOST_POINTS;

    private static final Pattern NAME = Pattern.compile("[A-Za-z_][A-Za-z0-9_.]{0,63}");
    private static final Pattern RANGE =
            Pattern.compile("(-?[0-9]{1,18})\\.\\.(-?[0-9]{1,18})(?:([+*])([0-9]{1,18}))?");
    private static final Pattern NUMBER = Pattern.compile("-?[0-9]{1,18}");

    public Axis {
        values = List.copyOf(values);
    }

    /**
     * Reads {@code NAME=VALUES}: values with commas between, each a number, a range {@code 1..8}, in steps
     * {@code 0..64+8} or by a factor {@code 1..32*2}; for {@code admission.order} and {@code admission.weights} numbers
     * with colons between; for {@code admission.policy} and {@code clock.source} words.
     *
     * @throws IllegalArgumentException with what is wrong and what would be right
     */
    public static Axis parse(String text) {
        int equals = text.indexOf('=');
        if (equals < 0) {
            throw new IllegalArgumentException("\"%s\" has no =; right would be slotCycles=1..8".formatted(text));
        }
        String name = text.substring(0, equals).strip();
        if (!NAME.matcher(name).matches()) {
            throw new IllegalArgumentException(
                    "\"%s\" is neither a field of a design nor the name of a constant".formatted(name));
        }
        Kind kind = kind(name);
        if (kind == Kind.CONSTANT && name.contains(".")) {
            String nearest = Nearest.of(name, fields());
            throw new IllegalArgumentException("there is no field %s%s"
                    .formatted(name, nearest == null ? "" : " (did you mean %s?)".formatted(nearest)));
        }
        LinkedHashSet<String> values = new LinkedHashSet<>();
        for (String part : text.substring(equals + 1).split(",", -1)) {
            for (String value : values(name, kind, part.strip())) {
                if (!values.add(value)) {
                    throw new IllegalArgumentException("%s: the value %s comes twice".formatted(name, value));
                }
            }
        }
        return new Axis(name, List.copyOf(values), kind);
    }

    private static Kind kind(String name) {
        return switch (name) {
            case "admission.policy" -> Kind.POLICY;
            case "admission.order" -> Kind.ORDER;
            case "admission.weights" -> Kind.WEIGHTS;
            case "admission.seed" -> Kind.SEED;
            case "clock.source" -> Kind.CLOCK_SOURCE;
            default -> field(name) == null ? Kind.CONSTANT : Kind.FIELD;
        };
    }

    private static @Nullable Field field(String name) {
        return Arrays.stream(Field.values())
                .filter(field -> field.path().equals(name))
                .findFirst()
                .orElse(null);
    }

    /** The names of all fields that can be varied. */
    public static List<String> fields() {
        List<String> names = new ArrayList<>();
        for (Field field : Field.values()) {
            names.add(field.path());
        }
        names.addAll(
                List.of("admission.policy", "admission.order", "admission.weights", "admission.seed", "clock.source"));
        return names;
    }

    // ---- reading values

    private static List<String> values(String name, Kind kind, String part) {
        return switch (kind) {
            case POLICY -> word(name, part, Admission.POLICIES);
            case CLOCK_SOURCE ->
                word(
                        name,
                        part,
                        Arrays.stream(Clock.Source.values())
                                .map(Clock.Source::text)
                                .toList());
            case ORDER, WEIGHTS -> {
                if (!part.matches("[0-9]{1,4}(:[0-9]{1,4}){0,255}")) {
                    throw new IllegalArgumentException(
                            "%s: \"%s\" is no list of numbers; right would be 0:1:0:2".formatted(name, part));
                }
                yield List.of(part);
            }
            case FIELD, SEED, CONSTANT -> numbers(name, kind, part);
        };
    }

    private static List<String> word(String name, String part, List<String> words) {
        if (!words.contains(part)) {
            throw new IllegalArgumentException(
                    "%s: there is no \"%s\"; there are %s".formatted(name, part, String.join(", ", words)));
        }
        return List.of(part);
    }

    private static List<String> numbers(String name, Kind kind, String part) {
        List<Long> numbers = new ArrayList<>();
        Matcher range = RANGE.matcher(part);
        if (range.matches()) {
            range(name, part, range, numbers);
        } else if (NUMBER.matcher(part).matches()) {
            numbers.add(Long.parseLong(part));
        } else {
            throw new IllegalArgumentException(
                    "%s: \"%s\" is no whole number and no range; right would be 1..8, 0..64+8, 1..32*2 or 2,4,8"
                            .formatted(name, part));
        }
        List<String> values = new ArrayList<>();
        for (long number : numbers) {
            checkRange(name, kind, number);
            values.add(Long.toString(number));
        }
        return values;
    }

    private static void range(String name, String part, Matcher range, List<Long> numbers) {
        long from = Long.parseLong(range.group(1));
        long to = Long.parseLong(range.group(2));
        boolean times = "*".equals(range.group(3));
        long step = range.group(4) == null ? 1 : Long.parseLong(range.group(4));
        if (from > to) {
            throw new IllegalArgumentException("%s: the range %s is empty".formatted(name, part));
        }
        if (step < (times ? 2 : 1) || (times && from < 1)) {
            throw new IllegalArgumentException("%s: the range %s would never end".formatted(name, part));
        }
        for (long number = from; number <= to; number = times ? number * step : number + step) {
            if (numbers.size() == MOST_VALUES) {
                throw new IllegalArgumentException(
                        "%s: the range %s has more than %,d values".formatted(name, part, MOST_VALUES));
            }
            numbers.add(number);
            if (times && number > to / step) {
                break;
            }
        }
    }

    private static void checkRange(String name, Kind kind, long number) {
        Field field = field(name);
        long least = kind == Kind.SEED ? 1 : field == null ? Long.MIN_VALUE : field.min();
        long most = kind == Kind.SEED ? 0xFFFF_FFFFL : field == null ? Long.MAX_VALUE : field.max();
        if (number < least || number > most) {
            throw new IllegalArgumentException("%s: %d is not in %d..%d".formatted(name, number, least, most));
        }
    }

    // ---- using them

    /**
     * This design with one of the values.
     *
     * @throws IllegalArgumentException if the value does not go with the rest of the design
     */
    Design with(Design design, String value) {
        return switch (kind) {
            case CONSTANT -> design;
            case FIELD -> {
                Field field = field(name);
                yield field == null ? design : field.with(design, Integer.parseInt(value));
            }
            case POLICY -> design.withAdmission(Admission.plain(value, design.cores()));
            case ORDER -> order(design, numbers(value));
            case WEIGHTS -> lottery(design, lottery -> new Admission.Lottery(numbers(value), lottery.seed()));
            case SEED -> lottery(design, lottery -> new Admission.Lottery(lottery.weights(), Long.parseLong(value)));
            case CLOCK_SOURCE -> design.withClockSource(source(value));
        };
    }

    private static Design order(Design design, List<Integer> order) {
        if (design.admission() instanceof Admission.Rotation) {
            return design.withAdmission(new Admission.Rotation(order));
        }
        if (design.admission() instanceof Admission.Priority) {
            return design.withAdmission(new Admission.Priority(order));
        }
        throw new IllegalArgumentException("admission.order: the policy %s has none"
                .formatted(design.admission().policy()));
    }

    private static Design lottery(Design design, Function<Admission.Lottery, Admission> change) {
        if (design.admission() instanceof Admission.Lottery lottery) {
            return design.withAdmission(change.apply(lottery));
        }
        throw new IllegalArgumentException("admission.policy: %s has no weights and no seed"
                .formatted(design.admission().policy()));
    }

    private static List<Integer> numbers(String value) {
        return Arrays.stream(value.split(":")).map(Integer::valueOf).toList();
    }

    private static Clock.Source source(String value) {
        return Arrays.stream(Clock.Source.values())
                .filter(source -> source.text().equals(value))
                .findFirst()
                .orElseThrow();
    }
}
