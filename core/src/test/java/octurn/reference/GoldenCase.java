package octurn.reference;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.OptionalLong;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.function.Supplier;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.asm.Program;
import octurn.design.Admission;
import octurn.design.Clock;
import octurn.design.Cost;
import octurn.design.Design;
import octurn.design.Input;
import octurn.design.Scenario;
import octurn.machine.End;
import octurn.machine.Fault;
import octurn.machine.State;
import octurn.report.RunReport;

/**
 * One of the cases in {@code octurn/cases}: a program, its design and scenario, and the report that two models of the
 * chip, written independently of each other and of this project, agree on.
 *
 * @param name the number in the files' names
 * @param program assembled
 * @param report as expected; without private words, which the files do not hold, and without messages of faults
 * @param exit the exit status of the run
 */
record GoldenCase(String name, Program program, Scenario scenario, RunReport report, int exit) {

    private static final int CASES = 58;

    static Stream<String> names() {
        return IntStream.rangeClosed(1, CASES).mapToObj("%02d"::formatted);
    }

    static GoldenCase read(String name) {
        Design design = design(Json.object(text(name + ".design.json")));
        Map<String, Object> report = Json.object(text(name + ".report.json"));
        Assembly assembly =
                Assembler.assemble(name + ".turn", text(name + ".turn").getBytes(StandardCharsets.UTF_8), design);
        if (!(assembly instanceof Assembly.Assembled assembled)) {
            throw new AssertionError(assembly);
        }
        return new GoldenCase(
                name,
                assembled.program(),
                scenario(Json.object(text(name + ".scenario.json"))),
                report(report),
                Math.toIntExact((Long) report.get("exit")));
    }

    /** The program's text. */
    static String text(String file) {
        try (InputStream in = GoldenCase.class.getResourceAsStream("/octurn/cases/" + file)) {
            return new String(Objects.requireNonNull(in, file).readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** A report as the cases compare it: the project's own messages, and what the files leave out, taken away. */
    static RunReport comparable(RunReport report, boolean withPrivate) {
        return new RunReport(
                report.program(),
                report.design(),
                report.cycles(),
                report.ended(),
                report.cores().stream()
                        .map(core -> new RunReport.CoreReport(
                                core.core(),
                                core.state(),
                                core.pc(),
                                core.pcInShared(),
                                core.registers(),
                                core.instructions(),
                                new EnumMap<>(core.states()),
                                core.accesses(),
                                core.waits(),
                                core.turnsOffered(),
                                core.turnsUsed(),
                                core.clashes(),
                                withoutMessage(core.fault()),
                                withPrivate ? core.privateWords() : new TreeMap<>()))
                        .toList(),
                report.hotSpots(),
                report.busyCycles(),
                report.clashCycles(),
                report.shared());
    }

    /** The two are equal; if they are not, the fields that differ are told. */
    static void assertSame(RunReport actual, RunReport expected, Supplier<String> what) {
        if (!actual.equals(expected)) {
            assertThat(actual).as(what).usingRecursiveComparison().isEqualTo(expected);
            // The reports differ where the comparison by fields does not look.
            assertThat(actual).as(what).isEqualTo(expected);
        }
    }

    private static RunReport.FaultReport withoutMessage(RunReport.FaultReport fault) {
        return fault == null
                ? null
                : new RunReport.FaultReport(
                        fault.kind(), fault.cycle(), fault.address(), fault.inShared(), fault.line(), "");
    }

    /** A design file, with the defaults of the fields it leaves out. */
    static Design design(Map<String, Object> fields) {
        int cores = number(fields, "cores", 8);
        Map<String, Object> admission = map(fields, "admission");
        Map<String, Object> cost = map(fields, "cost");
        Map<String, Object> clock = map(fields, "clock");
        return new Design(
                (String) fields.getOrDefault("name", Design.DEFAULT_NAME),
                cores,
                number(fields, "privateWords", 1024),
                number(fields, "sharedWords", 16384),
                number(fields, "slotCycles", 3),
                admission(admission, cores),
                new Cost(
                        number(cost, "plain", 1),
                        number(cost, "private", 2),
                        number(cost, "taken", 2),
                        number(cost, "multiply", 4),
                        number(cost, "divide", 16)),
                number(fields, "pins", 16),
                new Clock(
                        clock.getOrDefault("source", "crystal").equals("crystal")
                                ? Clock.Source.CRYSTAL
                                : Clock.Source.INTERNAL,
                        number(clock, "hertz", 6000000),
                        number(clock, "multiplier", 8),
                        number(clock, "tolerancePpm", 50)));
    }

    private static Admission admission(Map<String, Object> fields, int cores) {
        List<Integer> order = fields.containsKey("order") ? numbers(fields, "order") : Design.plainOrder(cores);
        return switch ((String) fields.getOrDefault("policy", "rotation")) {
            case "rotation" -> new Admission.Rotation(order);
            case "next-waiting" -> new Admission.NextWaiting();
            case "priority" -> new Admission.Priority(order);
            case "first-come" -> new Admission.FirstCome();
            case "lottery" ->
                new Admission.Lottery(
                        fields.containsKey("weights") ? numbers(fields, "weights") : Design.plainWeights(cores),
                        (Long) fields.getOrDefault("seed", Admission.Lottery.DEFAULT_SEED));
            case "own-port" -> new Admission.OwnPort();
            default -> throw new AssertionError(fields);
        };
    }

    static Scenario scenario(Map<String, Object> fields) {
        Long limit = (Long) fields.get("limit");
        List<Input> inputs = new ArrayList<>();
        for (Map<String, Object> input : maps(fields, "inputs")) {
            int pin = number(input, "pin", -1);
            if (input.containsKey("changes")) {
                inputs.add(new Input.Changes(
                        pin,
                        maps(input, "changes").stream()
                                .map(change -> new Input.Change((Long) change.get("at"), number(change, "level", -1)))
                                .toList()));
            } else if (input.containsKey("square")) {
                Map<String, Object> square = map(input, "square");
                inputs.add(new Input.Square(
                        pin, (Long) square.get("from"), (Long) square.get("period"), (Long) square.get("high"), (Long)
                                square.getOrDefault("until", Input.NEVER)));
            } else {
                Map<String, Object> serial = map(input, "serial");
                inputs.add(new Input.Serial(pin, (Long) serial.get("from"), (Long) serial.get("cyclesPerBit"), (String)
                        serial.get("text")));
            }
        }
        return new Scenario(limit == null ? OptionalLong.empty() : OptionalLong.of(limit), inputs);
    }

    private static RunReport report(Map<String, Object> fields) {
        return new RunReport(
                (String) fields.get("program"),
                design(map(fields, "design")),
                (Long) fields.get("cycles"),
                named(End.values(), End::text, fields.get("ended")),
                maps(fields, "cores").stream().map(GoldenCase::core).toList(),
                maps(fields, "hotSpots").stream()
                        .map(spot -> new RunReport.HotSpot(
                                number(spot, "core", -1),
                                spot.get("in").equals("shared"),
                                number(spot, "address", -1),
                                spot.get("line") == null ? 0 : number(spot, "line", -1),
                                (Long) spot.get("count"),
                                (Long) spot.get("total"),
                                (Long) spot.get("min"),
                                (Long) spot.get("max")))
                        .toList(),
                (Long) map(fields, "memory").get("busyCycles"),
                (Long) map(fields, "pins").get("clashCycles"),
                words(map(fields, "shared")));
    }

    private static RunReport.CoreReport core(Map<String, Object> fields) {
        Map<State, Long> states = new EnumMap<>(State.class);
        map(fields, "states")
                .forEach((name, count) -> states.put(named(State.values(), State::text, name), (Long) count));
        Map<String, Object> waits = map(fields, "waits");
        SortedMap<Long, Long> histogram = new TreeMap<>();
        map(waits, "histogram").forEach((wait, count) -> histogram.put(Long.valueOf(wait), (Long) count));
        Map<String, Object> turns = map(fields, "turns");
        Map<String, Object> fault = map(fields, "fault");
        return new RunReport.CoreReport(
                number(fields, "core", -1),
                named(State.values(), State::text, fields.get("state")),
                number(fields, "pc", -1),
                fields.get("pcIn").equals("shared"),
                numbers(fields, "registers"),
                (Long) fields.get("instructions"),
                states,
                (Long) fields.get("accesses"),
                new RunReport.Waits((Long) waits.get("total"), orNone(waits, "min"), orNone(waits, "max"), histogram),
                orNone(turns, "offered"),
                orNone(turns, "used"),
                (Long) fields.get("clashes"),
                fault.isEmpty()
                        ? null
                        : new RunReport.FaultReport(
                                named(Fault.Kind.values(), Fault.Kind::text, fault.get("kind")),
                                (Long) fault.get("cycle"),
                                number(fault, "address", -1),
                                fault.get("in").equals("shared"),
                                fault.get("line") == null ? 0 : number(fault, "line", -1),
                                ""),
                new TreeMap<>());
    }

    private static long orNone(Map<String, Object> fields, String name) {
        return fields.get(name) == null ? -1 : (Long) fields.get(name);
    }

    private static SortedMap<Integer, Integer> words(Map<String, Object> fields) {
        SortedMap<Integer, Integer> words = new TreeMap<>();
        fields.forEach((address, value) -> words.put(Integer.valueOf(address), ((Long) value).intValue()));
        return words;
    }

    /** An unsigned 32-bit number comes as the int of the same bits. */
    private static int number(Map<String, Object> fields, String name, int standard) {
        Object value = fields.get(name);
        return value == null ? standard : ((Long) value).intValue();
    }

    private static List<Integer> numbers(Map<String, Object> fields, String name) {
        return ((List<?>) fields.get(name))
                .stream().map(value -> ((Long) value).intValue()).toList();
    }

    @SuppressWarnings("unchecked")
    private static Map<String, Object> map(Map<String, Object> fields, String name) {
        Object value = fields.get(name);
        return value == null ? Map.of() : (Map<String, Object>) value;
    }

    @SuppressWarnings("unchecked")
    private static List<Map<String, Object>> maps(Map<String, Object> fields, String name) {
        Object value = fields.get(name);
        return value == null ? List.of() : (List<Map<String, Object>>) value;
    }

    private static <T> T named(T[] values, Function<T, String> text, Object name) {
        return Stream.of(values)
                .filter(value -> text.apply(value).equals(name))
                .findFirst()
                .orElseThrow(() -> new AssertionError(name));
    }
}
