package octurn.json;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.BitSet;
import java.util.List;
import java.util.stream.Collectors;
import octurn.design.Admission;
import octurn.design.Clock;
import octurn.design.Cost;
import octurn.design.Design;
import octurn.design.Field;
import octurn.diag.Nearest;
import org.jspecify.annotations.Nullable;

/** Reads design files ({@code *.design.json}). */
public final class DesignReader {

    private static final List<String> FIELDS =
            List.of("name", "cores", "privateWords", "sharedWords", "slotCycles", "admission", "cost", "pins", "clock");
    private static final List<String> ADMISSION_FIELDS = List.of("policy", "order", "weights", "seed");
    private static final List<String> COST_FIELDS = List.of("plain", "private", "taken", "multiply", "divide");
    private static final List<String> CLOCK_FIELDS = List.of("source", "hertz", "multiplier", "tolerancePpm");
    private static final List<String> POLICIES =
            List.of("rotation", "next-waiting", "priority", "first-come", "lottery", "own-port");
    private static final List<String> CLOCK_SOURCES =
            Arrays.stream(Clock.Source.values()).map(Clock.Source::text).toList();

    private static final int LONGEST_NAME = 60;
    private static final String NAME_RANGE = "1..60 printable characters";

    private final Problems problems;

    /** The design's cores; if the file gives a wrong number, the most there can be. */
    private int cores;

    private DesignReader(Problems problems) {
        this.problems = problems;
    }

    /**
     * Reads one design. Every field may be left out and then has its default.
     *
     * @param file the file's name, for the messages
     * @param utf8 its bytes
     * @return the design, or all that is wrong with the file
     */
    public static Reading<Design> read(String file, byte[] utf8) {
        return Document.read(file, utf8, "a design", (root, problems) -> new DesignReader(problems).design(root));
    }

    private @Nullable Design design(JsonValue root) {
        Fields fields = Fields.of(root, "", FIELDS, problems);
        if (fields == null) {
            return null;
        }
        String name = name(fields);
        Integer given = whole(fields, Field.CORES);
        boolean coresWrong = given == null && fields.has("cores");
        cores = given != null ? given : coresWrong ? Field.CORES.max() : Field.CORES.standard();
        int privateWords = wholeOrStandard(fields, Field.PRIVATE_WORDS);
        int sharedWords = wholeOrStandard(fields, Field.SHARED_WORDS);
        int slotCycles = wholeOrStandard(fields, Field.SLOT_CYCLES);
        Admission admission = admission(fields, coresWrong);
        Cost cost = cost(fields);
        int pins = wholeOrStandard(fields, Field.PINS);
        Clock clock = clock(fields);
        return problems.anyError()
                ? null
                : new Design(name, cores, privateWords, sharedWords, slotCycles, admission, cost, pins, clock);
    }

    private String name(Fields fields) {
        JsonValue value = fields.value("name");
        String name = value == null ? null : Fields.text(value, "name", NAME_RANGE, problems);
        if (value == null || name == null) {
            return Design.DEFAULT_NAME;
        }
        int length = name.codePointCount(0, name.length());
        if (length < 1 || length > LONGEST_NAME) {
            String message = "name: %d characters are not in 1..%d".formatted(length, LONGEST_NAME);
            problems.error(value, message, "allowed: " + NAME_RANGE);
        }
        name.codePoints().filter(c -> !Design.isPrintable(c)).findFirst().ifPresent(c -> {
            String message = "name: the character U+%04X is not printable".formatted(c);
            problems.error(value, message, "allowed: " + NAME_RANGE);
        });
        return name;
    }

    private Admission admission(Fields design, boolean coresWrong) {
        Admission standard = new Admission.Rotation(Design.plainOrder(cores));
        Fields fields = inner(design, "admission", ADMISSION_FIELDS);
        if (fields == null) {
            return standard;
        }
        String policy = choice(fields, "policy", POLICIES, "rotation");
        if (policy == null) {
            return standard;
        }
        allow(fields, "order", policy, "rotation", "priority");
        allow(fields, "weights", policy, "lottery");
        allow(fields, "seed", policy, "lottery");
        return switch (policy) {
            case "next-waiting" -> new Admission.NextWaiting();
            case "priority" -> priority(fields, coresWrong);
            case "first-come" -> new Admission.FirstCome();
            case "lottery" -> lottery(fields, coresWrong);
            case "own-port" -> new Admission.OwnPort();
            default -> rotation(fields, coresWrong);
        };
    }

    /** Notes a field that the policy has no use for. */
    private static void allow(Fields fields, String name, String policy, String... policies) {
        if (!List.of(policies).contains(policy)) {
            String under = String.join(" and ", policies);
            String message = "%s: not allowed under the policy %s".formatted(fields.path(name), policy);
            fields.misplaced(name, message, "allowed under %s alone".formatted(under));
        }
    }

    private Admission rotation(Fields fields, boolean coresWrong) {
        String allowed = "1..%d core numbers, each in 0..%d".formatted(MOST_SLOTS, cores - 1);
        JsonValue value = fields.value("order");
        List<Integer> order = numbers(value, fields.path("order"), 0, cores - 1, allowed);
        if (value == null || order == null) {
            return new Admission.Rotation(Design.plainOrder(cores));
        }
        if (order.isEmpty() || order.size() > MOST_SLOTS) {
            String message = "admission.order: %d entries are not in 1..%d".formatted(order.size(), MOST_SLOTS);
            problems.error(value, message, "allowed: " + allowed);
            return new Admission.Rotation(Design.plainOrder(cores));
        }
        List<Integer> missing = missing(order);
        if (!missing.isEmpty() && !coresWrong) {
            String message = missing.size() == 1
                    ? "admission.order: core %s has no slot, so it is never admitted".formatted(listed(missing))
                    : "admission.order: cores %s have no slot, so they are never admitted".formatted(listed(missing));
            problems.warning(value, message, null);
        }
        return new Admission.Rotation(order);
    }

    private Admission priority(Fields fields, boolean coresWrong) {
        String allowed = "every core 0..%d once".formatted(cores - 1);
        JsonValue value = fields.value("order");
        List<Integer> order = numbers(value, fields.path("order"), 0, cores - 1, allowed);
        if (value == null || order == null) {
            return new Admission.Priority(Design.plainOrder(cores));
        }
        BitSet seen = new BitSet();
        List<JsonValue> items = ((JsonValue.Arr) value).items();
        for (int i = 0; i < items.size(); i++) {
            if (seen.get(order.get(i))) {
                String message = "admission.order[%d]: core %d stands in it already".formatted(i, order.get(i));
                problems.error(items.get(i), message, "allowed: " + allowed);
            }
            seen.set(order.get(i));
        }
        List<Integer> missing = missing(order);
        if (!missing.isEmpty() && !coresWrong) {
            String message = missing.size() == 1
                    ? "admission.order: core %s is missing".formatted(listed(missing))
                    : "admission.order: cores %s are missing".formatted(listed(missing));
            problems.error(value, message, "allowed: " + allowed);
        }
        return new Admission.Priority(order);
    }

    private Admission lottery(Fields fields, boolean coresWrong) {
        String allowed = "one number 1..1000 for each of the %d cores".formatted(cores);
        JsonValue value = fields.value("weights");
        List<Integer> weights = numbers(value, fields.path("weights"), 1, MOST_WEIGHT, allowed);
        if (value != null && weights != null && weights.size() != cores && !coresWrong) {
            String message = "admission.weights: %d weights for %d cores".formatted(weights.size(), cores);
            problems.error(value, message, "allowed: " + allowed);
        }
        Long seed = fields.whole("seed", 1, 0xFFFF_FFFFL);
        return new Admission.Lottery(
                weights == null ? Design.plainWeights(cores) : weights,
                seed == null ? Admission.Lottery.DEFAULT_SEED : seed);
    }

    private static final int MOST_SLOTS = 256;
    private static final int MOST_WEIGHT = 1000;

    /** The numbers of an array, or null if it is left out or (noted) anything in it is wrong. */
    private @Nullable List<Integer> numbers(@Nullable JsonValue value, String path, int min, int max, String allowed) {
        List<JsonValue> items = value == null ? null : Fields.items(value, path, allowed, problems);
        if (items == null) {
            return null;
        }
        List<Integer> numbers = new ArrayList<>();
        for (int i = 0; i < items.size(); i++) {
            Long number = Fields.whole(items.get(i), "%s[%d]".formatted(path, i), min, max, problems);
            if (number != null) {
                numbers.add(number.intValue());
            }
        }
        return numbers.size() == items.size() ? numbers : null;
    }

    private List<Integer> missing(List<Integer> order) {
        BitSet given = new BitSet();
        order.forEach(given::set);
        return Design.plainOrder(cores).stream()
                .filter(core -> !given.get(core))
                .toList();
    }

    private static String listed(List<Integer> cores) {
        return cores.stream().map(Object::toString).collect(Collectors.joining(", "));
    }

    private Cost cost(Fields design) {
        Fields fields = inner(design, "cost", COST_FIELDS);
        return fields == null
                ? Cost.DEFAULT
                : new Cost(
                        wholeOrStandard(fields, Field.COST_PLAIN),
                        wholeOrStandard(fields, Field.COST_PRIVATE),
                        wholeOrStandard(fields, Field.COST_TAKEN),
                        wholeOrStandard(fields, Field.COST_MULTIPLY),
                        wholeOrStandard(fields, Field.COST_DIVIDE));
    }

    private Clock clock(Fields design) {
        Fields fields = inner(design, "clock", CLOCK_FIELDS);
        if (fields == null) {
            return Clock.DEFAULT;
        }
        String source =
                choice(fields, "source", CLOCK_SOURCES, Clock.DEFAULT.source().text());
        return new Clock(
                Clock.Source.INTERNAL.text().equals(source) ? Clock.Source.INTERNAL : Clock.Source.CRYSTAL,
                wholeOrStandard(fields, Field.CLOCK_HERTZ),
                wholeOrStandard(fields, Field.CLOCK_MULTIPLIER),
                wholeOrStandard(fields, Field.CLOCK_TOLERANCE));
    }

    /** The fields of an object inside the design, or null if it is left out or (noted) no object. */
    private @Nullable Fields inner(Fields design, String name, List<String> known) {
        JsonValue value = design.value(name);
        return value == null ? null : Fields.of(value, design.path(name), known, problems);
    }

    /** One of the words, the standard one if it is left out, or null if (noted) it is none of them. */
    private @Nullable String choice(Fields fields, String name, List<String> words, String standard) {
        JsonValue value = fields.value(name);
        if (value == null) {
            return standard;
        }
        String allowed = String.join(", ", words);
        String word = Fields.text(value, fields.path(name), allowed, problems);
        if (word == null || words.contains(word)) {
            return word;
        }
        String nearest = Nearest.of(word, words);
        String hint = (nearest == null ? "" : "did you mean \"%s\"? ".formatted(nearest)) + "allowed: " + allowed;
        problems.error(value, "%s: there is no %s".formatted(fields.path(name), JsonValue.quoted(word)), hint);
        return null;
    }

    private @Nullable Integer whole(Fields fields, Field field) {
        String name = field.path().substring(field.path().indexOf('.') + 1);
        Long number = fields.whole(name, field.min(), field.max());
        return number == null ? null : number.intValue();
    }

    private int wholeOrStandard(Fields fields, Field field) {
        Integer number = whole(fields, field);
        return number == null ? field.standard() : number;
    }
}
