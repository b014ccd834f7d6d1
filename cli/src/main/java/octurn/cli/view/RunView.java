package octurn.cli.view;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import octurn.asm.Program;
import octurn.design.Design;
import octurn.machine.End;
import octurn.machine.State;
import octurn.report.RunReport;
import octurn.report.RunReport.CoreReport;
import octurn.report.RunReport.FaultReport;
import octurn.report.RunReport.HotSpot;
import octurn.report.Shares;
import octurn.report.Verdict;

/** The report of a run for people: what ran, where every cycle went, what was slow, and what limits the program. */
public final class RunView {

    private static final int MOST_HOT_LINES = 10;

    private final RunReport report;
    private final Program program;
    private final boolean defaultLimit;
    private final Glyphs glyphs;
    private final int columns;
    private final List<Line> lines = new ArrayList<>();

    private RunView(RunReport report, Program program, boolean defaultLimit, Glyphs glyphs, int columns) {
        this.report = report;
        this.program = program;
        this.defaultLimit = defaultLimit;
        this.glyphs = glyphs;
        this.columns = columns;
    }

    /**
     * The report's lines.
     *
     * @param program the program that ran, for its text
     * @param defaultLimit whether nobody had chosen the limit of the run
     * @param columns to fill, at least 80
     */
    public static List<Line> lines(
            RunReport report, Program program, boolean defaultLimit, Glyphs glyphs, int columns) {
        RunView view = new RunView(report, program, defaultLimit, glyphs, columns);
        view.heading();
        view.cores();
        view.hotSpots();
        view.faults();
        view.warnings();
        view.verdict();
        return view.lines;
    }

    private void text(Ink ink, String text) {
        for (String line : glyphs.wrapped(text, columns)) {
            lines.add(Line.of(ink, line));
        }
    }

    private void section(String title) {
        lines.add(Line.EMPTY);
        lines.add(Line.of(Ink.STRONG, title));
    }

    // ---- what ran

    private void heading() {
        Design design = report.design();
        String cycles = Numbers.grouped(report.cycles()) + (report.cycles() == 1 ? " cycle" : " cycles");
        boolean anyFault = report.cores().stream().anyMatch(core -> core.fault() != null);
        String end = switch (report.ended()) {
            case ALL_IDLE -> anyFault ? "every core is idle or in fault after " : "every core is idle after ";
            case STUCK -> "stuck after ";
            case LIMIT -> "stopped at the limit of ";
        };
        String time = Numbers.duration((double) report.cycles() / design.clock().chipHertz(), glyphs);
        String ended = ": %s%s = %s".formatted(end, cycles, time);
        String name = glyphs.cut(glyphs.visible(report.program()), columns - Glyphs.width(ended));
        lines.add(Line.of(Ink.STRONG, name).and(ended));
        lines.add(DesignView.oneLine(design, glyphs, columns));
    }

    // ---- one row a core

    private void cores() {
        if (report.cycles() == 0) {
            return;
        }
        Set<State> occurring = EnumSet.noneOf(State.class);
        for (CoreReport core : report.cores()) {
            core.states().forEach((state, cycles) -> {
                if (cycles > 0) {
                    occurring.add(state);
                }
            });
        }
        List<StateMarks> marks = StateMarks.of(occurring);
        boolean turns = report.cores().stream().anyMatch(core -> core.turnsOffered() >= 0);
        int figures = 4 * marks.size() + 26 + (turns ? 15 : 0);
        int bar = Math.max(4, Math.min(40, columns - 5 - figures));
        lines.add(Line.EMPTY);
        legend(marks);
        lines.add(Line.EMPTY);
        head(marks, bar, turns);
        List<CoreReport> cores = report.cores();
        for (int i = 0; i < cores.size(); i++) {
            int last = i;
            while (last < cores.size() && neverRan(cores.get(last))) {
                last++;
            }
            if (last - i >= 2) {
                String range = "%d..%d"
                        .formatted(cores.get(i).core(), cores.get(last - 1).core());
                lines.add(Line.of(Ink.WEAK, "%6s  idle all the time".formatted(range)));
                i = last - 1;
            } else {
                lines.add(row(cores.get(i), marks, bar, turns));
            }
        }
    }

    private boolean neverRan(CoreReport core) {
        return core.states().getOrDefault(State.IDLE, 0L) == report.cycles();
    }

    private void legend(List<StateMarks> marks) {
        Line line = Line.of("Cycles:");
        int used = 7;
        for (StateMarks mark : marks) {
            String text = " " + mark.text();
            int needed = 3 + text.length();
            if (used + needed > columns) {
                lines.add(line);
                line = Line.of("       ");
                used = 7;
            }
            line = line.and("  ").and(mark.ink(), mark.mark(glyphs)).and(text);
            used += needed;
        }
        lines.add(line);
    }

    private void head(List<StateMarks> marks, int bar, boolean turns) {
        String figures = Glyphs.padded("percent", 4 * marks.size());
        String above =
                " ".repeat(5 + bar) + " " + figures + "        waits in cycles" + (turns ? "         turns" : "");
        lines.add(Line.of(Ink.WEAK, above));
        Line line = Line.of(Ink.WEAK, Glyphs.padded("core", 5 + bar));
        for (StateMarks mark : marks) {
            line = line.and("   ").and(mark.ink(), mark.mark(glyphs));
        }
        lines.add(line.and(Ink.WEAK, "   count  mean   min   max" + (turns ? "   used offered" : "")));
    }

    private Line row(CoreReport core, List<StateMarks> marks, int bar, boolean turns) {
        long[] parts = marks.stream()
                .mapToLong(mark -> mark.states().stream()
                        .mapToLong(state -> core.states().getOrDefault(state, 0L))
                        .sum())
                .toArray();
        int[] cells = Shares.split(bar, parts);
        int[] percent = Shares.percent(parts);
        Line line = Line.of("%4d ".formatted(core.core()));
        for (int i = 0; i < cells.length; i++) {
            StateMarks mark = marks.get(i);
            line = line.and(mark.ink(), mark.mark(glyphs).repeat(cells[i]));
        }
        StringBuilder figures = new StringBuilder();
        for (int i = 0; i < percent.length; i++) {
            figures.append("%4s".formatted(parts[i] == 0 ? "" : Integer.toString(percent[i])));
        }
        RunReport.Waits waits = core.waits();
        boolean any = core.accesses() > 0;
        figures.append("%8s%6s%6s%6s"
                .formatted(
                        Numbers.brief(core.accesses()),
                        any ? Numbers.mean(waits.total(), core.accesses()) : "",
                        any ? Numbers.briefer(waits.min()) : "",
                        any ? Numbers.briefer(waits.max()) : ""));
        if (turns) {
            figures.append("%7s%8s".formatted(Numbers.brief(core.turnsUsed()), Numbers.brief(core.turnsOffered())));
        }
        return line.and(figures.toString());
    }

    // ---- hot spots by line

    /** All accesses of one line of the program. */
    private static final class HotLine {
        private final int line;
        private final Set<Integer> cores = new TreeSet<>();
        private long count;
        private long total;
        private long min = Long.MAX_VALUE;
        private long max;

        HotLine(int line) {
            this.line = line;
        }

        void add(HotSpot spot) {
            cores.add(spot.core());
            count += spot.count();
            total += spot.total();
            min = Math.min(min, spot.min());
            max = Math.max(max, spot.max());
        }
    }

    private void hotSpots() {
        Map<Integer, HotLine> byLine = new TreeMap<>();
        for (HotSpot spot : report.hotSpots()) {
            byLine.computeIfAbsent(spot.line(), HotLine::new).add(spot);
        }
        if (byLine.isEmpty()) {
            return;
        }
        List<HotLine> worstFirst = byLine.values().stream()
                .sorted(Comparator.comparingLong((HotLine hot) -> -hot.total)
                        .thenComparingLong(hot -> -hot.count)
                        .thenComparingInt(hot -> hot.line))
                .toList();
        section("Accesses by line, the longest waits first");
        lines.add(Line.of(Ink.WEAK, "  line cores  count waited  mean   min   max  source"));
        for (HotLine hot : worstFirst.subList(0, Math.min(MOST_HOT_LINES, worstFirst.size()))) {
            String figures = "%6s%6d%7s%7s%6s%6s%6s  "
                    .formatted(
                            hot.line == 0 ? "-" : Integer.toString(hot.line),
                            hot.cores.size(),
                            Numbers.brief(hot.count),
                            Numbers.brief(hot.total),
                            Numbers.mean(hot.total, hot.count),
                            Numbers.briefer(hot.min),
                            Numbers.briefer(hot.max));
            String source = hot.line == 0 ? "(words from no line of the file)" : source(hot.line);
            lines.add(Line.of(figures + glyphs.cut(source, columns - figures.length())));
        }
        if (worstFirst.size() > MOST_HOT_LINES) {
            int more = worstFirst.size() - MOST_HOT_LINES;
            lines.add(Line.of(Ink.WEAK, "        and %d more line%s".formatted(more, more == 1 ? "" : "s")));
        }
    }

    /** A line of the program, blanks drawn together. */
    private String source(int line) {
        return glyphs.visible(program.sourceLine(line).strip().replaceAll("[ \t]+", " "));
    }

    // ---- faults, warnings, verdict

    private void faults() {
        List<CoreReport> faulted =
                report.cores().stream().filter(core -> core.fault() != null).toList();
        if (faulted.isEmpty()) {
            return;
        }
        section("Faults");
        for (CoreReport core : faulted) {
            FaultReport fault = core.fault();
            if (fault == null) {
                continue;
            }
            String place = "  core %d at cycle %s, %s %s: "
                    .formatted(
                            core.core(),
                            Numbers.grouped(fault.cycle()),
                            fault.inShared() ? "shared" : "private",
                            Integer.toUnsignedString(fault.address()));
            lines.add(Line.of(place).and(Ink.ALARM, fault.kind().text()));
            for (String line : glyphs.wrapped(glyphs.visible(fault.message()), columns - 4)) {
                lines.add(Line.of("    " + line));
            }
            if (fault.line() > 0) {
                String source = "    line %d: %s".formatted(fault.line(), source(fault.line()));
                lines.add(Line.of(glyphs.cut(source, columns)));
            }
        }
    }

    private void warnings() {
        List<String> warnings = new ArrayList<>();
        if (report.clashCycles() > 0) {
            List<String> cores = report.cores().stream()
                    .filter(core -> core.clashes() > 0)
                    .map(core -> Integer.toString(core.core()))
                    .toList();
            warnings.add(("In %s cycle%s a pin was driven to different levels (by core%s %s and others or the outside)."
                            + " On real parts two outputs that fight can destroy each other.")
                    .formatted(
                            Numbers.grouped(report.clashCycles()),
                            report.clashCycles() == 1 ? "" : "s",
                            cores.size() == 1 ? "" : "s",
                            String.join(", ", cores)));
        }
        if (defaultLimit && report.ended() == End.LIMIT) {
            warnings.add(
                    "The run was ended by the limit that protects from endless programs; --cycles N sets another.");
        }
        if (!warnings.isEmpty()) {
            section("Warnings");
            for (String warning : warnings) {
                List<String> wrapped = glyphs.wrapped(warning, columns - 2);
                wrapped.forEach(line -> lines.add(Line.of("  " + line)));
            }
        }
    }

    private void verdict() {
        lines.add(Line.EMPTY);
        text(Ink.STRONG, glyphs.visible(Verdict.of(report).sentence()));
    }
}
