package octurn.cli.view;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Function;
import octurn.compare.Comparison;
import octurn.compare.Comparison.Column;
import octurn.compare.RunFigures;
import octurn.machine.End;

/** A program under several designs: a table with a column for each, and a sentence that says why. */
public final class CompareView {

    private static final int LABEL = 19;
    private static final int COLUMN = 15;

    private final Comparison comparison;
    private final Glyphs glyphs;
    private final int columns;
    private final List<Line> lines = new ArrayList<>();

    private CompareView(Comparison comparison, Glyphs glyphs, int columns) {
        this.comparison = comparison;
        this.glyphs = glyphs;
        this.columns = columns;
    }

    /**
     * The lines.
     *
     * @param program the program's name
     * @param columns to fill, at least 80
     */
    public static List<Line> lines(String program, Comparison comparison, Glyphs glyphs, int columns) {
        CompareView view = new CompareView(comparison, glyphs, columns);
        int designs = comparison.columns().size();
        view.lines.add(Line.of(Ink.STRONG, glyphs.cut(glyphs.visible(program), columns - 20))
                .and(" under %d design%s".formatted(designs, designs == 1 ? "" : "s")));
        int each = (columns - LABEL) / COLUMN;
        for (int from = 0; from < designs; from += each) {
            view.block(comparison.columns().subList(from, Math.min(designs, from + each)), from == 0);
        }
        view.sentences();
        return view.lines;
    }

    private void block(List<Column> block, boolean first) {
        lines.add(Line.EMPTY);
        Line head = Line.of(Glyphs.padded("", LABEL));
        for (Column column : block) {
            String name = glyphs.cut(glyphs.visible(column.entry().name()), COLUMN - 1);
            head = head.and(Ink.STRONG, " ".repeat(COLUMN - Glyphs.width(name)) + name);
        }
        lines.add(head);
        row("ended", block, column -> column.figures().map(CompareView::ended).orElse("cannot run"));
        figure("cycles", block, figures -> brief(figures.cycles()));
        figure("time", block, figures -> Numbers.duration(figures.seconds(), glyphs));
        row(
                "times as fast",
                block,
                column -> column.speedUp()
                        .map(speedUp -> Numbers.significant(speedUp, 4))
                        .orElse("-"));
        figure("accesses", block, figures -> brief(figures.accesses()));
        figure("waited, in all", block, figures -> brief(figures.waitTotal()));
        figure(
                "mean wait",
                block,
                figures -> figures.accesses() == 0 ? "-" : Numbers.mean(figures.waitTotal(), figures.accesses()));
        figure("longest wait", block, figures -> figures.accesses() == 0 ? "-" : brief(figures.waitMax()));
        figure("memory held", block, figures -> percent(figures.busyShare()));
        figure("turns unused", block, figures -> figures.turnsOffered() < 0 ? "-" : percent(figures.unusedShare()));
        figure("fair accesses", block, figures -> "%.3f".formatted(figures.accessFairness()));
        figure("fair waits", block, figures -> "%.3f".formatted(figures.waitFairness()));
        results(block, first);
    }

    private static String ended(RunFigures figures) {
        if (figures.faults() > 0) {
            return "fault";
        }
        return figures.ended() == End.ALL_IDLE ? "all idle" : figures.ended().text();
    }

    /** In at most 11 columns. */
    private static String brief(long number) {
        return number < 1_000_000_000 ? Numbers.grouped(number) : Numbers.brief(number);
    }

    private static String percent(double part) {
        return "%.1f %%".formatted(100 * part);
    }

    private void figure(String label, List<Column> block, Function<RunFigures, String> text) {
        row(label, block, column -> column.figures().map(text).orElse("-"));
    }

    private void row(String label, List<Column> block, Function<Column, String> text) {
        Line line = Line.of(Ink.WEAK, Glyphs.padded(label, LABEL));
        for (Column column : block) {
            String cell = text.apply(column);
            line = line.and(" ".repeat(Math.max(1, COLUMN - Glyphs.width(cell))) + cell);
        }
        lines.add(line);
    }

    private void results(List<Column> block, boolean first) {
        Line line = Line.of(Ink.WEAK, Glyphs.padded("result", LABEL));
        for (int i = 0; i < block.size(); i++) {
            boolean differs = !block.get(i).differences().isEmpty();
            String cell = first && i == 0 ? "the first" : differs ? "differs" : "the same";
            // A run that was cut off has no result yet, and one without the first nothing to be held against.
            boolean none =
                    !finished(block.get(i)) || !finished(comparison.columns().get(0));
            line = line.and(differs ? Ink.ALARM : Ink.PLAIN, "%15s".formatted(none ? "-" : cell));
        }
        lines.add(line);
    }

    private static boolean finished(Column column) {
        return column.figures().map(RunFigures::finished).orElse(false);
    }

    private void sentences() {
        lines.add(Line.EMPTY);
        for (Column column : comparison.columns()) {
            String name = glyphs.visible(column.entry().name());
            List<String> wrapped =
                    glyphs.wrapped("%s: %s".formatted(name, glyphs.visible(column.sentence())), columns - 2);
            for (int i = 0; i < wrapped.size(); i++) {
                String text = wrapped.get(i);
                boolean named = i == 0 && text.startsWith(name);
                lines.add(
                        named
                                ? Line.of(Ink.STRONG, name).and(text.substring(name.length()))
                                : Line.of((i == 0 ? "" : "  ") + text));
            }
        }
    }
}
