package octurn.cli.view;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import octurn.compare.RunFigures;
import octurn.sweep.Axis;
import octurn.sweep.Grid;
import octurn.sweep.SweepRow;

/** The points of a sweep as a table, and what was found. */
public final class SweepView {

    /** So many points fit on a screen or two; of more the best are shown. */
    private static final int MOST_ROWS = 40;

    private static final int BEST = 10;
    private static final int FAILED = 5;
    private static final int WIDEST_VALUE = 16;

    private final Grid grid;
    private final List<SweepRow> rows;
    private final Glyphs glyphs;
    private final int columns;
    private final List<Line> lines = new ArrayList<>();
    private final double slowest;

    private SweepView(Grid grid, List<SweepRow> rows, Glyphs glyphs, int columns) {
        this.grid = grid;
        this.rows = rows;
        this.glyphs = glyphs;
        this.columns = columns;
        this.slowest = rows.stream()
                .filter(SweepRow::finished)
                .mapToDouble(SweepView::seconds)
                .max()
                .orElse(0);
    }

    /**
     * The lines.
     *
     * @param program the program's name
     * @param rows of the whole grid, or of a share of it
     * @param finding what they say
     * @param columns to fill, at least 80
     */
    public static List<Line> lines(
            String program, Grid grid, List<SweepRow> rows, String finding, Glyphs glyphs, int columns) {
        SweepView view = new SweepView(grid, rows, glyphs, columns);
        view.heading(program);
        view.table();
        view.lines.add(Line.EMPTY);
        for (String line : glyphs.wrapped(glyphs.visible(finding), columns)) {
            view.lines.add(Line.of(Ink.STRONG, line));
        }
        return view.lines;
    }

    private static double seconds(SweepRow row) {
        return row.figures().map(RunFigures::seconds).orElse(Double.POSITIVE_INFINITY);
    }

    private void heading(String program) {
        String points = rows.size() == grid.size()
                ? ": %s point%s".formatted(Numbers.grouped(grid.size()), grid.size() == 1 ? "" : "s")
                : ": %s of %s points".formatted(Numbers.grouped(rows.size()), Numbers.grouped(grid.size()));
        lines.add(Line.of(Ink.STRONG, glyphs.cut(glyphs.visible(program), columns - points.length()))
                .and(points));
        lines.add(DesignView.oneLine(grid.base(), glyphs, columns));
        if (!grid.set().isEmpty()) {
            List<String> set = grid.set().stream()
                    .map(axis -> axis.name() + " " + axis.values().get(0))
                    .toList();
            for (String line : glyphs.wrapped("set: " + String.join(", ", set), columns)) {
                lines.add(Line.of(line));
            }
        }
        lines.add(Line.EMPTY);
    }

    private void table() {
        List<Integer> widths = new ArrayList<>();
        StringBuilder head = new StringBuilder();
        for (int i = 0; i < grid.axes().size(); i++) {
            Axis axis = grid.axes().get(i);
            int widest = axis.name().length();
            for (SweepRow row : rows) {
                widest = Math.max(widest, row.values().get(i).length());
            }
            int width = Math.min(WIDEST_VALUE, widest);
            widths.add(width);
            head.append("  ")
                    .append(" ".repeat(width - Math.min(width, axis.name().length())))
                    .append(glyphs.cut(axis.name(), width));
        }
        head.append("       cycles  mean wait   longest  memory   time");
        lines.add(Line.of(Ink.WEAK, glyphs.cut(head.toString(), columns)));
        if (rows.size() <= MOST_ROWS) {
            rows.forEach(row -> row(row, widths));
            return;
        }
        List<SweepRow> best = rows.stream()
                .filter(SweepRow::finished)
                .sorted(Comparator.comparingDouble(SweepView::seconds).thenComparingInt(SweepRow::point))
                .limit(BEST)
                .toList();
        best.forEach(row -> row(row, widths));
        List<SweepRow> failed =
                rows.stream().filter(row -> !row.finished()).limit(FAILED).toList();
        failed.forEach(row -> row(row, widths));
        int more = rows.size() - best.size() - failed.size();
        lines.add(Line.of(Ink.WEAK, "  and %s more points; --csv FILE has them all".formatted(Numbers.grouped(more))));
    }

    private void row(SweepRow row, List<Integer> widths) {
        StringBuilder text = new StringBuilder();
        for (int i = 0; i < widths.size(); i++) {
            String value = glyphs.cut(row.values().get(i), widths.get(i));
            text.append("  ").append(" ".repeat(widths.get(i) - value.length())).append(value);
        }
        if (!row.finished()) {
            String why = "  %s: %s".formatted(row.status().text(), glyphs.visible(row.message()));
            lines.add(Line.of(text.toString()).and(Ink.ALARM, glyphs.cut(why, Math.max(8, columns - text.length()))));
            return;
        }
        row.figures().ifPresent(figures -> {
            text.append("%13s%11s%10s%8s"
                    .formatted(
                            Numbers.grouped(figures.cycles()),
                            figures.accesses() == 0 ? "-" : Numbers.mean(figures.waitTotal(), figures.accesses()),
                            figures.accesses() == 0 ? "-" : Numbers.grouped(figures.waitMax()),
                            "%.0f %%".formatted(100 * figures.busyShare())));
            int bar = Math.max(0, Math.min(24, columns - text.length() - 3));
            lines.add(Line.of(text + "   ").and(Ink.BLUE, bar(figures.seconds(), bar)));
        });
    }

    /** A bar as long as the time in proportion to the slowest point. */
    private String bar(double seconds, int most) {
        int length = slowest == 0 ? 0 : (int) Math.round(seconds / slowest * most);
        return glyphs.sign("\u2588", "#").repeat(length);
    }
}
