package octurn.cli.stepper;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import octurn.cli.view.Look;
import octurn.cli.view.Look.Overlay;
import octurn.cli.view.NumberBase;
import octurn.cli.view.Panel;
import octurn.report.Places;

/** Looking at the chip. */
final class Looks {

    static final List<String> TOLD =
            List.of("cores", "registers", "shared", "private", "pins", "tallies", "turns", "source", "screen");

    private static final List<Integer> WAVES = List.of(1, 10, 100, 1000, 10_000);

    private Looks() {}

    static Answer core(Stepper stepper, Words words) {
        int cores = stepper.design().cores();
        int core;
        if (words.take("next")) {
            core = Math.min(cores - 1, stepper.core() + 1);
        } else if (words.take("previous")) {
            core = Math.max(0, stepper.core() - 1);
        } else {
            core = (int) words.number("core", 0, cores - 1L);
        }
        words.end();
        stepper.look(stepper.look().withCore(core));
        return Answer.moved();
    }

    static Answer why(Stepper stepper, Words words) {
        words.end();
        if (stepper.look().overlay() == Overlay.WHY) {
            stepper.look(stepper.look().withOverlay(Overlay.NONE));
            return Answer.done("");
        }
        stepper.look(stepper.look().withOverlay(Overlay.WHY));
        return Answer.done("");
    }

    static Answer show(Stepper stepper, Words words) {
        Panel panel = stepper.look().panel();
        if (words.take("next")) {
            panel = panel.plus(1);
        } else if (words.take("previous")) {
            panel = panel.plus(-1);
        } else {
            String name = words.oneOf(
                    "the panel", Arrays.stream(Panel.values()).map(Panel::text).toList());
            panel = Panel.valueOf(name.toUpperCase(Locale.ROOT));
        }
        words.end();
        stepper.look(stepper.look().withPanel(panel));
        return Answer.done(panel.text() + ": " + panel.what());
    }

    static Answer base(Stepper stepper, Words words) {
        NumberBase base;
        if (words.take("next")) {
            base = stepper.look().base().next();
        } else {
            String name = words.oneOf("the base", List.of("dec", "hex", "bin"));
            base = Arrays.stream(NumberBase.values())
                    .filter(one -> one.text().equals(name))
                    .findFirst()
                    .orElseThrow();
        }
        words.end();
        stepper.look(stepper.look().withBase(base));
        return Answer.done("words are written in " + base.longName());
    }

    /** The labels of the memory that the panel shows. */
    static Map<String, Integer> labels(Stepper stepper) {
        Places places = stepper.sentences().places();
        return stepper.look().panel() == Panel.PRIVATE
                ? places.privateAddresses(stepper.core())
                : places.sharedAddresses();
    }

    static Answer look(Stepper stepper, Words words) {
        Look look = stepper.look();
        if (look.panel() != Panel.SHARED && look.panel() != Panel.PRIVATE) {
            look = look.withPanel(Panel.SHARED);
        }
        boolean isPrivate = look.panel() == Panel.PRIVATE;
        if (words.take("follow")) {
            words.end();
            stepper.look(look.withAddress(Look.FOLLOW));
            return Answer.done("the panel goes with what the core does");
        }
        String where = words.rest();
        if (where.isEmpty()) {
            throw new Mistake("an address or a label is missing");
        }
        int all = isPrivate ? stepper.design().privateWords() : stepper.design().sharedWords();
        int address = Target.address(where, labels(stepper), all, isPrivate ? "private address" : "shared address");
        stepper.look(look.withAddress(address));
        return Answer.done("%s memory from %d on".formatted(isPrivate ? "private" : "shared", address));
    }

    static Answer scroll(Stepper stepper, Words words) {
        boolean up = words.oneOf("which way", List.of("up", "down")).equals("up");
        long rows = Math.min(1_000_000, words.count());
        words.end();
        int by = (int) (up ? -rows : rows);
        Look look = stepper.look();
        if (look.overlay() != Overlay.NONE) {
            stepper.look(look.withOverlayScroll(Math.max(0, look.overlayScroll() + by)));
        } else if (look.panel() == Panel.SHARED || look.panel() == Panel.PRIVATE) {
            int all = look.panel() == Panel.SHARED
                    ? stepper.design().sharedWords()
                    : stepper.design().privateWords();
            int address = Math.max(0, look.address()) + by;
            stepper.look(look.withAddress(Math.max(0, Math.min(all - 1, address))));
        } else {
            stepper.look(look.withScroll(Math.max(0, Math.min(1000, look.scroll() + by))));
        }
        return Answer.done("");
    }

    static Answer select(Stepper stepper, Words words) {
        int lines = stepper.timeline().program().source().size();
        Look look = stepper.look();
        int line;
        if (words.take("none")) {
            line = Look.FOLLOW;
        } else if (words.take("up")) {
            line = (int) Math.max(1, from(stepper) - words.count());
        } else if (words.take("down")) {
            line = (int) Math.min(lines, from(stepper) + words.count());
        } else {
            line = (int) words.number("line", 1, lines);
        }
        words.end();
        stepper.look(look.withLine(line));
        return line == Look.FOLLOW
                ? Answer.done("")
                : Answer.done("line %d is chosen: l goes there, o sets a stop, Esc lets go".formatted(line));
    }

    private static int from(Stepper stepper) {
        int line = stepper.look().line();
        int here = stepper.sentences().places().line(stepper.timeline().chip().core(stepper.core()));
        return line > 0 ? line : Math.max(1, here);
    }

    static Answer find(Stepper stepper, Words words) {
        String text = words.rest();
        boolean forward = !text.equals("previous");
        boolean again = text.equals("next") || text.equals("previous");
        String wanted = again ? stepper.state().wanted() : text;
        if (wanted.isEmpty()) {
            throw new Mistake(
                    again ? "nothing has been looked for yet; find TEXT does" : "text to look for is missing");
        }
        stepper.set(stepper.state().withWanted(wanted));
        List<String> source = stepper.timeline().program().source();
        String folded = wanted.toLowerCase(Locale.ROOT);
        int start = from(stepper) - 1;
        for (int i = 1; i <= source.size(); i++) {
            int line = Math.floorMod(forward ? start + i : start - i, source.size());
            if (source.get(line).toLowerCase(Locale.ROOT).contains(folded)) {
                stepper.look(stepper.look().withLine(line + 1));
                return Answer.done("line %d; n and N go on".formatted(line + 1));
            }
        }
        throw new Mistake("\"%s\" is nowhere in the source".formatted(wanted));
    }

    static Answer wave(Stepper stepper, Words words) {
        int scale;
        if (words.take("next")) {
            int place = WAVES.indexOf(stepper.look().cyclesAColumn());
            scale = WAVES.get((place + 1) % WAVES.size());
        } else {
            scale = (int) words.number("cycles a column", 1, WAVES.get(WAVES.size() - 1));
        }
        words.end();
        stepper.look(stepper.look().withCyclesAColumn(scale));
        return Answer.done("a column of the pins' waves stands for %d cycle%s".formatted(scale, scale == 1 ? "" : "s"));
    }

    static Answer tell(Stepper stepper, Words words) {
        Teller teller = new Teller(stepper);
        if (words.isEnd()) {
            return stepper.text("cycle " + stepper.cycle(), teller.present());
        }
        String what = words.oneOf("what to tell", TOLD);
        words.end();
        List<String> lines = switch (what) {
            case "cores" -> teller.cores();
            case "registers" -> teller.registers();
            case "shared" -> teller.shared();
            case "private" -> teller.privately();
            case "pins" -> teller.pins();
            case "tallies" -> teller.tallies();
            case "turns" -> teller.turns();
            case "source" -> teller.source();
            default -> teller.screen();
        };
        boolean ofCore = List.of("registers", "private", "tallies", "source").contains(what);
        return stepper.text(ofCore ? what + " of core " + stepper.core() : what, new ArrayList<>(lines));
    }

    static Answer close(Stepper stepper, Words words) {
        words.end();
        Look look = stepper.look();
        stepper.look(
                look.overlay() != Overlay.NONE
                        ? look.withOverlay(Overlay.NONE)
                        : look.withLine(Look.FOLLOW).withAddress(Look.FOLLOW));
        return Answer.done("");
    }
}
