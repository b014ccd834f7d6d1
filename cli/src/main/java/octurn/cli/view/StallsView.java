package octurn.cli.view;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.TreeSet;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.measure.AccessStalls;
import octurn.measure.LoopPasses;
import octurn.measure.LoopPasses.Steady;
import octurn.measure.Measurement;
import octurn.measure.Measurement.Between;
import octurn.measure.RegionPasses;
import octurn.measure.RegionPasses.Pass;
import octurn.measure.Spread;
import octurn.measure.TurnRule;
import octurn.report.Places;
import octurn.report.TurnFigures;
import org.jspecify.annotations.Nullable;

/** Stalls explained: the waits of each access line and what the rule of turns says of it, loops, and times between labels. */
public final class StallsView {

    private static final int MOST_LINES = 12;
    private static final int WIDEST_HISTOGRAM = 36;

    private final Measurement measurement;
    private final Design design;
    private final Glyphs glyphs;
    private final int columns;
    private final List<Line> lines = new ArrayList<>();

    private StallsView(Measurement measurement, Glyphs glyphs, int columns) {
        this.measurement = measurement;
        this.design = measurement.report().design();
        this.glyphs = glyphs;
        this.columns = columns;
    }

    /** The lines; {@code columns} to fill, at least 80. */
    public static List<Line> lines(Measurement measurement, Glyphs glyphs, int columns) {
        StallsView view = new StallsView(measurement, glyphs, columns);
        view.lines.addAll(Headings.of(measurement.report(), glyphs, columns));
        view.between();
        view.waits();
        view.loops();
        return view.lines;
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

    // ---- waits by line

    /** All accesses of one line of the program, of all cores. */
    private static final class AccessLine {
        private final int line;
        private final TreeSet<Integer> cores = new TreeSet<>();
        private Spread waits = Spread.NONE;
        private final SortedMap<Long, Long> histogram = new TreeMap<>();
        private @Nullable TurnRule rule;
        private boolean ruled = true;

        AccessLine(int line) {
            this.line = line;
        }

        void add(AccessStalls stalls) {
            cores.add(stalls.core());
            waits = waits.and(stalls.waits());
            stalls.histogram().forEach((wait, count) -> histogram.merge(wait, count, Long::sum));
            TurnRule turns = stalls.turns();
            TurnRule so = rule;
            if (turns == null) {
                ruled = false;
            } else {
                rule = so == null ? turns : so.and(turns);
            }
        }

        Optional<TurnRule> rule() {
            return ruled ? Optional.ofNullable(rule) : Optional.empty();
        }
    }

    private void waits() {
        Map<Integer, AccessLine> byLine = new TreeMap<>();
        for (AccessStalls stalls : measurement.stalls()) {
            byLine.computeIfAbsent(stalls.line(), AccessLine::new).add(stalls);
        }
        section("Waits for shared memory by line, the longest in all first");
        if (byLine.isEmpty()) {
            text("No access to shared memory was admitted: there is nothing to wait for.", 2);
            return;
        }
        List<AccessLine> worstFirst = byLine.values().stream()
                .sorted(Comparator.comparingLong((AccessLine line) -> -line.waits.total())
                        .thenComparingLong(line -> -line.waits.count())
                        .thenComparingInt(line -> line.line))
                .toList();
        long most = scale(worstFirst);
        int width = Math.min(WIDEST_HISTOGRAM, columns - 56);
        int cells = Bars.cells(most, width);
        int shift = Math.max(cells, 5);
        lines.add(Line.of(
                Ink.WEAK,
                " line cores  count   min  mean   max %s source"
                        .formatted(Glyphs.padded(Bars.scale(most, width, glyphs), shift))));
        for (AccessLine line : worstFirst.subList(0, Math.min(MOST_LINES, worstFirst.size()))) {
            row(line, most, width, shift);
            advice(line);
        }
        if (worstFirst.size() > MOST_LINES) {
            int more = worstFirst.size() - MOST_LINES;
            lines.add(Line.of(Ink.WEAK, "        and %d more line%s".formatted(more, more == 1 ? "" : "s")));
        }
        ruleRemark(worstFirst);
    }

    /** The greatest number of the histograms: what the design bounds, or else what was seen. */
    private long scale(List<AccessLine> all) {
        long most = 0;
        TurnFigures figures = TurnFigures.of(design);
        for (AccessLine line : all) {
            for (int core : line.cores) {
                most = Math.max(most, figures.cores().get(core).worstWait().orElse(0));
            }
            most = Math.max(most, line.waits.max());
        }
        return most;
    }

    private void row(AccessLine line, long most, int width, int shift) {
        String figures = "%5s%6d%7s%6s%6s%6s "
                .formatted(
                        line.line == 0 ? "-" : Integer.toString(line.line),
                        line.cores.size(),
                        Numbers.brief(line.waits.count()),
                        Numbers.briefer(line.waits.min()),
                        Numbers.mean(line.waits.total(), line.waits.count()),
                        Numbers.briefer(line.waits.max()));
        String histogram = Glyphs.padded(Bars.histogram(line.histogram, most, width, glyphs), shift);
        String source = line.line == 0 ? "(from no line of the file)" : source(line.line);
        lines.add(Line.of(figures)
                .and(Ink.RED, histogram)
                .and(" " + glyphs.cut(source, Math.max(4, columns - figures.length() - shift - 1))));
    }

    /** A line of the program without label and comment. */
    private String source(int line) {
        String text = measurement.program().sourceLine(line);
        String code = text.substring(0, Places.commentAt(text)).strip();
        return glyphs.visible(
                code.replaceFirst("^[A-Za-z_][A-Za-z0-9_]*[ \t]*:[ \t]*", "").replaceAll("[ \t]+", " "));
    }

    /** What the rule of turns says of a line; see docs/stalls.md. */
    private void advice(AccessLine line) {
        line.rule().ifPresent(rule -> text(AdviceText.of(line.histogram, rule, rotation(line)), 8));
    }

    /** The cycles between two slots of each core of a line, if they are always the same; 0 otherwise. */
    private long rotation(AccessLine line) {
        TurnFigures figures = TurnFigures.of(design);
        boolean oneSlot =
                line.cores.stream().allMatch(core -> figures.cores().get(core).slots() == 1);
        return oneSlot ? design.rotationCycles() : 0;
    }

    private void ruleRemark(List<AccessLine> all) {
        boolean unruled = all.stream().anyMatch(line -> line.rule().isEmpty());
        if (!unruled) {
            return;
        }
        boolean inTurn = design.admission() instanceof Admission.Rotation;
        boolean ownPort = design.admission() instanceof Admission.OwnPort;
        lines.add(Line.EMPTY);
        text(
                ownPort
                        ? "With a port of its own no core ever waits; each cycle of work more or less counts."
                        : inTurn
                                ? "No advice for code in shared memory: each instruction more is a fetch more."
                                : ("Under %s no cycle is free for sure: who asks later may find another core before it."
                                                + " octurn compare tells what a change is worth.")
                                        .formatted(design.admission().policy()),
                2);
    }

    // ---- loops

    /** One loop of the text, of all cores that run it. */
    private record LoopLines(int head, int tail) {}

    private void loops() {
        if (measurement.loops().isEmpty()) {
            return;
        }
        Map<LoopLines, List<LoopPasses>> byLines =
                new TreeMap<>(Comparator.comparingInt(LoopLines::head).thenComparingInt(LoopLines::tail));
        for (LoopPasses loop : measurement.loops()) {
            byLines.computeIfAbsent(new LoopLines(loop.headLine(), loop.tailLine()), key -> new ArrayList<>())
                    .add(loop);
        }
        section("Loops: cycles from one start of the first line to the next");
        boolean inTurn = design.admission() instanceof Admission.Rotation;
        lines.add(Line.of(
                Ink.WEAK,
                "    lines cores  trips   min   mean    max  waits%s  steady from (cycle)"
                        .formatted(inTurn ? " rotations" : "")));
        for (Map.Entry<LoopLines, List<LoopPasses>> entry : byLines.entrySet()) {
            for (List<LoopPasses> alike : alike(entry.getValue())) {
                loop(entry.getKey(), alike, inTurn);
            }
        }
    }

    /** Cores whose passes settle into the same period come together in one row. */
    private static List<List<LoopPasses>> alike(List<LoopPasses> loops) {
        Map<String, List<LoopPasses>> groups = new TreeMap<>();
        for (LoopPasses loop : loops) {
            String period = loop.steady()
                    .map(steady -> "%d/%d".formatted(steady.periodCycles(), steady.periodPasses()))
                    .orElse("none");
            groups.computeIfAbsent(period, key -> new ArrayList<>()).add(loop);
        }
        return groups.values().stream()
                .sorted(Comparator.comparingInt(
                        (List<LoopPasses> group) -> group.get(0).core()))
                .toList();
    }

    private void loop(LoopLines where, List<LoopPasses> loops, boolean inTurn) {
        Spread cycles = Spread.NONE;
        Spread waits = Spread.NONE;
        long trips = 0;
        for (LoopPasses loop : loops) {
            cycles = cycles.and(loop.cycles());
            waits = waits.and(loop.waits());
            trips += loop.trips();
        }
        String place = where.head() == where.tail()
                ? Integer.toString(where.head())
                : "%d..%d".formatted(where.head(), where.tail());
        String figures = "%9s%6d%7s%6s%7s%7s%7s"
                .formatted(
                        place,
                        loops.size(),
                        Numbers.brief(trips),
                        Numbers.briefer(cycles.min()),
                        Numbers.mean(cycles.total(), cycles.count()),
                        Numbers.briefer(cycles.max()),
                        Numbers.mean(waits.total(), waits.count()));
        String rotations =
                inTurn ? "%10s".formatted(Numbers.significant(cycles.mean() / design.rotationCycles(), 4)) : "";
        lines.add(Line.of(figures + rotations + "  " + steady(loops)));
    }

    private String steady(List<LoopPasses> loops) {
        Optional<Steady> first = loops.get(0).steady();
        if (first.isEmpty()) {
            return "no steady pattern";
        }
        Steady steady = first.get();
        long latest = steady.fromPass();
        long cycle = steady.fromCycle();
        for (LoopPasses loop : loops) {
            long from = loop.steady().map(Steady::fromPass).orElse(0L);
            if (from > latest) {
                latest = from;
                cycle = loop.steady().map(Steady::fromCycle).orElse(0L);
            }
        }
        return "%s (%s): %s".formatted(Numbers.grouped(latest), Numbers.grouped(cycle), period(steady));
    }

    private String period(Steady steady) {
        return steady.periodPasses() == 1
                ? Numbers.grouped(steady.periodCycles())
                : "%s each %d".formatted(Numbers.grouped(steady.periodCycles()), steady.periodPasses());
    }

    // ---- between two labels

    private void between() {
        measurement.between().ifPresent(this::between);
    }

    private void between(Between between) {
        String deadline = between.withinCycles().isPresent()
                ? ", within %s".formatted(cyclesAndTime(between.withinCycles().getAsLong()))
                : "";
        section("From %s to %s, by core%s"
                .formatted(glyphs.visible(between.from()), glyphs.visible(between.to()), deadline));
        if (between.regions().isEmpty()) {
            text("No core ever came to %s.".formatted(between.from()), 2);
            return;
        }
        String micros = glyphs.sign("\u00b5s", "us");
        boolean dated = between.withinCycles().isPresent();
        lines.add(Line.of(
                Ink.WEAK,
                " core passes    min    mean    max   mean %s    max %s waits mean   max%s"
                        .formatted(micros, micros, dated ? "  late" : "")));
        for (RegionPasses region : between.regions()) {
            region(region, dated);
        }
        remarks(between);
    }

    private void region(RegionPasses region, boolean dated) {
        Spread cycles = region.cycles();
        String late = dated ? "%6s".formatted(Numbers.briefer(region.misses())) : "";
        if (cycles.count() == 0) {
            lines.add(Line.of("%5d%7s%s".formatted(region.core(), "none", " ".repeat(dated ? 57 : 0)) + late));
            return;
        }
        lines.add(Line.of("%5d%7s%7s%8s%7s%10s%10s%11s%6s%s"
                .formatted(
                        region.core(),
                        Numbers.brief(cycles.count()),
                        Numbers.brief(cycles.min()),
                        Numbers.mean(cycles.total(), cycles.count()),
                        Numbers.brief(cycles.max()),
                        micros(cycles.mean()),
                        micros((double) cycles.max()),
                        Numbers.mean(region.waits().total(), region.waits().count()),
                        Numbers.briefer(region.waits().max()),
                        late)));
    }

    private String micros(double cycles) {
        return Numbers.groupedSignificant(cycles * 1e6 / design.clock().chipHertz(), 4);
    }

    private String cyclesAndTime(long cycles) {
        return "%s cycle%s = %s"
                .formatted(
                        Numbers.grouped(cycles),
                        cycles == 1 ? "" : "s",
                        Numbers.duration((double) cycles / design.clock().chipHertz(), glyphs));
    }

    private void remarks(Between between) {
        RegionPasses worst = null;
        RegionPasses first = null;
        long late = 0;
        long again = 0;
        for (RegionPasses region : between.regions()) {
            again += region.again();
            late += region.misses();
            worst = region.worst().isPresent() && (worst == null || longest(region) > longest(worst)) ? region : worst;
            first = region.firstMiss().isPresent() && (first == null || begin(region) < begin(first)) ? region : first;
        }
        if (worst != null && worst.worst().isPresent()) {
            Pass pass = worst.worst().get();
            text(
                    "The longest: pass %s of core %d, from cycle %s, %s."
                            .formatted(
                                    Numbers.grouped(pass.number()),
                                    worst.core(),
                                    Numbers.grouped(pass.from()),
                                    cyclesAndTime(pass.cycles())),
                    2);
        }
        if (between.withinCycles().isPresent()) {
            deadline(between, between.withinCycles().getAsLong(), late, first);
        }
        for (RegionPasses region : between.regions()) {
            region.open()
                    .ifPresent(open -> text(
                            "At the end of the run core %d was on its way, since cycle %s (%s)."
                                    .formatted(
                                            region.core(), Numbers.grouped(open.from()), cyclesAndTime(open.cycles())),
                            2));
        }
        if (again > 0 && !between.from().equals(between.to())) {
            text(
                    "%s times a core came to %s again before %s; such a pass is timed from the first."
                            .formatted(Numbers.grouped(again), between.from(), between.to()),
                    2);
        }
    }

    private void deadline(Between between, long within, long late, @Nullable RegionPasses first) {
        Optional<Pass> miss = first == null ? Optional.empty() : first.firstMiss();
        if (first == null || miss.isEmpty()) {
            text("Every pass keeps within %s.".formatted(cyclesAndTime(within)), 2);
            return;
        }
        Pass pass = miss.get();
        boolean open = first.open().equals(miss);
        String text = "Too long: %s pass%s. The first is pass %s of core %d, from cycle %s to %s: %s, %s too long%s."
                .formatted(
                        Numbers.grouped(late),
                        late == 1 ? "" : "es",
                        Numbers.grouped(pass.number()),
                        first.core(),
                        Numbers.grouped(pass.from()),
                        Numbers.grouped(pass.from() + pass.cycles()),
                        cyclesAndTime(pass.cycles()),
                        cyclesAndTime(pass.cycles() - within),
                        open ? " and not at %s yet".formatted(between.to()) : "");
        for (String line : glyphs.wrapped(glyphs.visible(text), columns - 2)) {
            lines.add(Line.of("  ").and(Ink.ALARM, line));
        }
    }

    private static long longest(RegionPasses region) {
        return region.worst().map(Pass::cycles).orElse(-1L);
    }

    private static long begin(RegionPasses region) {
        return region.firstMiss().map(Pass::from).orElse(Long.MAX_VALUE);
    }
}
