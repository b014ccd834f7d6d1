package octurn.cli.view;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalLong;
import octurn.design.Admission;
import octurn.design.Clock;
import octurn.design.Design;
import octurn.report.TurnFigures;
import octurn.report.TurnFigures.CoreTurns;

/** A design with its defaults filled in, and what follows from it. */
public final class DesignView {

    private static final int LABEL = 14;

    private final Design design;
    private final TurnFigures figures;
    private final Glyphs glyphs;
    private final int columns;
    private final List<Line> lines = new ArrayList<>();

    private DesignView(Design design, Glyphs glyphs, int columns) {
        this.design = design;
        this.figures = TurnFigures.of(design);
        this.glyphs = glyphs;
        this.columns = columns;
    }

    /** The lines; {@code columns} to fill, at least 80. */
    public static List<Line> lines(Design design, Glyphs glyphs, int columns) {
        DesignView view = new DesignView(design, glyphs, columns);
        view.parts();
        view.turns();
        return view.lines;
    }

    /** Name, cores, admission and clock in one line; if it gets long, the clock is told in less detail. */
    static Line oneLine(Design design, Glyphs glyphs, int columns) {
        String name = glyphs.visible(design.name());
        String parts = "%d core%s, %s, ".formatted(design.cores(), design.cores() == 1 ? "" : "s", turns(design));
        String whole = parts + clockText(design.clock(), glyphs);
        String chip = Glyphs.width(name) + 2 + Glyphs.width(whole) <= columns
                ? whole
                : parts + Numbers.roundedHertz(design.clock().chipHertz());
        return Line.of(glyphs.cut(name, columns - 2 - Glyphs.width(chip)) + ": " + chip);
    }

    private static String turns(Design design) {
        int slot = design.slotCycles();
        return design.admission() instanceof Admission.Rotation
                ? "rotation of %d cycles".formatted(design.rotationCycles())
                : "%s, slots of %d cycle%s".formatted(design.admission().policy(), slot, slot == 1 ? "" : "s");
    }

    private static String clockText(Clock clock, Glyphs glyphs) {
        return clock.multiplier() == 1
                ? Numbers.hertz(clock.chipHertz())
                : "%s %s %d = %s"
                        .formatted(
                                Numbers.hertz(clock.hertz()),
                                glyphs.sign("\u00d7", "x"),
                                clock.multiplier(),
                                Numbers.hertz(clock.chipHertz()));
    }

    private void item(String label, String text) {
        List<String> wrapped = glyphs.wrapped(text, columns - LABEL);
        for (int i = 0; i < wrapped.size(); i++) {
            lines.add(
                    Line.of(Ink.WEAK, Glyphs.padded(i == 0 ? label : "", LABEL)).and(wrapped.get(i)));
        }
    }

    private String time(long cycles) {
        return Numbers.duration((double) cycles / design.clock().chipHertz(), glyphs);
    }

    private String cycles(long cycles) {
        return "%s cycle%s = %s".formatted(Numbers.grouped(cycles), cycles == 1 ? "" : "s", time(cycles));
    }

    // ---- what it is

    private void parts() {
        lines.add(Line.of(Ink.STRONG, glyphs.cut(glyphs.visible(design.name()), columns)));
        lines.add(Line.EMPTY);
        item("cores", Integer.toString(design.cores()));
        item("private RAM", "%s words a core".formatted(Numbers.grouped(design.privateWords())));
        item("shared memory", "%s words".formatted(Numbers.grouped(design.sharedWords())));
        item("admission", admissionText());
        item("slot", cycles(design.slotCycles()));
        if (design.admission() instanceof Admission.Rotation rotation) {
            item(
                    "rotation",
                    "%s in %d slots"
                            .formatted(
                                    cycles(design.rotationCycles()),
                                    rotation.order().size()));
        }
        item(
                "cost",
                "plain %d, private %d, taken %d, multiply %d, divide %d cycles"
                        .formatted(
                                design.cost().plain(),
                                design.cost().privateAccess(),
                                design.cost().taken(),
                                design.cost().multiply(),
                                design.cost().divide()));
        item("pins", Integer.toString(design.pins()));
        Clock clock = design.clock();
        item(
                "clock",
                "%s %s, %s%s ppm"
                        .formatted(
                                clock.source().text(),
                                clockText(clock, glyphs),
                                glyphs.sign("\u00b1", "+-"),
                                Numbers.grouped(clock.tolerancePpm())));
        item("cycle", Numbers.significant(clock.cycleNanos(), 6) + " ns");
    }

    private String admissionText() {
        Admission admission = design.admission();
        String text = admission.policy();
        if (admission instanceof Admission.Rotation rotation) {
            return text + ", order " + numbers(rotation.order());
        }
        if (admission instanceof Admission.Priority priority) {
            return text + ", order " + numbers(priority.order());
        }
        if (admission instanceof Admission.Lottery lottery) {
            return "%s, weights %s, seed %d".formatted(text, numbers(lottery.weights()), lottery.seed());
        }
        return text;
    }

    private static String numbers(List<Integer> numbers) {
        return String.join(" ", numbers.stream().map(Object::toString).toList());
    }

    // ---- what follows

    private void turns() {
        lines.add(Line.EMPTY);
        lines.add(Line.of(Ink.STRONG, "What follows for accesses to shared memory"));
        lines.add(Line.EMPTY);
        if (allAlike()) {
            CoreTurns core = figures.cores().get(0);
            item("wait", waitText(core));
            item("access", accessText(core.worstWait()));
            item(
                    "rate",
                    "%s accesses a second for one core, %s for all %d together"
                            .formatted(
                                    rate(core.alone().perCycle()), rate(figures.togetherPerCycle()), design.cores()));
        } else {
            perCore();
            item("all cores", "%s accesses a second together".formatted(rate(figures.togetherPerCycle())));
        }
        double words = figures.capacityPerCycle() * design.clock().chipHertz();
        item(
                "memory",
                "%s words a second when every slot is used (%s MB/s)"
                        .formatted(Numbers.rate(words), Numbers.groupedSignificant(4 * words / 1e6, 6)));
        item("", remark());
    }

    private boolean allAlike() {
        CoreTurns first = figures.cores().get(0);
        return figures.cores().stream()
                        .allMatch(core -> core.slots() == first.slots()
                                && core.worstWait().equals(first.worstWait())
                                && core.meanWait().equals(first.meanWait())
                                && core.alone().equals(first.alone()))
                && !(design.admission() instanceof Admission.Lottery);
    }

    private String rate(double perCycle) {
        return Numbers.rate(perCycle * design.clock().chipHertz());
    }

    private String waitText(CoreTurns core) {
        String mean = core.meanWait().isPresent()
                ? "mean %s, ".formatted(Numbers.significant(core.meanWait().getAsDouble(), 5))
                : "";
        return core.worstWait().isPresent()
                ? "best 0, %sworst %s".formatted(mean, cycles(core.worstWait().getAsLong()))
                : "best 0, worst: no bound";
    }

    private String accessText(OptionalLong worst) {
        long least = (long) design.cost().plain() + design.slotCycles();
        String parts =
                "%d of work, the wait, %d of slot".formatted(design.cost().plain(), design.slotCycles());
        return worst.isPresent() && worst.getAsLong() > 0
                ? "%d..%s in all: %s".formatted(least, cycles(least + worst.getAsLong()), parts)
                : "%s%s in all: %s".formatted(worst.isPresent() ? "" : "at least ", cycles(least), parts);
    }

    /** One row for each core, where the cores are not all alike. */
    private void perCore() {
        boolean rotation = design.admission() instanceof Admission.Rotation;
        boolean lottery = design.admission() instanceof Admission.Lottery;
        String extra = rotation ? "  slots" : lottery ? "  drawn" : "";
        lines.add(Line.of(
                Ink.WEAK,
                "  core%s   best wait   %sworst wait    accesses a second"
                        .formatted(extra, rotation ? "  mean   " : "")));
        for (CoreTurns core : figures.cores()) {
            StringBuilder row = new StringBuilder("%6d".formatted(core.core()));
            if (rotation) {
                row.append("%7d".formatted(core.slots()));
            } else if (lottery) {
                row.append("%7s".formatted(chance(core.core())));
            }
            boolean never = rotation && core.slots() == 0;
            row.append("%12s".formatted(never ? "-" : "0"));
            if (rotation) {
                row.append("%9s"
                        .formatted(
                                core.meanWait().isPresent()
                                        ? Numbers.significant(core.meanWait().getAsDouble(), 5)
                                        : "-"));
            }
            row.append("%13s"
                    .formatted(
                            never
                                    ? "never in"
                                    : core.worstWait().isPresent()
                                            ? Numbers.grouped(core.worstWait().getAsLong())
                                            : "no bound"));
            row.append("%21s".formatted(rate(core.alone().perCycle())));
            lines.add(Line.of(row.toString()));
        }
    }

    private String chance(int core) {
        Admission.Lottery lottery = (Admission.Lottery) design.admission();
        int sum = lottery.weights().stream().mapToInt(Integer::intValue).sum();
        return "%d/%d".formatted(lottery.weights().get(core), sum);
    }

    /** What the figures rest on. */
    private String remark() {
        String alone = "A core's rate is that of accesses one after the other with nothing between them";
        return switch (design.admission().policy()) {
            case "rotation" ->
                alone + "; what the other cores do changes nothing in it."
                        + " The mean is that of requests spread evenly over the rotation.";
            case "own-port" -> alone + ". Each core has a port of its own, so nobody waits.";
            case "priority" ->
                alone + " while no other core asks."
                        + " Only the first core in the order has a bound: the others wait as long as those before them ask.";
            case "lottery" ->
                alone + " while no other core asks."
                        + " The chance to be drawn is the one it has when all cores ask; luck has no bound.";
            default -> alone + " while no other core asks. At the worst every other core goes once before it.";
        };
    }
}
