package octurn.cli.stepper;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.NavigableMap;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.IntUnaryOperator;
import octurn.arbiter.Rotation;
import octurn.cli.view.NumberBase;
import octurn.cli.view.StepScreen;
import octurn.design.Design;
import octurn.isa.Disassembler;
import octurn.machine.Chip;
import octurn.machine.Core;
import octurn.report.Places;
import octurn.report.Sentences;
import octurn.run.Moment;
import octurn.trace.Event;
import octurn.trace.Kind;

/** What a screen shows, in lines of words: for pipes, logs, and people who do not look at a screen. */
final class Teller {

    private static final int MOST_WORDS = 40;
    private static final int LINES_AROUND = 6;
    private static final List<String> TALLY_MODES =
            List.of("off", "cycles", "rising", "falling", "high", "low", "pulse");

    private final Stepper stepper;
    private final Moment moment;
    private final Chip chip;
    private final Design design;
    private final Core core;
    private final Places places;

    Teller(Stepper stepper) {
        this.stepper = stepper;
        this.moment = stepper.moment();
        this.chip = moment.chip();
        this.design = chip.design();
        this.core = chip.core(stepper.core());
        this.places = stepper.sentences().places();
    }

    /** Where the run is, whose turn it is, and what the chosen core does. */
    List<String> present() {
        return List.of(
                "Cycle %d, %s.".formatted(moment.cycle(), StepScreen.micros(design, moment.cycle(), stepper.glyphs())),
                stepper.sentences().turn(moment),
                stepper.sentences().of(moment, core.number()));
    }

    List<String> cores() {
        List<String> lines = new ArrayList<>();
        for (int number = 0; number < design.cores(); number++) {
            lines.add(stepper.sentences().of(moment, number));
        }
        return lines;
    }

    List<String> registers() {
        List<String> lines = new ArrayList<>();
        NumberBase base = stepper.look().base();
        int each = base == NumberBase.BINARY ? 1 : 4;
        for (int number = 0; number < 16; number += each) {
            List<String> row = new ArrayList<>();
            for (int i = number; i < number + each; i++) {
                row.add("r%d = %s".formatted(i, base.write(core.register(i))));
            }
            lines.add(String.join(", ", row));
        }
        return lines;
    }

    List<String> shared() {
        Set<Integer> addresses = new TreeSet<>(places.sharedLabels().keySet());
        return words(
                addresses,
                "shared",
                design.sharedWords(),
                chip::sharedWord,
                places.sharedLabels(),
                stepper.look().address());
    }

    List<String> privately() {
        NavigableMap<Integer, String> labels = places.privateLabels(core.number());
        return words(
                new TreeSet<>(labels.keySet()),
                "private",
                design.privateWords(),
                core::privateWord,
                labels,
                stepper.look().address());
    }

    private List<String> words(
            Set<Integer> addresses,
            String memory,
            int words,
            IntUnaryOperator value,
            Map<Integer, String> labels,
            int top) {
        Set<Integer> told = new TreeSet<>();
        int first = Math.max(0, top);
        for (int address = first; address < words && told.size() < MOST_WORDS; address++) {
            if (top >= 0 || addresses.contains(address) || value.applyAsInt(address) != 0) {
                told.add(address);
            }
        }
        List<String> lines = new ArrayList<>();
        for (int address : told) {
            String label = labels.get(address);
            lines.add("%s word %d%s = %s"
                    .formatted(
                            memory,
                            address,
                            label == null ? "" : " (" + label + ")",
                            stepper.look().base().write(value.applyAsInt(address))));
        }
        if (lines.isEmpty()) {
            lines.add("all words of %s memory are 0".formatted(memory));
        }
        if (told.size() == MOST_WORDS) {
            lines.add("and more; look ADDRESS tells those from there on");
        }
        return lines;
    }

    List<String> pins() {
        List<String> lines = new ArrayList<>();
        for (int pin = 0; pin < design.pins(); pin++) {
            List<String> by = new ArrayList<>();
            for (int number = 0; number < design.cores(); number++) {
                if ((chip.core(number).drive() >>> pin & 1) != 0) {
                    by.add("core " + number);
                }
            }
            boolean given = (chip.pinsGiven() >>> pin & 1) != 0;
            if (given) {
                by.add("the outside");
            }
            boolean high = (chip.pinLevels() >>> pin & 1) != 0;
            if (high || !by.isEmpty()) {
                lines.add("Pin %d is %s%s%s"
                        .formatted(
                                pin,
                                high ? "high" : "low",
                                by.isEmpty() ? "" : ", driven by " + String.join(" and ", by),
                                (chip.pinClashes() >>> pin & 1) != 0 ? ": a clash." : "."));
            }
        }
        if (lines.size() < design.pins()) {
            lines.add(lines.isEmpty() ? "All pins are low, and nobody drives them." : "The other pins are low.");
        }
        return lines;
    }

    List<String> tallies() {
        List<String> lines = new ArrayList<>();
        lines.add("out = 0x%X, drive = 0x%X".formatted(core.out(), core.drive()));
        for (int tally = 0; tally < 2; tally++) {
            int mode = core.tallyMode(tally);
            lines.add("tally%d = %d, mode %s%s, span %d, level %d"
                    .formatted(
                            tally,
                            chip.tally(core.number(), tally),
                            TALLY_MODES.get(mode & 0xFF),
                            (mode & 0xFF) > 1 ? " of pin " + (mode >>> 8) : "",
                            core.tallySpan(tally),
                            core.tallyLevel(tally)));
        }
        return lines;
    }

    List<String> turns() {
        List<String> lines = new ArrayList<>();
        Rotation rotation = stepper.sentences().rotation();
        if (rotation == null) {
            List<Integer> line = Sentences.inLine(chip);
            lines.add(line.isEmpty() ? "Nobody is in line." : "In line: " + line + ".");
        } else {
            long slot = rotation.nextSlot(core.number(), moment.cycle());
            lines.add(
                    slot == Rotation.NEVER
                            ? "Core %d has no slot in the order.".formatted(core.number())
                            : "The next slot of core %d opens at cycle %d.".formatted(core.number(), slot));
        }
        for (Event event : moment.past()) {
            if (event.kind() == Kind.ADMIT) {
                lines.add("Cycle %d: core %d was admitted after %d cycles of waiting."
                        .formatted(event.cycle(), event.core(), event.a()));
            }
        }
        // The newest admissions matter: of many, the oldest are left out.
        if (lines.size() > MOST_WORDS + 1) {
            lines.subList(1, lines.size() - MOST_WORDS).clear();
        }
        return lines;
    }

    List<String> source() {
        int current = places.line(core);
        int chosen = stepper.look().line();
        int middle = chosen > 0 ? chosen : current;
        List<String> lines = new ArrayList<>();
        int size = places.program().source().size();
        for (int line = Math.max(1, middle - LINES_AROUND); line <= Math.min(size, middle + LINES_AROUND); line++) {
            lines.add("%s%d: %s"
                    .formatted(
                            line == current ? "> " : "  ",
                            line,
                            places.program().sourceLine(line)));
        }
        if (current == 0) {
            lines.add("core %d is at no line of the program: %s"
                    .formatted(core.number(), Disassembler.text(core.word(), core.pc())));
        }
        return lines;
    }

    List<String> screen() {
        return StepScreen.render(stepper.scene(24, 80, null), 24, 80, stepper.glyphs())
                .plain()
                .lines()
                .toList();
    }
}
