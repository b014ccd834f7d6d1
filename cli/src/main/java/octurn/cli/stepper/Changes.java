package octurn.cli.stepper;

import java.util.ArrayList;
import java.util.List;
import octurn.design.Input;
import octurn.machine.Change;
import octurn.report.Places;
import octurn.run.Alteration;

/** Changing the run by hand. */
final class Changes {

    private static final int MOST = 100;

    private Changes() {}

    static Answer set(Stepper stepper, Words words) {
        Change change = words.take("pin") ? pin(stepper, words) : word(stepper, words);
        words.end();
        List<Alteration> alterations = new ArrayList<>(stepper.state().alterations());
        if (alterations.size() == MOST) {
            throw new Mistake("%d changes are enough; restore some".formatted(MOST));
        }
        Alteration alteration = new Alteration(stepper.cycle(), change);
        alterations.add(alteration);
        stepper.alter(alterations);
        return Answer.moved("altered: %s. restore takes it back"
                .formatted(text(alteration, stepper.sentences().places())));
    }

    private static Change word(Stepper stepper, Words words) {
        String all = words.rest();
        int cut = Math.max(all.lastIndexOf(' '), all.lastIndexOf('\t'));
        String last = all.substring(cut + 1);
        if (cut < 0) {
            throw new Mistake(
                    all.isEmpty() ? "what to set is missing: r1, shared[count], pin 3" : "a value is missing");
        }
        String name = all.substring(0, cut).strip();
        Target target = Target.parse(
                name.endsWith("=") ? name.substring(0, name.length() - 1).strip() : name,
                stepper.core(),
                stepper.sentences().places());
        return target.change(Numerals.word(last, "value"));
    }

    private static Change pin(Stepper stepper, Words words) {
        int pin = Moves.pin(stepper, words);
        String level = words.oneOf("the level", List.of("0", "1", "free"));
        return new Change.PinLevel(pin, level.equals("free") ? Input.NOTHING : Integer.parseInt(level));
    }

    /** An alteration in words. */
    static String text(Alteration alteration, Places places) {
        Change change = alteration.change();
        String what;
        if (change instanceof Change.Register it) {
            what = "r%d of core %d = %d".formatted(it.register(), it.core(), it.value());
        } else if (change instanceof Change.PrivateWord it) {
            what = "%s of core %d = %d"
                    .formatted(new Target(it.core(), false, it.address()).text(places), it.core(), it.value());
        } else if (change instanceof Change.SharedWord it) {
            what = "%s = %d".formatted(new Target(-1, false, it.address()).text(places), it.value());
        } else if (change instanceof Change.PinLevel it) {
            what = it.level() == Input.NOTHING
                    ? "pin %d is left to the scenario".formatted(it.pin())
                    : "pin %d is given %d".formatted(it.pin(), it.level());
        } else {
            throw new IllegalStateException("no words for " + change);
        }
        return "%s from cycle %d on".formatted(what, alteration.cycle());
    }

    static Answer list(Stepper stepper, Words words) {
        words.end();
        List<String> lines = new ArrayList<>();
        for (Alteration alteration : stepper.state().alterations()) {
            lines.add("%d: %s"
                    .formatted(
                            lines.size() + 1,
                            text(alteration, stepper.sentences().places())));
        }
        return stepper.text("changes made by hand", lines.isEmpty() ? List.of("nothing is altered") : lines);
    }

    static Answer restore(Stepper stepper, Words words) {
        List<Alteration> alterations = new ArrayList<>(stepper.state().alterations());
        if (alterations.isEmpty()) {
            throw new Mistake("nothing is altered");
        }
        if (words.take("all")) {
            alterations.clear();
        } else {
            alterations.remove((int) words.number("change", 1, alterations.size()) - 1);
        }
        words.end();
        stepper.alter(alterations);
        return Answer.moved(
                alterations.isEmpty() ? "nothing is altered any more" : "changes left: " + alterations.size());
    }
}
