package octurn.cli.export;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.TreeSet;
import octurn.cli.view.Glyphs;
import octurn.lessons.mark.Alike;
import octurn.lessons.mark.Marks;
import octurn.lessons.mark.Row;
import octurn.lessons.mark.Work;

/** Writes the marks of a class as a table, a row for each student; see {@link Csv}. */
public final class MarksCsv {

    private static final Glyphs GLYPHS = new Glyphs(StandardCharsets.UTF_8);

    private MarksCsv() {}

    /**
     * Writes the table, with a heading.
     *
     * @throws IOException if the stream does
     */
    public static void write(Marks marks, OutputStream out) throws IOException {
        out.write(heading(marks).row().getBytes(StandardCharsets.UTF_8));
        List<Alike> groups = marks.alike();
        for (int i = 0; i < marks.rows().size(); i++) {
            out.write(row(marks, i, groups).row().getBytes(StandardCharsets.UTF_8));
        }
    }

    private static Csv heading(Marks marks) {
        Csv csv = new Csv();
        for (String name : List.of(
                "student", "file or folder", "handed in", "late", "tasks passed", "tasks", "checks passed", "checks")) {
            csv.text(name);
        }
        for (Marks.Task task : marks.heading().tasks()) {
            for (String name : List.of("status", "checks passed", "checks", "first trouble", "same structure as")) {
                csv.text("step %d %s".formatted(task.step(), name));
            }
        }
        return csv.text("notes");
    }

    private static Csv row(Marks marks, int index, List<Alike> groups) {
        Row row = marks.rows().get(index);
        Csv csv = new Csv()
                .text(visible(row.student()))
                .text(visible(row.entry()))
                .text(row.handedIn() == null ? "" : row.handedIn().toString())
                .text(row.late() ? "late" : "")
                .number(row.passed())
                .number(row.works().size())
                .number(row.works().stream().mapToInt(Work::passed).sum())
                .number(row.works().stream()
                        .mapToInt(work -> work.checks().size())
                        .sum());
        for (Work work : row.works()) {
            csv.text(work.status().text())
                    .number(work.passed())
                    .number(work.checks().size())
                    .text(visible(work.firstTrouble()))
                    .text(visible(others(marks, index, work.step(), groups)));
        }
        return csv.text(visible(String.join("; ", row.notes())));
    }

    private static String others(Marks marks, int index, int step, List<Alike> groups) {
        TreeSet<Integer> others = new TreeSet<>();
        for (Alike group : groups) {
            if (group.step() == step && group.rows().contains(index)) {
                others.addAll(group.rows());
            }
        }
        others.remove(index);
        return String.join(
                "; ",
                others.stream().map(row -> marks.rows().get(row).student()).toList());
    }

    /** Hidden characters are as bad in a table as on a terminal: they make two names look like one. */
    private static String visible(String text) {
        return GLYPHS.visible(text);
    }
}
