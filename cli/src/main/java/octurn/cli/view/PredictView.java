package octurn.cli.view;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.measure.CoreThinks;
import octurn.measure.Measurement;
import octurn.measure.Spread;
import octurn.predict.Prediction;
import octurn.predict.Predictions;
import octurn.predict.Quantity;
import octurn.predict.Roofline;
import octurn.predict.SpeedUp;
import octurn.predict.Theory;
import octurn.predict.ThinkAndAccess.LongRun;
import octurn.predict.ThinkTable;
import octurn.report.TurnFigures;
import octurn.report.TurnFigures.CoreTurns;

/** What theory says, beside a run or by itself; each figure by the name of its theory, with its source below. */
public final class PredictView {

    private static final int NAME = 26;
    private static final double LONG_RUN = 0.005;

    private final Glyphs glyphs;
    private final int columns;
    private final List<Line> lines = new ArrayList<>();
    private final Set<Theory> used = new LinkedHashSet<>();

    private PredictView(Glyphs glyphs, int columns) {
        this.glyphs = glyphs;
        this.columns = columns;
    }

    private void section(String title) {
        lines.add(Line.EMPTY);
        lines.add(Line.of(Ink.STRONG, title));
    }

    private void text(String text, int indent) {
        for (String line : glyphs.wrapped(glyphs.visible(text), columns - indent)) {
            lines.add(Line.of(" ".repeat(indent) + line));
        }
    }

    private void sources() {
        section("Sources");
        for (Theory theory : used) {
            List<String> wrapped = glyphs.wrapped("%s: %s".formatted(theory.text(), theory.source()), columns - 4);
            for (int i = 0; i < wrapped.size(); i++) {
                lines.add(Line.of((i == 0 ? "  " : "    ") + wrapped.get(i)));
            }
        }
    }

    // ---- a run

    /** The lines for a run; {@code columns} to fill, at least 80. */
    public static List<Line> lines(Measurement measurement, List<Prediction> predictions, Glyphs glyphs, int columns) {
        PredictView view = new PredictView(glyphs, columns);
        view.lines.addAll(Headings.of(measurement.report(), glyphs, columns));
        view.thinks(measurement.thinks());
        view.predictions(predictions);
        view.roof(measurement);
        view.sources();
        return view.lines;
    }

    private void thinks(List<CoreThinks> thinks) {
        section("What the cores do between their accesses");
        if (thinks.isEmpty()) {
            text("No core was admitted to shared memory: there is nothing to predict about waits.", 2);
            return;
        }
        Spread all = Spread.NONE;
        double variation = 0;
        for (CoreThinks core : thinks) {
            all = all.and(core.thinks());
            variation += core.variation() * core.thinks().count();
        }
        String cores = "%d core%s, %s accesses"
                .formatted(
                        thinks.size(),
                        thinks.size() == 1 ? "" : "s",
                        Numbers.grouped(
                                thinks.stream().mapToLong(CoreThinks::accesses).sum()));
        if (all.count() == 0) {
            text("%s: none thinks between two accesses, as each makes one at the most.".formatted(cores), 2);
            return;
        }
        text(
                all.isConstant()
                        ? "%s; each thinks %s cycles, from the end of a slot to the next request."
                                .formatted(cores, Numbers.grouped(all.min()))
                        : "%s; each thinks %s to %s cycles, %s on average, from the end of a slot to the next request; deviation %s of the mean (0 when fixed, about 1 when geometric)."
                                .formatted(
                                        cores,
                                        Numbers.grouped(all.min()),
                                        Numbers.grouped(all.max()),
                                        Numbers.groupedSignificant(all.mean(), 4),
                                        Numbers.significant(variation / all.count(), 2)),
                2);
    }

    private void predictions(List<Prediction> predictions) {
        if (predictions.isEmpty()) {
            return;
        }
        section("Theory and run");
        lines.add(Line.of(
                Ink.WEAK,
                "  %s%s   theory      run  differs".formatted(Glyphs.padded("theory", NAME), Glyphs.padded("of", 23))));
        for (Prediction one : predictions) {
            used.add(one.theory());
            prediction(one);
        }
    }

    private void prediction(Prediction one) {
        String quantity = one.of().isEmpty() ? one.quantity().text() : "share of " + one.of();
        String name = glyphs.cut(one.theory().text(), NAME - 1);
        lines.add(Line.of("  %s%s%9s%9s  %s"
                .formatted(
                        Glyphs.padded(name, NAME),
                        Glyphs.padded(quantity, 23),
                        number(one.predicted(), one.quantity()),
                        number(one.measured(), one.quantity()),
                        verdict(one))));
        for (String broken : one.broken()) {
            text(glyphs.sign("\u2013", "-") + " does not hold: " + broken, 6);
        }
    }

    private static String number(double number, Quantity quantity) {
        return quantity == Quantity.MEMORY_HELD || quantity == Quantity.SHARE
                ? "%.1f %%".formatted(100 * number)
                : Numbers.groupedSignificant(number, 4);
    }

    private static String verdict(Prediction one) {
        double percent = one.differencePercent();
        if (!one.bound()) {
            return Double.isNaN(percent) ? "-" : signed(percent);
        }
        // Waits have upper bounds where the design gives one, and lower ones by the asymptotes; the rest are upper.
        boolean lower = one.theory() == Theory.ASYMPTOTIC_BOUNDS && one.quantity() == Quantity.MEAN_WAIT;
        // What holds in the long run may be missed a little in a short one.
        double slack = 1e-9 + (lower ? LONG_RUN : 1e-9) * Math.abs(one.predicted());
        boolean reached = Math.abs(one.measured() - one.predicted()) <= slack;
        boolean kept = reached || (lower ? one.measured() > one.predicted() : one.measured() < one.predicted());
        String side = lower ? "at least" : "at most";
        return !kept ? "beyond it" : reached ? "reached" : side;
    }

    /** A difference in percent; one that rounds to nothing has no sign. */
    private static String signed(double percent) {
        return Math.abs(percent) < 0.05 ? "0.0 %" : "%+.1f %%".formatted(percent);
    }

    private void roof(Measurement measurement) {
        Roofline roofline = Predictions.roofline(measurement.report());
        Predictions.Point point = Predictions.point(measurement.report());
        section("Roofline");
        used.add(Theory.ROOFLINE);
        if (Double.isInfinite(point.intensity())) {
            text(
                    "No access: the peak of %s instructions a cycle is the roof; the run does %s."
                            .formatted(
                                    Numbers.significant(roofline.peak(), 4),
                                    Numbers.significant(point.performance(), 4)),
                    2);
            return;
        }
        double attainable = roofline.attainable(point.intensity());
        text(
                "%s instructions for each access; the ridge is at %s. Left of it the memory is the roof, right of it the peak of %s instructions a cycle: here %s, %s instructions a cycle at the most. The run does %s, %.0f %% of that."
                        .formatted(
                                Numbers.significant(point.intensity(), 4),
                                Numbers.significant(roofline.ridge(), 4),
                                Numbers.significant(roofline.peak(), 4),
                                point.intensity() < roofline.ridge() ? "the memory" : "the peak",
                                Numbers.significant(attainable, 4),
                                Numbers.significant(point.performance(), 4),
                                100 * point.performance() / attainable),
                2);
        text("A core does not work while its access is under way, so one core alone never comes near its roof.", 2);
    }

    // ---- a design and a think time

    /** The lines for a design with a think time. */
    public static List<Line> lines(ThinkTable table, Glyphs glyphs, int columns) {
        PredictView view = new PredictView(glyphs, columns);
        view.lines.add(Line.of(
                Ink.STRONG, "Theory for a think of %s cycles".formatted(Numbers.groupedSignificant(table.think(), 6))));
        view.lines.add(DesignView.oneLine(table.design(), glyphs, columns));
        view.bounds(table.design());
        view.table("Mean wait in cycles", table, run -> Numbers.significant(run.waitCycles(), 4));
        view.table("Memory held, of all time", table, run -> "%.1f %%".formatted(100 * run.utilization()));
        view.text(
                "A think runs from the end of a core's slot to its next request. Fixed: always the same; geometric: in"
                        + " every cycle the request comes with the same chance; queue: mean value analysis, which takes"
                        + " thinks and accesses for exponential and so waits too long. The cores at work are the lowest.",
                0);
        view.used.add(Theory.UNIFORM_PHASE);
        view.used.add(Theory.FIXED_THINK);
        view.used.add(Theory.GEOMETRIC_THINK);
        view.used.add(Theory.ASYMPTOTIC_BOUNDS);
        view.used.add(Theory.MEAN_VALUE_ANALYSIS);
        view.sources();
        return view.lines;
    }

    private void bounds(Design design) {
        section("Bounds of this design, whatever the program");
        TurnFigures figures = TurnFigures.of(design);
        CoreTurns shortest = null;
        CoreTurns longest = null;
        for (CoreTurns core : figures.cores()) {
            if (core.worstWait().isPresent()) {
                shortest = shortest == null || worst(core) < worst(shortest) ? core : shortest;
                longest = longest == null || worst(core) > worst(longest) ? core : longest;
            }
        }
        long bounded = figures.cores().stream()
                .filter(core -> core.worstWait().isPresent())
                .count();
        if (shortest == null || longest == null) {
            text("No wait has a bound.", 2);
        } else {
            String range = worst(shortest) == worst(longest)
                    ? Numbers.grouped(worst(longest))
                    : "%s (core %d) to %s (core %d)"
                            .formatted(
                                    Numbers.grouped(worst(shortest)),
                                    shortest.core(),
                                    Numbers.grouped(worst(longest)),
                                    longest.core());
            String rest = bounded < design.cores()
                    ? "; the other %d cores have no bound".formatted(design.cores() - bounded)
                    : "";
            text("Longest wait: %s cycles%s.".formatted(range, rest), 2);
        }
        if (design.admission() instanceof Admission.Rotation) {
            StringBuilder means = new StringBuilder();
            Set<Double> seen = new LinkedHashSet<>();
            for (CoreTurns core : figures.cores()) {
                core.meanWait().ifPresent(mean -> {
                    if (seen.add(mean)) {
                        means.append(means.isEmpty() ? "" : ", ")
                                .append("%s (core %d)".formatted(Numbers.significant(mean, 4), core.core()));
                    }
                });
            }
            String same = seen.size() == 1 ? Numbers.significant(seen.iterator().next(), 4) : means.toString();
            text("Mean wait of requests at every phase of the rotation equally often: %s cycles.".formatted(same), 2);
        }
    }

    private static long worst(CoreTurns core) {
        return core.worstWait().orElse(Long.MAX_VALUE);
    }

    private void table(String title, ThinkTable table, Function<LongRun, String> text) {
        section(title);
        lines.add(Line.of(Ink.WEAK, "  cores  in rotation:             on demand:"));
        lines.add(Line.of(Ink.WEAK, "  at work      fixed  geometric       fixed  geometric      queue"));
        for (ThinkTable.Row row : table.rows()) {
            lines.add(Line.of("%9d%11s%11s%12s%11s%11s"
                    .formatted(
                            row.cores(),
                            cell(row.fixedInTurn(), text),
                            cell(row.geometricInTurn(), text),
                            text.apply(row.fixedOnDemand()),
                            text.apply(row.geometricOnDemand()),
                            text.apply(row.queue()))));
        }
    }

    private static String cell(Optional<LongRun> run, Function<LongRun, String> text) {
        return run.map(text).orElse("-");
    }

    // ---- speed-up

    /**
     * The lines for a speed-up.
     *
     * @param program the program's name
     * @param varied what the number of processors is called
     * @param grown the constant that grew with it, or empty
     */
    public static List<Line> lines(
            String program, Design design, String varied, String grown, SpeedUp speedUp, Glyphs glyphs, int columns) {
        PredictView view = new PredictView(glyphs, columns);
        view.lines.add(Line.of(Ink.STRONG, glyphs.cut(glyphs.visible(program), columns - 12))
                .and(": speed-up"));
        view.lines.add(DesignView.oneLine(design, glyphs, columns));
        view.lines.add(Line.EMPTY);
        String law = speedUp.law().text();
        view.lines.add(Line.of(
                Ink.WEAK,
                "  %10s%14s%12s%18s%12s".formatted(glyphs.cut(varied, 10), "cycles", "speed-up", law, "differs")));
        for (int i = 0; i < speedUp.rows().size(); i++) {
            SpeedUp.Row row = speedUp.rows().get(i);
            view.lines.add(Line.of("  %10d%14s%12s%18s%12s"
                    .formatted(
                            row.processors(),
                            Numbers.grouped(row.cycles()),
                            Numbers.significant(row.measured(), 4),
                            Numbers.significant(row.predicted(), 4),
                            i < 2 ? "fitted" : signed(row.differencePercent()))));
        }
        view.lines.add(Line.EMPTY);
        String growing = grown.isEmpty() ? "" : " %s grows with %s.".formatted(grown, varied);
        view.text(
                "The serial part, %.1f %% of the time, is taken from the first two rows; for the others the law is a prediction. It takes for granted: %s.%s%s"
                        .formatted(
                                100 * speedUp.serialPart(),
                                speedUp.law().assumes(),
                                growing,
                                varied.equals("cores") && design.admission() instanceof Admission.Rotation
                                        ? " But with more cores the rotation gets longer, and with it each wait: that is no part of the law."
                                        : ""),
                0);
        view.used.add(speedUp.law());
        view.sources();
        return view.lines;
    }
}
