package octurn.lessons.value;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import octurn.arbiter.Rotation;
import octurn.design.Admission;
import octurn.design.Cost;
import octurn.json.Passage;
import octurn.machine.State;
import octurn.measure.Spread;
import octurn.report.RunReport;
import octurn.signal.Pulses;
import octurn.signal.Statistics;
import octurn.signal.Waveform;
import octurn.trace.Kind;

/**
 * All that can be asked of a run, in one table: by what one has in hand and the name that follows the point, what one
 * has then. A path ends at a number; that of a {@link Spread} is its total.
 */
final class Measures {

    private static final Map<Class<?>, Map<String, List<Member>>> TABLE = new LinkedHashMap<>();
    private static final List<String> EVENTS = List.of("request", "admit", "begin", "finish");
    private static final List<String> COSTS = List.of("plain", "private", "taken", "multiply", "divide");

    private Measures() {}

    /** What stands between the brackets of a part. */
    enum Argument {
        /** An expression. */
        NUMBER,
        /** A label plus and minus numbers, or an expression. */
        LABEL,
        /** One of a few words. */
        WORD,
        /** A register as it is called in programs, or an expression. */
        REGISTER
    }

    /** One row: {@code leadsTo} is {@code Double} where it is a number. */
    record Member(String name, List<Argument> arguments, Class<?> leadsTo, Getter getter) {}

    /** A part of a path, and the row that it stands for. */
    record Step(Node.Part part, Member member) {}

    /** Goes on from what one has in hand. */
    @FunctionalInterface
    interface Getter {
        Object get(Object subject, Arguments arguments) throws Unresolved;
    }

    /** The same where it is known what one has in hand. */
    @FunctionalInterface
    private interface Get<S> {
        Object get(S subject, Arguments arguments) throws Unresolved;
    }

    /** The arguments of a part, by their places, and its run. */
    interface Arguments {
        Measured run();

        long whole(int i, long least, long most) throws Unresolved;

        /** One of these words. */
        String word(int i, List<String> words) throws Unresolved;

        int register(int i) throws Unresolved;

        int address(int i, int core) throws Unresolved;

        List<Integer> lines(int i, int core) throws Unresolved;

        /** The value of a constant of the program. */
        double constant(int i) throws Unresolved;

        /** What is thrown because of something about the whole part. */
        Unresolved wrong(String message);
    }

    /** One core in a run. */
    record OfCore(Measured run, RunReport.CoreReport report) {}

    /** The instructions of some lines, in a run, of one core or (-1) of all. */
    record OfLines(Measured run, List<Integer> lines, int core) {

        Spread waits() {
            return run.report().hotSpots().stream()
                    .filter(spot -> (core < 0 || spot.core() == core) && lines.contains(spot.line()))
                    .map(spot -> new Spread(spot.count(), spot.total(), spot.min(), spot.max()))
                    .reduce(Spread.NONE, Spread::and);
        }
    }

    /** What a pin did. */
    record OfPin(Measured run, int pin, Pulses pulses) {}

    /** The slots of a core. */
    record Turns(long offered, long used) {}

    static {
        of(Measured.class, "cycles", (run, in) -> (double) run.report().cycles());
        of(Measured.class, "busy", (run, in) -> (double) run.report().busyCycles());
        of(Measured.class, "clashes", (run, in) -> (double) run.report().clashCycles());
        of(Measured.class, "cores", (run, in) -> (double) run.design().cores());
        of(Measured.class, "slot", (run, in) -> (double) run.design().slotCycles());
        of(Measured.class, "rotation", (run, in) -> (double) run.rotationCycles());
        of(Measured.class, "clock", (run, in) -> (double) run.design().clock().chipHertz());
        of(Measured.class, "cost", (run, in) -> (double) cost(run.design().cost(), in.word(0, COSTS)), Argument.WORD);
        of(Measured.class, "instructions", (run, in) -> (double) run.report().cores().stream()
                .mapToLong(RunReport.CoreReport::instructions)
                .sum());
        of(Measured.class, "accesses", (run, in) -> (double) run.report().cores().stream()
                .mapToLong(RunReport.CoreReport::accesses)
                .sum());
        to(
                Measured.class,
                "waits",
                Spread.class,
                (run, in) -> run.report().cores().stream()
                        .map(core -> waits(core.waits()))
                        .reduce(Spread.NONE, Spread::and));
        to(
                Measured.class,
                "core",
                OfCore.class,
                (run, in) -> new OfCore(run, run.report().cores().get(core(0, in))),
                Argument.NUMBER);
        of(Measured.class, "shared", (run, in) -> (double) run.chip().sharedWord(in.address(0, -1)), Argument.LABEL);
        of(
                Measured.class,
                "private",
                (run, in) -> {
                    int core = core(0, in);
                    return (double) run.chip().core(core).privateWord(in.address(1, core));
                },
                Argument.NUMBER,
                Argument.LABEL);
        of(Measured.class, "address", (run, in) -> (double) in.address(0, -1), Argument.LABEL);
        of(Measured.class, "constant", (run, in) -> in.constant(0), Argument.WORD);
        to(Measured.class, "line", OfLines.class, (run, in) -> new OfLines(run, in.lines(0, -1), -1), Argument.LABEL);
        of(
                Measured.class,
                "when",
                (run, in) -> when(in, List.of(0), 2),
                Argument.WORD,
                Argument.NUMBER,
                Argument.NUMBER);
        of(
                Measured.class,
                "when",
                (run, in) -> when(in, in.lines(2, core(1, in)), 3),
                Argument.WORD,
                Argument.NUMBER,
                Argument.LABEL,
                Argument.NUMBER);
        of(Measured.class, "owner", (run, in) -> owner(in), Argument.NUMBER);
        to(Measured.class, "pin", OfPin.class, (run, in) -> pin(in), Argument.NUMBER);

        of(OfPin.class, "rises", (pin, in) -> (double) pin.pulses().rises());
        of(OfPin.class, "falls", (pin, in) -> (double) pin.pulses().falls());
        to(OfPin.class, "high", Spread.class, (pin, in) -> spread(pin.pulses().high()));
        to(OfPin.class, "low", Spread.class, (pin, in) -> spread(pin.pulses().low()));
        to(OfPin.class, "period", Spread.class, (pin, in) -> spread(pin.pulses().riseToRise()));
        of(
                OfPin.class,
                "duty",
                (pin, in) -> pin.pulses()
                        .duty()
                        .orElseThrow(() -> in.wrong("the pin has no whole period, so no part of one is high")));
        of(OfPin.class, "level", (pin, in) -> level(pin, in), Argument.NUMBER);

        for (State state : State.values()) {
            of(OfCore.class, state.text(), (core, in) ->
                    (double) core.report().states().getOrDefault(state, 0L));
        }
        of(OfCore.class, "instructions", (core, in) -> (double) core.report().instructions());
        of(OfCore.class, "accesses", (core, in) -> (double) core.report().accesses());
        to(
                OfCore.class,
                "waits",
                Spread.class,
                (core, in) -> waits(core.report().waits()));
        of(
                OfCore.class,
                "register",
                (core, in) -> (double) core.report().registers().get(in.register(0)),
                Argument.REGISTER);
        to(
                OfCore.class,
                "line",
                OfLines.class,
                (core, in) -> new OfLines(
                        core.run(),
                        in.lines(0, core.report().core()),
                        core.report().core()),
                Argument.LABEL);
        to(OfCore.class, "turns", Turns.class, (core, in) -> turns(core.report(), in));

        of(Turns.class, "offered", (turns, in) -> (double) turns.offered());
        of(Turns.class, "used", (turns, in) -> (double) turns.used());

        of(Spread.class, "count", (spread, in) -> (double) spread.count());
        of(Spread.class, "min", (spread, in) -> (double) some(spread, in).min());
        of(Spread.class, "max", (spread, in) -> (double) some(spread, in).max());
        of(Spread.class, "mean", (spread, in) -> some(spread, in).mean());

        of(OfLines.class, "number", (lines, in) -> (double) lines.lines().get(0));
        of(OfLines.class, "count", (lines, in) -> (double) lines.waits().count());
        of(OfLines.class, "wait", (lines, in) -> (double) lines.waits().total());
        of(OfLines.class, "min", (lines, in) -> (double) some(lines.waits(), in).min());
        of(OfLines.class, "max", (lines, in) -> (double) some(lines.waits(), in).max());
        of(OfLines.class, "mean", (lines, in) -> some(lines.waits(), in).mean());
    }

    private static <S> void of(Class<S> subject, String name, Get<S> get, Argument... arguments) {
        to(subject, name, Double.class, get, arguments);
    }

    private static <S> void to(Class<S> subject, String name, Class<?> leadsTo, Get<S> get, Argument... arguments) {
        Getter getter = (object, in) -> get.get(subject.cast(object), in);
        TABLE.computeIfAbsent(subject, key -> new LinkedHashMap<>())
                .computeIfAbsent(name, key -> new ArrayList<>())
                .add(new Member(name, List.of(arguments), leadsTo, getter));
    }

    /**
     * Checks that a path leads to a number.
     *
     * @throws Unresolved if it does not
     */
    static void check(Passage passage, Node.Path path) throws Unresolved {
        Class<?> subject = Measured.class;
        for (Node.Part part : path.parts()) {
            int nameEnd = part.start() + part.name().length();
            Map<String, List<Member>> members = TABLE.getOrDefault(subject, Map.of());
            List<Member> rows = members.getOrDefault(part.name(), List.of());
            if (rows.isEmpty()) {
                String message = "there is no measure %s here".formatted(part.name());
                List<String> known = List.copyOf(members.keySet());
                String hint = known.isEmpty()
                        ? "a number comes before it, which has no measures"
                        : ExpressionParser.hint(part.name(), known);
                throw new Unresolved(passage.error(part.start(), nameEnd, message, hint));
            }
            if (rows.stream()
                    .noneMatch(row -> row.arguments().size() == part.arguments().size())) {
                String message = "%s: %d given in brackets"
                        .formatted(part.name(), part.arguments().size());
                throw new Unresolved(passage.error(part.start(), part.end(), message, takes(rows)));
            }
            subject = row(subject, part).leadsTo();
        }
        if (subject != Double.class && subject != Spread.class) {
            Node.Part last = path.parts().get(path.parts().size() - 1);
            String known =
                    String.join(", ", TABLE.getOrDefault(subject, Map.of()).keySet());
            String message = "%s alone is no number".formatted(last.name());
            throw new Unresolved(
                    passage.error(last.start(), last.end(), message, "a point and one of these: " + known));
        }
    }

    private static String takes(List<Member> rows) {
        List<String> ways = rows.stream()
                .map(row -> row.arguments().isEmpty()
                        ? row.name()
                        : row.name()
                                + "("
                                + String.join(
                                        ", ",
                                        row.arguments().stream()
                                                .map(Measures::described)
                                                .toList())
                                + ")")
                .toList();
        return "write " + String.join(" or ", ways);
    }

    private static String described(Argument argument) {
        return switch (argument) {
            case NUMBER -> "NUMBER";
            case LABEL -> "LABEL";
            case WORD -> "WORD";
            case REGISTER -> "REGISTER";
        };
    }

    private static Member row(Class<?> subject, Node.Part part) {
        return TABLE.getOrDefault(subject, Map.of()).getOrDefault(part.name(), List.of()).stream()
                .filter(row -> row.arguments().size() == part.arguments().size())
                .findFirst()
                .orElseThrow(() -> new IllegalStateException(part.name()));
    }

    /** The parts of a path that was checked, with their rows. */
    static List<Step> steps(Node.Path path) {
        List<Step> steps = new ArrayList<>();
        Class<?> subject = Measured.class;
        for (Node.Part part : path.parts()) {
            Member member = row(subject, part);
            steps.add(new Step(part, member));
            subject = member.leadsTo();
        }
        return steps;
    }

    private static int core(int i, Arguments in) throws Unresolved {
        return (int) in.whole(i, 0, in.run().design().cores() - 1L);
    }

    private static int cost(Cost cost, String of) {
        return switch (of) {
            case "private" -> cost.privateAccess();
            case "taken" -> cost.taken();
            case "multiply" -> cost.multiply();
            case "divide" -> cost.divide();
            default -> cost.plain();
        };
    }

    private static Spread waits(RunReport.Waits waits) {
        long count =
                waits.histogram().values().stream().mapToLong(Long::longValue).sum();
        return count == 0 ? Spread.NONE : new Spread(count, waits.total(), waits.min(), waits.max());
    }

    private static Spread some(Spread spread, Arguments in) throws Unresolved {
        if (spread.count() == 0) {
            throw in.wrong("there is nothing to measure here: no access was made, or no whole pulse");
        }
        return spread;
    }

    private static OfPin pin(Arguments in) throws Unresolved {
        int pins = in.run().design().pins();
        if (pins == 0) {
            throw in.wrong("the design has no pins");
        }
        int pin = (int) in.whole(0, 0, pins - 1L);
        return new OfPin(in.run(), pin, Pulses.of(in.run().waveform(pin).levels()));
    }

    private static Spread spread(Statistics statistics) {
        return new Spread(statistics.count(), statistics.total(), statistics.min(), statistics.max());
    }

    private static double level(OfPin pin, Arguments in) throws Unresolved {
        Waveform wave = pin.run().waveform(pin.pin());
        return wave.at(in.whole(0, wave.from(), wave.to() - 1)).high() ? 1 : 0;
    }

    private static Turns turns(RunReport.CoreReport core, Arguments in) throws Unresolved {
        if (core.turnsOffered() < 0) {
            throw in.wrong("only under the policy rotation are turns offered");
        }
        return new Turns(core.turnsOffered(), core.turnsUsed());
    }

    private static double when(Arguments in, List<Integer> lines, int last) throws Unresolved {
        Kind kind = switch (in.word(0, EVENTS)) {
            case "request" -> Kind.REQUEST;
            case "admit" -> Kind.ADMIT;
            case "begin" -> Kind.BEGIN;
            default -> Kind.FINISH;
        };
        long times = in.whole(last, 1, 1_000_000_000);
        Long cycle = in.run().cycle(new Measured.Moment(kind, core(1, in), lines.get(0), times));
        if (cycle == null) {
            throw in.wrong("that does not happen in this run");
        }
        return cycle;
    }

    private static double owner(Arguments in) throws Unresolved {
        if (!(in.run().design().admission() instanceof Admission.Rotation admission)) {
            throw in.wrong("only under the policy rotation has a slot an owner");
        }
        Rotation rotation = new Rotation(
                in.run().design().slotCycles(),
                admission.order(),
                in.run().design().cores());
        return rotation.owner(in.whole(0, 0, 1L << 53));
    }
}
