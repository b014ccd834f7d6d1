package octurn.cli.view;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import octurn.lessons.mark.Alike;
import octurn.lessons.mark.Marks;
import octurn.lessons.mark.Row;
import octurn.lessons.mark.Status;
import octurn.lessons.mark.Work;

/** The marks of a class on a terminal. */
public final class MarkView {

    private static final int WIDEST_NAME = 24;
    private static final int WIDEST_STATUS = 14;

    private final Marks marks;
    private final Glyphs glyphs;
    private final int columns;
    private final List<Line> lines = new ArrayList<>();

    private MarkView(Marks marks, Glyphs glyphs, int columns) {
        this.marks = marks;
        this.glyphs = glyphs;
        this.columns = columns;
    }

    /**
     * The lines.
     *
     * @param everybody whether each student gets a line, or the class only
     */
    public static List<Line> lines(Marks marks, boolean everybody, Glyphs glyphs, int columns) {
        MarkView view = new MarkView(marks, glyphs, columns);
        view.heading();
        if (everybody) {
            view.students();
        }
        view.tasks();
        view.rest();
        return view.lines;
    }

    private void heading() {
        long handed =
                marks.rows().stream().filter(row -> !row.entry().isEmpty()).count();
        String told = ": %s handed in".formatted(Numbers.grouped(handed));
        String title = glyphs.visible(marks.heading().title());
        lines.add(
                Line.of(Ink.STRONG, glyphs.cut(title, columns - told.length())).and(told));
    }

    private void students() {
        int width = 0;
        for (Row row : marks.rows()) {
            width = Math.max(width, Glyphs.width(glyphs.visible(row.student())));
        }
        int names = Math.min(width, WIDEST_NAME);
        for (Row row : marks.rows()) {
            for (int task = 0; task < row.works().size(); task++) {
                Work work = row.works().get(task);
                String name = task == 0 ? glyphs.cut(glyphs.visible(row.student()), names) : "";
                String step = row.works().size() == 1 ? "" : "step %d ".formatted(work.step());
                String status = Glyphs.padded(status(work), WIDEST_STATUS);
                String late = task == 0 && row.late() ? "late; " : "";
                int room = columns - names - 2 - step.length() - WIDEST_STATUS - 1;
                String trouble = glyphs.cut(glyphs.visible(late + work.firstTrouble()), room);
                lines.add(Line.of(Ink.STRONG, Glyphs.padded(name, names))
                        .and("  " + step)
                        .and(work.status() == Status.PASSED ? Ink.GREEN : Ink.RED, status)
                        .and(" " + trouble));
            }
        }
    }

    private static String status(Work work) {
        return work.status() == Status.FAILED
                ? "%d of %d checks".formatted(work.passed(), work.checks().size())
                : work.status().words();
    }

    private void tasks() {
        for (int task = 0; task < marks.heading().tasks().size(); task++) {
            Map<Status, Long> counts = marks.statuses(task);
            List<String> words = new ArrayList<>();
            counts.forEach((status, count) -> words.add("%s %s".formatted(Numbers.grouped(count), status.words())));
            int step = marks.heading().tasks().get(task).step();
            String text = "step %d: %s".formatted(step, words.isEmpty() ? "nothing" : String.join(", ", words));
            glyphs.wrapped(text, columns).forEach(line -> lines.add(Line.of(line)));
        }
    }

    private void rest() {
        long late = marks.rows().stream().filter(Row::late).count();
        if (marks.heading().due() != null) {
            lines.add(Line.of("late: %s, by the time of the file, after %s"
                    .formatted(Numbers.grouped(late), marks.heading().due())));
        }
        List<Alike> groups = marks.alike();
        if (!groups.isEmpty()) {
            lines.add(Line.of("the same structure: %s; that alone says nothing about who wrote what"
                    .formatted(groups.size() == 1 ? "1 group" : Numbers.grouped(groups.size()) + " groups")));
        }
    }
}
