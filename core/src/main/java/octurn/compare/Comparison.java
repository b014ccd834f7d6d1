package octurn.compare;

import java.util.List;
import java.util.Optional;
import octurn.asm.Program;
import octurn.compare.Outcome.Difference;
import octurn.report.RunReport;
import octurn.report.RunReport.CoreReport;

/**
 * A program under several designs; the first is what the others are compared with.
 *
 * @param columns one a design, in the order in which they were given
 */
public record Comparison(List<Column> columns) {

    public Comparison {
        columns = List.copyOf(columns);
        if (columns.isEmpty()) {
            throw new IllegalArgumentException("nothing to compare");
        }
    }

    /** What became of the program under one design. */
    public sealed interface Entry {
        /** The design's name. */
        String name();
    }

    /**
     * It ran.
     *
     * @param program as it was assembled for the design
     * @param report of its run
     */
    public record Ran(String name, Program program, RunReport report) implements Entry {}

    /**
     * It cannot run under this design.
     *
     * @param why in one line
     */
    public record Unfit(String name, String why) implements Entry {}

    /**
     * One design.
     *
     * @param entry what became of the program
     * @param figures of the run, if it ran
     * @param speedUp how many times as fast as under the first design, by time; if both came to their end
     * @param differences where its result differs from that of the first; empty if it does not, or if one
     *     did not come to its end
     * @param sentence what to say of it
     */
    public record Column(
            Entry entry,
            Optional<RunFigures> figures,
            Optional<Double> speedUp,
            List<Difference> differences,
            String sentence) {
        public Column {
            differences = List.copyOf(differences);
        }
    }

    /** Compares these runs of one program; the first is the yardstick. */
    public static Comparison of(List<Entry> entries) {
        Entry first = entries.get(0);
        return new Comparison(
                entries.stream().map(entry -> column(first, entry)).toList());
    }

    /**
     * The core that decides when a run ends: of those that are active for at least nine tenths as long as the longest,
     * the one that works the most, for others may only wait for it; of equals the lowest.
     */
    public static CoreReport deciding(RunReport report) {
        return Why.deciding(report);
    }

    private static Column column(Entry first, Entry entry) {
        if (!(entry instanceof Ran ran)) {
            String why = ((Unfit) entry).why();
            return new Column(entry, Optional.empty(), Optional.empty(), List.of(), "It cannot run: " + why);
        }
        RunFigures figures = RunFigures.of(ran.report());
        if (!(first instanceof Ran base)) {
            return new Column(entry, Optional.of(figures), Optional.empty(), List.of(), Why.alone(ran.report()));
        }
        RunFigures baseFigures = RunFigures.of(base.report());
        boolean bothFinished = figures.finished() && baseFigures.finished();
        Optional<Double> speedUp = bothFinished && figures.cycles() > 0
                ? Optional.of(baseFigures.seconds() / figures.seconds())
                : Optional.empty();
        List<Difference> differences = entry == first || !bothFinished
                ? List.of()
                : new Outcome(base.program(), base.report()).differences(new Outcome(ran.program(), ran.report()));
        String sentence =
                entry == first ? Why.alone(ran.report()) : Why.compared(base.report(), ran.report(), differences);
        return new Column(entry, Optional.of(figures), speedUp, differences, sentence);
    }
}
