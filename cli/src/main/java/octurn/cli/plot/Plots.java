package octurn.cli.plot;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.function.ToDoubleFunction;
import octurn.compare.Comparison;
import octurn.compare.Comparison.Column;
import octurn.compare.RunFigures;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.machine.State;
import octurn.measure.AccessStalls;
import octurn.measure.Measurement;
import octurn.predict.Prediction;
import octurn.predict.Predictions;
import octurn.predict.Quantity;
import octurn.predict.Roofline;
import octurn.predict.SpeedUp;
import octurn.predict.Theory;
import octurn.predict.ThinkTable;
import octurn.report.RunReport;
import octurn.report.RunReport.CoreReport;
import octurn.sweep.Axis;
import octurn.sweep.Grid;
import octurn.sweep.SweepRow;

/** What is drawn for each kind of result. */
public final class Plots {

    /** More columns cannot be told apart. */
    private static final int MOST_COLUMNS = 64;

    /** More curves cannot be told apart: as many as there are colours. */
    private static final int MOST_CURVES = 7;

    /** More points are not told one by one. */
    private static final int MOST_WORDS = 200;

    private Plots() {}

    private static final Map<Picture.Part, List<State>> PARTS = new LinkedHashMap<>();

    static {
        PARTS.put(new Picture.Part("work", Picture.Fill.WORK), List.of(State.WORK));
        PARTS.put(new Picture.Part("wait", Picture.Fill.WAIT), List.of(State.WAIT));
        PARTS.put(new Picture.Part("slot", Picture.Fill.HOLD), List.of(State.SLOT));
        PARTS.put(new Picture.Part("code", Picture.Fill.CODE), List.of(State.CODE_WAIT, State.CODE_SLOT));
        PARTS.put(new Picture.Part("load", Picture.Fill.LOAD), List.of(State.LOAD_WAIT, State.LOAD_SLOT));
        PARTS.put(new Picture.Part("sleep", Picture.Fill.SLEEP), List.of(State.SLEEP));
        PARTS.put(new Picture.Part("idle", Picture.Fill.IDLE), List.of(State.IDLE));
        PARTS.put(new Picture.Part("fault", Picture.Fill.FAULT), List.of(State.FAULT));
    }

    private static String text(String format, Object... values) {
        return String.format(Locale.ROOT, format, values);
    }

    /** A design in one sentence, for captions. */
    private static String design(Design design) {
        String turns = design.admission() instanceof Admission.Rotation
                ? text("rotation of %d cycles", design.rotationCycles())
                : design.admission().policy();
        return text(
                "Design: %s (%d core%s, %s, slots of %d cycle%s, %s MHz).",
                design.name(),
                design.cores(),
                design.cores() == 1 ? "" : "s",
                turns,
                design.slotCycles(),
                design.slotCycles() == 1 ? "" : "s",
                number(design.clock().chipHertz() / 1e6));
    }

    /** With at most four digits behind the point, and none that say nothing. */
    private static String number(double number) {
        String text = text("%.4f", number);
        return text.replaceFirst("\\.?0+$", "");
    }

    // ---- where the cycles went

    /** Where each core's cycles went. */
    public static Picture states(RunReport report) {
        List<Picture.Bar> bars = new ArrayList<>();
        Map<String, List<Long>> rows = new LinkedHashMap<>();
        for (CoreReport core : report.cores()) {
            rows.put("core " + core.core(), lengths(core));
        }
        return bars(
                "Where the cycles went: " + report.program(),
                text(
                        "Program: %s, %,d cycles (%s). %s",
                        report.program(), report.cycles(), report.ended().text(), design(report.design())),
                rows,
                bars);
    }

    private static List<Long> lengths(CoreReport core) {
        List<Long> lengths = new ArrayList<>();
        PARTS.forEach((part, states) -> lengths.add(states.stream()
                .mapToLong(state -> core.states().getOrDefault(state, 0L))
                .sum()));
        return lengths;
    }

    private static Picture bars(String title, String caption, Map<String, List<Long>> rows, List<Picture.Bar> bars) {
        List<Picture.Part> parts = new ArrayList<>();
        List<Integer> used = new ArrayList<>();
        int i = 0;
        for (Picture.Part part : PARTS.keySet()) {
            int index = i++;
            if (rows.values().stream().anyMatch(lengths -> lengths.get(index) > 0)) {
                parts.add(part);
                used.add(index);
            }
        }
        StringBuilder words = new StringBuilder();
        rows.forEach((name, lengths) -> {
            bars.add(new Picture.Bar(name, used.stream().map(lengths::get).toList()));
            words.append(name).append(":");
            for (int part = 0; part < parts.size(); part++) {
                words.append(text(" %s %,d", parts.get(part).name(), lengths.get(used.get(part))));
            }
            words.append(". ");
        });
        return new Picture.Bars(title, caption, words.toString(), "cycles", parts, bars);
    }

    /** Under each design, where the cycles of the core went that decides when the run ends. */
    public static Picture comparison(String program, Comparison comparison) {
        Map<String, List<Long>> rows = new LinkedHashMap<>();
        StringBuilder cores = new StringBuilder();
        for (Column column : comparison.columns()) {
            if (column.entry() instanceof Comparison.Ran ran) {
                CoreReport core = Comparison.deciding(ran.report());
                List<Long> lengths = new ArrayList<>(lengths(core));
                // What comes after the core's end is another core's.
                lengths.set(6, 0L);
                String name = ran.name();
                while (rows.containsKey(name)) {
                    name += "'";
                }
                rows.put(name, lengths);
                cores.append(cores.isEmpty() ? "" : ", ").append(text("%s core %d", name, core.core()));
            }
        }
        return bars(
                "The core that decides, under each design: " + program,
                text("Program: %s. Shown is the core that decides when the run ends: %s.", program, cores),
                rows,
                new ArrayList<>());
    }

    // ---- waits

    /** How many accesses waited how long. */
    public static Picture waits(Measurement measurement) {
        SortedMap<Long, Long> counts = new TreeMap<>();
        for (AccessStalls stalls : measurement.stalls()) {
            stalls.histogram().forEach((wait, count) -> counts.merge(wait, count, Long::sum));
        }
        Design design = measurement.report().design();
        long most = counts.isEmpty() ? 0 : counts.lastKey();
        if (design.admission() instanceof Admission.Rotation) {
            most = Math.max(most, design.rotationCycles() - 1L);
        }
        long width = (most + MOST_COLUMNS) / MOST_COLUMNS;
        int columns = (int) (most / width) + 1;
        double[] heights = new double[columns];
        counts.forEach((wait, count) -> heights[(int) (wait / width)] += count);
        List<String> names = new ArrayList<>();
        List<Double> list = new ArrayList<>();
        StringBuilder words = new StringBuilder();
        for (int i = 0; i < columns; i++) {
            names.add(Long.toString(i * width));
            list.add(heights[i]);
            if (heights[i] > 0) {
                words.append(text(
                        "%s: %,d. ",
                        width == 1 ? "wait " + i : text("waits %d to %d", i * width, (i + 1) * width - 1),
                        (long) heights[i]));
            }
        }
        String scale = width == 1 ? "wait, cycles" : text("wait, cycles (columns of %d)", width);
        return new Picture.Columns(
                "How long accesses wait: " + measurement.report().program(),
                text(
                        "Program: %s, %,d data accesses in %,d cycles. %s",
                        measurement.report().program(),
                        counts.values().stream().mapToLong(Long::longValue).sum(),
                        measurement.report().cycles(),
                        design(design)),
                words.toString(),
                new Picture.Scale(scale, false),
                new Picture.Scale("accesses", false),
                names,
                List.of(new Picture.Group("accesses", list)));
    }

    // ---- sweeps

    /**
     * How long the points of a sweep take: along the first axis of numbers, a curve for each combination of the others.
     * Points that did not come to their end are left out.
     */
    public static Picture sweep(String program, Grid grid, List<SweepRow> rows, String sentence) {
        int along = 0;
        while (along < grid.axes().size() - 1 && !grid.axes().get(along).kind().isNumber()) {
            along++;
        }
        Axis axis = grid.axes().get(along);
        Map<String, List<Picture.Point>> curves = new LinkedHashMap<>();
        for (SweepRow row : rows) {
            if (row.finished()) {
                double x = axis.kind().isNumber()
                        ? Double.parseDouble(row.values().get(along))
                        : axis.values().indexOf(row.values().get(along));
                double y = row.figures().map(RunFigures::seconds).orElse(0.0) * 1e6;
                curves.computeIfAbsent(others(grid, row, along), key -> new ArrayList<>())
                        .add(new Picture.Point(x, y));
            }
        }
        boolean oneClock = grid.axes().stream().noneMatch(other -> other.name().startsWith("clock."));
        double perCycle = 1e6 / grid.base().clock().chipHertz();
        List<Picture.Curve> list = new ArrayList<>();
        curves.forEach((name, points) -> {
            if (list.size() < MOST_CURVES) {
                List<Picture.Point> scaled = oneClock
                        ? points.stream()
                                .map(point -> new Picture.Point(point.x(), Math.round(point.y() / perCycle)))
                                .toList()
                        : points;
                list.add(new Picture.Curve(name, scaled, axis.kind().isNumber(), true));
            }
        });
        String left = curves.size() > MOST_CURVES
                ? text(" Only the first %d of %d combinations are drawn.", MOST_CURVES, curves.size())
                : "";
        String unnumbered = axis.kind().isNumber() ? "" : " (" + numbered(axis) + ")";
        return new Picture.Curves(
                "%s against %s".formatted(program, axis.name()),
                "%s Program: %s. %s%s".formatted(sentence, program, design(grid.base()), left),
                words(rows),
                new Picture.Scale(axis.name() + unit(axis) + unnumbered, false),
                new Picture.Scale(oneClock ? "time, cycles" : "time, µs", false),
                list);
    }

    private static String words(List<SweepRow> rows) {
        StringBuilder words = new StringBuilder();
        for (SweepRow row : rows.subList(0, Math.min(MOST_WORDS, rows.size()))) {
            words.append(String.join(", ", row.values()))
                    .append(text(
                            ": %s. ",
                            row.finished()
                                    ? text(
                                            "%,d cycles",
                                            row.figures()
                                                    .map(RunFigures::cycles)
                                                    .orElse(0L))
                                    : row.status().text()));
        }
        return words.toString();
    }

    private static String numbered(Axis axis) {
        List<String> names = new ArrayList<>();
        for (int i = 0; i < axis.values().size(); i++) {
            names.add("%d: %s".formatted(i, axis.values().get(i)));
        }
        return String.join(", ", names);
    }

    private static String unit(Axis axis) {
        return axis.name().equals("slotCycles") || axis.name().startsWith("cost.") ? ", cycles" : "";
    }

    private static String others(Grid grid, SweepRow row, int along) {
        List<String> parts = new ArrayList<>();
        for (int i = 0; i < grid.axes().size(); i++) {
            if (i != along) {
                parts.add(grid.axes().get(i).name() + " " + row.values().get(i));
            }
        }
        return parts.isEmpty() ? "time" : String.join(", ", parts);
    }

    // ---- theory

    /** The roofline of a run's cores with the run below it. */
    public static Picture roofline(RunReport report) {
        Roofline roofline = Predictions.roofline(report);
        Predictions.Point point = Predictions.point(report);
        double at = Double.isFinite(point.intensity()) ? point.intensity() : 10 * roofline.ridge();
        double least = Math.min(0.5, at / 2);
        double most = round(Math.max(10 * roofline.ridge(), 2 * at));
        List<Picture.Point> roof = new ArrayList<>();
        roof.add(new Picture.Point(least, roofline.attainable(least)));
        roof.add(new Picture.Point(roofline.ridge(), roofline.attainable(roofline.ridge())));
        roof.add(new Picture.Point(most, roofline.peak()));
        double attainable = roofline.attainable(at);
        return new Picture.Curves(
                "Roofline: " + report.program(),
                text(
                        "Program: %s, %s instructions for each access, %s instructions a cycle: %.0f %% of the %s that"
                                + " the roof allows. %s Roofline after Williams, Waterman and Patterson, CACM 52(4),"
                                + " 2009.",
                        report.program(),
                        number(at),
                        number(point.performance()),
                        100 * point.performance() / attainable,
                        number(attainable),
                        design(report.design())),
                text(
                        "The roof rises with %s accesses a cycle up to %s instructions a cycle at intensity %s.",
                        number(roofline.bandwidth()), number(roofline.peak()), number(roofline.ridge())),
                new Picture.Scale("intensity, instructions for each access", true),
                new Picture.Scale("instructions a cycle", true),
                List.of(
                        new Picture.Curve("roof: least of peak and memory", roof, true, false),
                        new Picture.Curve(
                                report.program(),
                                List.of(new Picture.Point(at, Math.max(1e-9, point.performance()))),
                                false,
                                true)));
    }

    /** The next of 1, 2, 5, 10, 20 .. that is no less. */
    private static double round(double number) {
        double power = Math.pow(10, Math.floor(Math.log10(number)));
        for (double factor : new double[] {1, 2, 5}) {
            if (factor * power >= number * (1 - 1e-9)) {
                return factor * power;
            }
        }
        return 10 * power;
    }

    /** Predicted and measured waits side by side. */
    public static Picture predictions(RunReport report, List<Prediction> predictions) {
        List<String> names = new ArrayList<>();
        List<Double> predicted = new ArrayList<>();
        List<Double> measured = new ArrayList<>();
        StringBuilder words = new StringBuilder();
        List<String> sources = new ArrayList<>();
        for (Prediction one : predictions) {
            if (one.quantity() == Quantity.MEAN_WAIT || one.quantity() == Quantity.LONGEST_WAIT) {
                String name = one.quantity() == Quantity.LONGEST_WAIT
                        ? "longest: " + one.theory().text()
                        : one.theory().text();
                names.add(name);
                predicted.add(one.predicted());
                measured.add(one.measured());
                words.append(
                        text("%s: predicted %s, measured %s. ", name, number(one.predicted()), number(one.measured())));
                if (!one.theory().source().startsWith("derived")) {
                    sources.add("%s: %s."
                            .formatted(one.theory().text(), one.theory().source()));
                }
            }
        }
        return new Picture.Columns(
                "Waits, theory and run: " + report.program(),
                "Program: %s. %s %s".formatted(report.program(), design(report.design()), String.join(" ", sources)),
                words.toString(),
                new Picture.Scale("theory", false),
                new Picture.Scale("wait, cycles", false),
                names,
                List.of(new Picture.Group("predicted", predicted), new Picture.Group("measured", measured)));
    }

    /** How far the memory is used by so many cores, by theory. */
    public static Picture thinkTable(ThinkTable table) {
        Map<String, List<Picture.Point>> curves = new LinkedHashMap<>();
        for (ThinkTable.Row row : table.rows()) {
            row.fixedInTurn().ifPresent(run -> add(curves, "rotation, fixed think", row, run.utilization()));
            row.geometricInTurn().ifPresent(run -> add(curves, "rotation, geometric think", row, run.utilization()));
            add(curves, "on demand, fixed think", row, row.fixedOnDemand().utilization());
            add(
                    curves,
                    "on demand, geometric think",
                    row,
                    row.geometricOnDemand().utilization());
            add(curves, "on demand, mean value analysis", row, row.queue().utilization());
        }
        List<Picture.Curve> list = new ArrayList<>();
        StringBuilder words = new StringBuilder();
        curves.forEach((name, points) -> {
            list.add(new Picture.Curve(name, points, true, true));
            Picture.Point last = points.get(points.size() - 1);
            words.append(text("%s: %.0f %% with %d cores. ", name, last.y(), (int) last.x()));
        });
        return new Picture.Curves(
                text("Memory held, by theory: think of %s cycles", number(table.think())),
                text("%s Mean value analysis: %s.", design(table.design()), Theory.MEAN_VALUE_ANALYSIS.source()),
                words.toString(),
                new Picture.Scale("cores at work", false),
                new Picture.Scale("memory held, percent of the time", false),
                list);
    }

    private static void add(
            Map<String, List<Picture.Point>> curves, String name, ThinkTable.Row row, double utilization) {
        curves.computeIfAbsent(name, key -> new ArrayList<>()).add(new Picture.Point(row.cores(), 100 * utilization));
    }

    /** Speed-up measured and by its law. */
    public static Picture speedUp(String program, Design design, String varied, SpeedUp speedUp) {
        return new Picture.Curves(
                "Speed-up: " + program,
                text(
                        "Program: %s, %s varied. %s Serial part %.1f %%, from the first two points. Law: %s.",
                        program,
                        varied,
                        design(design),
                        100 * speedUp.serialPart(),
                        speedUp.law().source()),
                text("Measured and by %s.", speedUp.law().text()),
                new Picture.Scale(varied, false),
                new Picture.Scale("times as fast as with one", false),
                List.of(
                        curve("measured", speedUp, SpeedUp.Row::measured),
                        curve(speedUp.law().text(), speedUp, SpeedUp.Row::predicted),
                        curve("as many times as fast", speedUp, SpeedUp.Row::processors)));
    }

    private static Picture.Curve curve(String name, SpeedUp speedUp, ToDoubleFunction<SpeedUp.Row> value) {
        return new Picture.Curve(
                name,
                speedUp.rows().stream()
                        .map(row -> new Picture.Point(row.processors(), value.applyAsDouble(row)))
                        .toList(),
                true,
                true);
    }
}
