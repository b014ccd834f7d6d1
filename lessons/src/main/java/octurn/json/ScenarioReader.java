package octurn.json;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalLong;
import octurn.design.Design;
import octurn.design.Input;
import octurn.design.Scenario;
import org.jspecify.annotations.Nullable;

/** Reads scenario files ({@code *.scenario.json}). */
public final class ScenarioReader {

    private static final List<String> FIELDS = List.of("limit", "inputs");
    private static final List<String> WAYS = List.of("changes", "square", "serial");
    private static final List<String> INPUT_FIELDS = List.of("pin", "changes", "square", "serial");
    private static final List<String> CHANGE_FIELDS = List.of("at", "level");
    private static final List<String> SQUARE_FIELDS = List.of("from", "period", "high", "until");
    private static final List<String> SERIAL_FIELDS = List.of("from", "cyclesPerBit", "text");
    private static final long MOST_CYCLES_PER_BIT = 1_000_000_000;

    private final Design design;
    private final Problems problems;
    private final Map<Long, String> pathByPin = new HashMap<>();

    private ScenarioReader(Design design, Problems problems) {
        this.design = design;
        this.problems = problems;
    }

    /**
     * Reads one scenario.
     *
     * @param file the file's name, for the messages
     * @param utf8 its bytes
     * @param design whose pins the scenario is about
     * @return the scenario, or all that is wrong with the file
     */
    public static Reading<Scenario> read(String file, byte[] utf8, Design design) {
        return Document.read(
                file, utf8, "a scenario", (root, problems) -> new ScenarioReader(design, problems).scenario(root));
    }

    private @Nullable Scenario scenario(JsonValue root) {
        Fields fields = Fields.of(root, "", FIELDS, problems);
        if (fields == null) {
            return null;
        }
        Long limit = fields.whole("limit", 1, Input.MAX_CYCLE);
        List<Input> inputs = new ArrayList<>();
        JsonValue value = fields.value("inputs");
        List<JsonValue> items = value == null ? null : Fields.items(value, "inputs", "one object a pin", problems);
        for (int i = 0; items != null && i < items.size(); i++) {
            Input input = input(items.get(i), "inputs[%d]".formatted(i));
            if (input != null) {
                inputs.add(input);
            }
        }
        return problems.anyError()
                ? null
                : new Scenario(limit == null ? OptionalLong.empty() : OptionalLong.of(limit), inputs);
    }

    private @Nullable Input input(JsonValue value, String path) {
        Fields fields = Fields.of(value, path, INPUT_FIELDS, problems);
        if (fields == null) {
            return null;
        }
        Long pin = pin(fields);
        List<String> given = fields.given(WAYS);
        if (given.isEmpty()) {
            fields.wrong(
                    "%s: nothing says what the pin does".formatted(path),
                    "allowed: exactly one of changes, square, serial");
            return null;
        }
        for (String extra : given.subList(1, given.size())) {
            String message = "%s: the pin has %s already".formatted(fields.path(extra), given.get(0));
            fields.misplaced(extra, message, "allowed: exactly one of changes, square, serial");
        }
        // All of them are read, so that all mistakes are found; the first is taken.
        Input input = null;
        int number = pin == null ? 0 : pin.intValue();
        for (String way : given) {
            JsonValue what = fields.value(way);
            if (what != null) {
                Input read = switch (way) {
                    case "changes" -> changes(what, fields.path(way), number);
                    case "square" -> square(what, fields.path(way), number);
                    default -> serial(what, fields.path(way), number);
                };
                input = input == null ? read : input;
            }
        }
        return pin == null ? null : input;
    }

    private @Nullable Long pin(Fields fields) {
        String path = fields.path("pin");
        if (design.pins() == 0) {
            fields.wrong("%s: the design has no pins".formatted(path), "give the design pins, or leave this input out");
            return null;
        }
        Long pin = fields.requiredWhole("pin", 0, design.pins() - 1L);
        if (pin != null) {
            String before = pathByPin.putIfAbsent(pin, path);
            if (before != null) {
                String message = "%s: pin %d is given twice".formatted(path, pin);
                fields.misplaced("pin", message, "each pin at most once; it stands in %s already".formatted(before));
                return null;
            }
        }
        return pin;
    }

    private @Nullable Input changes(JsonValue value, String path, int pin) {
        List<JsonValue> items = Fields.items(value, path, "objects with at and level", problems);
        if (items == null) {
            return null;
        }
        List<Input.Change> changes = new ArrayList<>();
        long last = -1;
        boolean right = true;
        for (int i = 0; i < items.size(); i++) {
            String itemPath = "%s[%d]".formatted(path, i);
            Fields fields = Fields.of(items.get(i), itemPath, CHANGE_FIELDS, problems);
            Long at = fields == null ? null : fields.requiredWhole("at", 0, Input.MAX_CYCLE);
            Long level = fields == null ? null : fields.requiredWhole("level", 0, 1);
            if (fields != null && at != null && at <= last) {
                String message = "%s: %d is not above %d, the cycle before it".formatted(fields.path("at"), at, last);
                problems.error(
                        value(fields, "at"),
                        message,
                        "cycles ascend; allowed: " + Fields.range(last + 1, Input.MAX_CYCLE));
                right = false;
            }
            if (at == null || level == null) {
                right = false;
            } else if (right) {
                changes.add(new Input.Change(at, level.intValue()));
            }
            last = at == null ? last : Math.max(last, at);
        }
        return right ? new Input.Changes(pin, changes) : null;
    }

    private @Nullable Input square(JsonValue value, String path, int pin) {
        Fields fields = Fields.of(value, path, SQUARE_FIELDS, problems);
        if (fields == null) {
            return null;
        }
        Long from = fields.requiredWhole("from", 0, Input.MAX_CYCLE);
        Long period = fields.requiredWhole("period", 1, Input.MAX_CYCLE);
        Long high = fields.requiredWhole("high", 0, Input.MAX_CYCLE);
        Long until = fields.has("until") ? fields.whole("until", 0, Input.MAX_CYCLE) : Long.valueOf(Input.NEVER);
        if (from == null || period == null || high == null || until == null) {
            return null;
        }
        if (until <= from) {
            String message = "%s: %d is not above from, which is %d".formatted(fields.path("until"), until, from);
            problems.error(value(fields, "until"), message, "allowed: " + Fields.range(from + 1, Input.MAX_CYCLE));
            return null;
        }
        return new Input.Square(pin, from, period, high, until);
    }

    private @Nullable Input serial(JsonValue value, String path, int pin) {
        Fields fields = Fields.of(value, path, SERIAL_FIELDS, problems);
        if (fields == null) {
            return null;
        }
        Long from = fields.requiredWhole("from", 0, Input.MAX_CYCLE);
        Long cyclesPerBit = fields.requiredWhole("cyclesPerBit", 1, MOST_CYCLES_PER_BIT);
        JsonValue given = fields.required("text", "a string");
        String text = given == null ? null : Fields.text(given, fields.path("text"), "a string", problems);
        return from == null || cyclesPerBit == null || text == null
                ? null
                : new Input.Serial(pin, from, cyclesPerBit, text);
    }

    /** The value of a field that was read before, so it is there. */
    private static JsonValue value(Fields fields, String name) {
        JsonValue value = fields.value(name);
        if (value == null) {
            throw new IllegalStateException(fields.path(name));
        }
        return value;
    }
}
