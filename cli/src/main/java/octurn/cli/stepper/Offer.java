package octurn.cli.stepper;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import octurn.cli.stepper.Command.Offers;
import octurn.cli.view.Panel;

/** What may come next on a command line, for the commands that have a choice. */
final class Offer {

    static final List<String> EVENTS = List.of("request", "admission", "pin", "clash", "fault", "idle");

    private Offer() {}

    static Offers words(String... words) {
        return (stepper, before) -> before.isEmpty() ? List.of(words) : List.of();
    }

    static Offers next() {
        return (stepper, before) -> switch (before.size()) {
            case 0 -> EVENTS;
            case 1 -> List.of("any", "core");
            default -> List.of();
        };
    }

    static Offers cores() {
        return (stepper, before) -> {
            if (!before.isEmpty()) {
                return List.of();
            }
            List<String> all = new ArrayList<>(List.of("next", "previous"));
            IntStream.range(0, stepper.design().cores()).forEach(core -> all.add(Integer.toString(core)));
            return all;
        };
    }

    static Offers panels() {
        return (stepper, before) -> {
            if (!before.isEmpty()) {
                return List.of();
            }
            List<String> all = new ArrayList<>(
                    Arrays.stream(Panel.values()).map(Panel::text).toList());
            all.addAll(List.of("next", "previous"));
            return all;
        };
    }

    static Offers marks() {
        return (stepper, before) ->
                before.isEmpty() ? List.copyOf(stepper.marks().keySet()) : List.of();
    }

    static Offers commands() {
        return (stepper, before) -> before.isEmpty() ? stepper.table().names() : List.of();
    }

    static Offers stops() {
        return (stepper, before) -> numbered(before, stepper.state().stops().size());
    }

    static Offers alterations() {
        return (stepper, before) ->
                numbered(before, stepper.state().alterations().size());
    }

    private static List<String> numbered(List<String> before, int count) {
        if (!before.isEmpty()) {
            return List.of();
        }
        List<String> all = new ArrayList<>(List.of("all"));
        IntStream.rangeClosed(1, count).forEach(number -> all.add(Integer.toString(number)));
        return all;
    }

    static Offers look() {
        return (stepper, before) -> {
            if (!before.isEmpty()) {
                return List.of();
            }
            List<String> all = new ArrayList<>(List.of("follow"));
            all.addAll(Looks.labels(stepper).keySet());
            return all;
        };
    }

    /** The words of the chip: registers and labelled words. */
    private static List<String> targets(Stepper stepper) {
        List<String> all = new ArrayList<>();
        IntStream.range(0, 16).forEach(number -> all.add("r" + number));
        stepper.sentences().places().sharedAddresses().keySet().forEach(label -> all.add("shared[" + label + "]"));
        stepper.sentences()
                .places()
                .privateAddresses(stepper.core())
                .keySet()
                .forEach(label -> all.add("private[" + label + "]"));
        return all;
    }

    static Offers set() {
        return (stepper, before) -> {
            if (before.isEmpty()) {
                List<String> all = new ArrayList<>(targets(stepper));
                all.add("pin");
                return all;
            }
            return before.size() == 2 && before.get(0).equals("pin") ? List.of("0", "1", "free") : List.of();
        };
    }

    static Offers stop() {
        return (stepper, before) -> {
            if (before.isEmpty()) {
                return Stops.KINDS;
            }
            String kind = before.get(0);
            if (before.size() == 1 && (kind.equals("when") || kind.equals("change"))) {
                return targets(stepper);
            }
            if (before.size() == 2 && kind.equals("when")) {
                return Stops.CONDITIONS;
            }
            if (before.size() == 2 && kind.equals("pin")) {
                return Stops.EDGES;
            }
            return before.size() == 1 && kind.equals("at") ? List.of("shared") : List.of();
        };
    }
}
