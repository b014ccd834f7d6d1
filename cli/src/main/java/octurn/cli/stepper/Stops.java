package octurn.cli.stepper;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import octurn.isa.Condition;
import octurn.report.Places;
import octurn.trace.Kind;

/** Coming to rest. */
final class Stops {

    static final List<String> KINDS = List.of("line", "at", "when", "change", "pin", "fault");
    static final List<String> CONDITIONS =
            Arrays.stream(Condition.values()).map(Condition::text).toList();
    static final List<String> EDGES = List.of("rises", "falls", "changes");

    private static final Pattern CONDITION = Pattern.compile("(.+?)\\s*(==|!=|u<=|u<|u>=|u>|<=|<|>=|>)\\s*(\\S+)");
    private static final int MOST = 100;

    private Stops() {}

    static Answer stop(Stepper stepper, Words words) {
        String kind = words.oneOf("where to stop", KINDS);
        Stop stop = switch (kind) {
            case "line" -> line(stepper, words);
            case "at" -> at(stepper, words);
            case "when" -> when(stepper, words);
            case "change" -> change(stepper, words);
            case "pin" -> pin(stepper, words);
            default -> fault(stepper, words);
        };
        words.end();
        List<Stop> stops = new ArrayList<>(stepper.state().stops());
        boolean gone = stops.removeIf(other -> other.text().equals(stop.text()));
        if (gone) {
            stepper.set(stepper.state().withStops(stops));
            return Answer.done("no stop any more: " + stop.text());
        }
        if (stops.size() == MOST) {
            throw new Mistake("%d stops are enough; drop some".formatted(MOST));
        }
        stops.add(stop);
        stepper.set(stepper.state().withStops(stops));
        return Answer.done("stop %d: %s. Enter runs there".formatted(stops.size(), stop.text()));
    }

    private static Stop line(Stepper stepper, Words words) {
        int line = Moves.line(stepper, words, "line");
        Places places = stepper.sentences().places();
        return new Stop("line " + line, line, () -> Watches.line(line, Watches.ANY, places));
    }

    private static Stop at(Stepper stepper, Words words) {
        boolean shared = words.take("shared");
        Places places = stepper.sentences().places();
        int core = stepper.core();
        int all = shared ? stepper.design().sharedWords() : stepper.design().privateWords();
        int address = Target.address(
                words.rest(),
                shared ? places.sharedAddresses() : places.privateAddresses(core),
                all,
                shared ? "shared address" : "private address");
        String text = shared ? "at shared " + address : "at %d of core %d".formatted(address, core);
        return new Stop(text, 0, () -> Watches.address(shared, address, shared ? Watches.ANY : core));
    }

    private static Stop when(Stepper stepper, Words words) {
        String text = words.rest();
        Matcher matcher = CONDITION.matcher(text);
        if (!matcher.matches()) {
            throw new Mistake("\"%s\" is no condition; r1 == 5 and shared[count] > 10 are".formatted(text));
        }
        Places places = stepper.sentences().places();
        Target target = Target.parse(matcher.group(1), stepper.core(), places);
        Condition condition = Condition.values()[CONDITIONS.indexOf(matcher.group(2))];
        int value = Numerals.word(matcher.group(3), "number");
        String said = "when %s %s %d%s".formatted(target.text(places), condition.text(), value, ofCore(target));
        return new Stop(said, 0, () -> Watches.condition(target, condition, value));
    }

    private static String ofCore(Target target) {
        return target.core() < 0 ? "" : " of core " + target.core();
    }

    private static Stop change(Stepper stepper, Words words) {
        Places places = stepper.sentences().places();
        Target target = Target.parse(words.rest(), stepper.core(), places);
        String text = "change of %s%s".formatted(target.text(places), ofCore(target));
        return new Stop(text, 0, () -> Watches.change(target));
    }

    private static Stop pin(Stepper stepper, Words words) {
        int pin = Moves.pin(stepper, words);
        String edge = words.isEnd() ? "changes" : words.oneOf("what the pin does", EDGES);
        Watches.Edge wanted = Watches.Edge.valueOf(edge.toUpperCase(Locale.ROOT));
        return new Stop("pin %d %s".formatted(pin, edge), 0, () -> Watches.pins(1 << pin, wanted));
    }

    private static Stop fault(Stepper stepper, Words words) {
        if (words.isEnd()) {
            return new Stop("fault of any core", 0, () -> Watches.event(Kind.FAULT, Watches.ANY));
        }
        words.take("core");
        int core = (int) words.number("core", 0, stepper.design().cores() - 1L);
        return new Stop("fault of core " + core, 0, () -> Watches.event(Kind.FAULT, core));
    }

    static Answer list(Stepper stepper, Words words) {
        words.end();
        List<String> lines = new ArrayList<>();
        for (Stop stop : stepper.state().stops()) {
            lines.add("%d: %s".formatted(lines.size() + 1, stop.text()));
        }
        return stepper.text("stops", lines.isEmpty() ? List.of("there are no stops") : lines);
    }

    static Answer drop(Stepper stepper, Words words) {
        List<Stop> stops = new ArrayList<>(stepper.state().stops());
        if (words.take("all")) {
            stops.clear();
        } else if (stops.isEmpty()) {
            throw new Mistake("there are no stops");
        } else {
            stops.remove((int) words.number("stop", 1, stops.size()) - 1);
        }
        words.end();
        stepper.set(stepper.state().withStops(stops));
        return Answer.done(stops.isEmpty() ? "there are no stops now" : "stops left: " + stops.size());
    }
}
