package octurn.lessons;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.TreeSet;
import java.util.stream.Stream;
import octurn.diag.Nearest;
import octurn.isa.Op;
import octurn.json.Fields;
import octurn.json.JsonValue;
import octurn.json.Problems;
import octurn.lessons.text.Template;
import octurn.lessons.value.Expression;
import octurn.machine.End;
import org.jspecify.annotations.Nullable;

/** Reads the checks of a task. */
final class CheckReader {

    /** The fields of which a check has just one, which says what it is about; words only where none other is there. */
    private static final List<String> KINDS = List.of(
            "shared",
            "private",
            "register",
            "cycles",
            "waits",
            "longest-wait",
            "instructions",
            "measure",
            "serial",
            "pulse",
            "level",
            "no",
            "ends",
            "without",
            "with");

    private static final List<String> FIELDS = Stream.concat(
                    KINDS.stream(), Stream.of("core", "is", "least", "most", "words", "say"))
            .toList();
    private static final List<String> BOUNDS = List.of("least", "most", "is");
    private static final List<String> ENDS = List.of("idle", "stuck", "limit");
    private static final List<String> MNEMONICS = List.copyOf(
            new TreeSet<>(Arrays.stream(Op.values()).map(Op::mnemonic).toList()));
    private static final int MOST_WORDS = 1024;

    /** Reads the parts of a check that other steps have as well. */
    interface Parts {
        @Nullable
        Expression expression(JsonValue value, String path);

        /** The same for a place in the student's program. */
        @Nullable
        Expression place(JsonValue value, String path);

        @Nullable
        Template text(JsonValue value, String path);
    }

    private final Problems problems;
    private final Parts parts;

    CheckReader(Problems problems, Parts parts) {
        this.problems = problems;
        this.parts = parts;
    }

    @Nullable
    Check check(JsonValue value, String path) {
        Fields fields = Fields.of(value, path, FIELDS, problems);
        if (fields == null) {
            return null;
        }
        List<String> kinds = fields.given(KINDS);
        JsonValue sayValue = fields.value("say");
        Template say = sayValue == null ? null : parts.text(sayValue, fields.path("say"));
        if (kinds.isEmpty() && fields.has("words")) {
            allow(fields, "words");
            return budget(fields, "words", Check.Amount.CODE_WORDS, say);
        }
        if (kinds.isEmpty()) {
            String allowed = "exactly one of %s, words".formatted(String.join(", ", KINDS));
            fields.wrong("%s: nothing says what is checked".formatted(path), "allowed: " + allowed);
            return null;
        }
        String kind = kinds.get(0);
        return switch (kind) {
            case "shared" -> {
                allow(fields, kind, "is", "words");
                yield memoryWords(fields, kind, null, say);
            }
            case "private" -> {
                allow(fields, kind, "core", "is", "words");
                Expression core = required(fields, "core");
                yield core == null ? null : memoryWords(fields, kind, core, say);
            }
            case "register" -> {
                allow(fields, kind, "core", "is");
                yield register(fields, say);
            }
            case "cycles", "waits", "longest-wait", "instructions" -> {
                allow(fields, kind);
                Check.Amount amount = Arrays.stream(Check.Amount.values())
                        .filter(one -> one.text().equals(kind))
                        .findFirst()
                        .orElseThrow();
                yield budget(fields, kind, amount, say);
            }
            case "measure" -> {
                allow(fields, kind, "is", "least", "most");
                Expression measure = required(fields, kind);
                Check.Bounds bounds = bounds(fields);
                yield measure == null || bounds == null ? null : new Check.Measure(measure, bounds, say);
            }
            case "serial" -> {
                allow(fields, kind);
                yield serial(fields, say);
            }
            case "pulse" -> {
                allow(fields, kind);
                yield pulse(fields, say);
            }
            case "level" -> {
                allow(fields, kind);
                yield level(fields, say);
            }
            case "no" -> {
                allow(fields, kind);
                List<String> mishaps = Arrays.stream(Check.Mishap.values())
                        .map(mishap -> mishap.name().toLowerCase(Locale.ROOT))
                        .toList();
                int found = word(fields, kind, mishaps);
                yield found < 0 ? null : new Check.Never(Check.Mishap.values()[found], say);
            }
            case "ends" -> {
                allow(fields, kind);
                int found = word(fields, kind, ENDS);
                yield found < 0 ? null : new Check.Ends(End.values()[found], say);
            }
            default -> {
                allow(fields, kind);
                yield uses(fields, kind, say);
            }
        };
    }

    /** Notes the fields that do not go with this kind of check. */
    private static void allow(Fields fields, String kind, String... others) {
        List<String> allowed = List.of(others);
        for (String name : fields.given(FIELDS)) {
            if (!name.equals(kind) && !name.equals("say") && !allowed.contains(name)) {
                String beside = allowed.isEmpty() ? "" : String.join(", ", allowed) + ", ";
                fields.misplaced(
                        name,
                        "%s: not allowed beside %s".formatted(fields.path(name), kind),
                        "allowed beside it: %ssay".formatted(beside));
            }
        }
    }

    private @Nullable Expression required(Fields fields, String name) {
        JsonValue value = fields.required(name, "a number or an expression");
        return value == null ? null : parts.expression(value, fields.path(name));
    }

    private @Nullable Expression optional(Fields fields, String name) {
        JsonValue value = fields.value(name);
        return value == null ? null : parts.expression(value, fields.path(name));
    }

    private @Nullable Check memoryWords(Fields fields, String kind, @Nullable Expression core, @Nullable Template say) {
        JsonValue placeValue = fields.value(kind);
        Expression place = placeValue == null ? null : parts.place(placeValue, fields.path(kind));
        List<Expression> words = new ArrayList<>();
        JsonValue list = fields.value("words");
        if (list == null) {
            Expression is = required(fields, "is");
            if (is != null) {
                words.add(is);
            }
        } else {
            fields.misplaced("is", "%s: words are given already".formatted(fields.path("is")), "leave one out");
            List<JsonValue> items = Fields.items(list, fields.path("words"), "a number for each word", problems);
            for (int i = 0; items != null && i < items.size(); i++) {
                Expression word = parts.expression(items.get(i), "%s[%d]".formatted(fields.path("words"), i));
                if (word != null) {
                    words.add(word);
                }
            }
            if (items != null && (items.isEmpty() || items.size() > MOST_WORDS)) {
                String message = "%s: %d words are not in 1..%d";
                problems.error(list, message.formatted(fields.path("words"), items.size(), MOST_WORDS), null);
            }
        }
        return place == null ? null : new Check.MemoryWords(place, core, words, say);
    }

    private @Nullable Check register(Fields fields, @Nullable Template say) {
        JsonValue value = fields.required("register", "r0..r15");
        String name = value == null ? null : Fields.text(value, fields.path("register"), "r0..r15", problems);
        if (value != null && name != null && !name.matches("r([0-9]|1[0-5])")) {
            String message = "%s: %s is no register".formatted(fields.path("register"), value.described());
            problems.error(value, message, "allowed: r0..r15");
            name = null;
        }
        Expression core = required(fields, "core");
        Expression is = required(fields, "is");
        return name == null || core == null || is == null
                ? null
                : new Check.Register(Integer.parseInt(name.substring(1)), core, is, say);
    }

    private @Nullable Check budget(Fields fields, String kind, Check.Amount amount, @Nullable Template say) {
        boolean ofLines = amount == Check.Amount.WAITS || amount == Check.Amount.LONGEST_WAIT;
        List<String> known = new ArrayList<>(BOUNDS);
        if (amount != Check.Amount.CYCLES) {
            known.add("core");
        }
        if (ofLines) {
            known.add("line");
        }
        Fields inner = inner(fields, kind, known);
        if (inner == null) {
            return null;
        }
        Check.Bounds bounds = bounds(inner);
        Expression core = optional(inner, "core");
        JsonValue lineValue = inner.value("line");
        Expression line = lineValue == null ? null : parts.place(lineValue, inner.path("line"));
        return bounds == null ? null : new Check.Budget(amount, bounds, core, line, say);
    }

    private @Nullable Fields inner(Fields fields, String kind, List<String> known) {
        JsonValue value = fields.value(kind);
        return value == null ? null : Fields.of(value, fields.path(kind), known, problems);
    }

    /** How much something may be, or null (and noted) if that is not said. */
    private Check.@Nullable Bounds bounds(Fields fields) {
        Expression is = optional(fields, "is");
        Expression least = optional(fields, "least");
        Expression most = optional(fields, "most");
        List<String> given = fields.given(BOUNDS);
        if (given.isEmpty()) {
            fields.wrong(
                    "%s: nothing says how much it may be".formatted(fields.path("most")),
                    "allowed: least, most, or both; or is");
            return null;
        }
        if (given.contains("is") && given.size() > 1) {
            fields.misplaced(
                    "is", "%s: a bound is given already".formatted(fields.path("is")), "leave one of the two out");
        }
        return given.contains("is") ? new Check.Bounds(is, is) : new Check.Bounds(least, most);
    }

    private @Nullable Check serial(Fields fields, @Nullable Template say) {
        Fields inner = inner(fields, "serial", List.of("pin", "baud", "text"));
        if (inner == null) {
            return null;
        }
        Long pin = inner.requiredWhole("pin", 0, 31);
        Expression baud = required(inner, "baud");
        JsonValue value = inner.required("text", "a string");
        String text = value == null ? null : Fields.text(value, inner.path("text"), "a string", problems);
        return pin == null || baud == null || text == null ? null : new Check.Serial(pin.intValue(), baud, text, say);
    }

    private @Nullable Check pulse(Fields fields, @Nullable Template say) {
        Fields inner = inner(fields, "pulse", List.of("pin", "high", "period"));
        if (inner == null) {
            return null;
        }
        Long pin = inner.requiredWhole("pin", 0, 31);
        Check.Bounds high = innerBounds(inner, "high");
        Check.Bounds period = innerBounds(inner, "period");
        if (!inner.has("high") && !inner.has("period")) {
            inner.wrong("%s: neither high nor period is given".formatted(fields.path("pulse")), "give one or both");
        }
        return pin == null ? null : new Check.Pulse(pin.intValue(), high, period, say);
    }

    private Check.@Nullable Bounds innerBounds(Fields fields, String name) {
        Fields inner = inner(fields, name, BOUNDS);
        return inner == null ? null : bounds(inner);
    }

    private @Nullable Check level(Fields fields, @Nullable Template say) {
        Fields inner = inner(fields, "level", List.of("pin", "at", "is"));
        if (inner == null) {
            return null;
        }
        Long pin = inner.requiredWhole("pin", 0, 31);
        Expression at = required(inner, "at");
        Long is = inner.requiredWhole("is", 0, 1);
        return pin == null || at == null || is == null ? null : new Check.Level(pin.intValue(), at, is.intValue(), say);
    }

    /** Which of these words it is, or -1 (and noted) if none. */
    private int word(Fields fields, String name, List<String> words) {
        JsonValue value = fields.value(name);
        String allowed = String.join(", ", words);
        String word = value == null ? null : Fields.text(value, fields.path(name), allowed, problems);
        if (value == null || word == null) {
            return -1;
        }
        if (!words.contains(word)) {
            unknown(value, fields.path(name), word, words);
        }
        return words.indexOf(word);
    }

    private void unknown(JsonValue value, String path, String word, List<String> words) {
        String nearest = Nearest.of(word, words);
        problems.error(
                value,
                "%s: there is no %s".formatted(path, JsonValue.quoted(word)),
                (nearest == null ? "" : "did you mean \"%s\"? ".formatted(nearest)) + "allowed: "
                        + String.join(", ", words));
    }

    private @Nullable Check uses(Fields fields, String kind, @Nullable Template say) {
        List<String> mnemonics = new ArrayList<>();
        JsonValue value = fields.value(kind);
        List<JsonValue> items = value == null ? null : Fields.items(value, fields.path(kind), "instructions", problems);
        for (int i = 0; items != null && i < items.size(); i++) {
            String path = "%s[%d]".formatted(fields.path(kind), i);
            String word = Fields.text(items.get(i), path, "an instruction", problems);
            if (word != null && !MNEMONICS.contains(word)) {
                unknown(items.get(i), path, word, MNEMONICS);
            }
            mnemonics.add(word == null ? "" : word);
        }
        if (value != null && items != null && items.isEmpty()) {
            problems.error(value, "%s: no instruction is named".formatted(fields.path(kind)), "allowed: at least one");
        }
        return new Check.Uses(kind.equals("with"), mnemonics, say);
    }
}
