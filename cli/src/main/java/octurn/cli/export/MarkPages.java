package octurn.cli.export;

import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.function.BiFunction;
import octurn.lessons.mark.Alike;
import octurn.lessons.mark.Checked;
import octurn.lessons.mark.Marks;
import octurn.lessons.mark.Row;
import octurn.lessons.mark.Status;
import octurn.lessons.mark.Work;
import org.jspecify.annotations.Nullable;

/**
 * The marks of a class as pages: one for the class, and one for each student with what failed and where. They need no
 * network, no script and no second file.
 */
public final class MarkPages {

    /** The name of the class's page. */
    public static final String CLASS_PAGE = "index.html";

    /** The folder of the students' pages, beside the class's page. */
    public static final String STUDENTS = "students";

    private static final int LONGEST_NAME = 40;
    private static final int BAR_UNITS = 1000;
    private static final DateTimeFormatter TIME =
            DateTimeFormatter.ofPattern("uuuu-MM-dd HH:mm 'UTC'", Locale.ROOT).withZone(ZoneOffset.UTC);

    private final Marks marks;
    private final List<Alike> groups;
    private final List<String> files;
    private final BiFunction<Row, Work, List<String>> source;

    /**
     * The pages of these marks.
     *
     * @param source the lines of a piece of work, to be shown on its student's page; none if they are not at hand
     */
    public MarkPages(Marks marks, BiFunction<Row, Work, List<String>> source) {
        this.marks = marks;
        this.groups = marks.alike();
        this.files = files(marks.rows());
        this.source = source;
    }

    /** The names of the students' pages, one for each row. */
    public List<String> files() {
        return List.copyOf(files);
    }

    /**
     * Names that every file system takes, in which a student can be made out; where two would be the same, a number parts
     * them.
     */
    private static List<String> files(List<Row> rows) {
        Set<String> taken = new HashSet<>();
        List<String> files = new ArrayList<>();
        for (Row row : rows) {
            String bare = row.student().toLowerCase(Locale.ROOT).replaceAll("[^a-z0-9]+", "-");
            String cut =
                    bare.substring(0, Math.min(bare.length(), LONGEST_NAME)).replaceAll("^-|-$", "");
            String name = cut.isEmpty() ? "student" : "student-" + cut;
            String file = name;
            for (int i = 2; !taken.add(file); i++) {
                file = name + "-" + i;
            }
            files.add(file + ".html");
        }
        return files;
    }

    // ---- the class

    /** The class's page. */
    public String classPage() {
        Marks.Heading heading = marks.heading();
        Markup page = Markup.page("Marks: " + heading.title());
        page.raw("<header>\n<p class=\"over\">Octurn, marks of a class</p>\n");
        page.element("h1", heading.title()).raw("\n<p class=\"quiet\">Lesson ").element("code", heading.lesson());
        page.text(", %s: %s."
                .formatted(
                        heading.tasks().size() == 1
                                ? "one task"
                                : heading.tasks().size() + " tasks",
                        String.join(
                                ", ",
                                heading.tasks().stream().map(MarkPages::title).toList())));
        if (heading.due() != null) {
            page.text(" Due " + time(heading.due()) + ".");
        }
        page.raw("</p>\n");
        figures(page);
        page.raw("</header>\n");
        bars(page);
        table(page);
        hardest(page);
        alike(page);
        how(page);
        return page.end();
    }

    private static String title(Marks.Task task) {
        return task.title().isEmpty()
                ? "step %d".formatted(task.step())
                : "step %d, %s".formatted(task.step(), task.title());
    }

    private void figures(Markup page) {
        List<Row> rows = marks.rows();
        long handed = rows.stream().filter(row -> !row.entry().isEmpty()).count();
        page.raw("<ul class=\"figures\">\n");
        figure(page, handed, "handed in");
        if (handed < rows.size()) {
            figure(page, rows.size() - handed, "did not");
        }
        figure(page, rows.stream().filter(Row::isAllPassed).count(), "passed everything");
        long unread = rows.stream()
                .filter(row ->
                        row.works().stream().noneMatch(work -> work.status().isRead()))
                .filter(row -> !row.entry().isEmpty())
                .count();
        if (unread > 0) {
            figure(page, unread, "without a file to mark");
        }
        if (marks.heading().due() != null) {
            figure(page, rows.stream().filter(Row::late).count(), "late");
        }
        if (!groups.isEmpty()) {
            figure(
                    page,
                    groups.size(),
                    groups.size() == 1 ? "group of the same structure" : "groups of the same structure");
        }
        page.raw("</ul>\n");
    }

    private static void figure(Markup page, long number, String what) {
        page.raw("<li>")
                .element("b", Long.toString(number))
                .element("span", what)
                .raw("</li>\n");
    }

    private void bars(Markup page) {
        page.raw("<div class=\"bars\">\n");
        for (int task = 0; task < marks.heading().tasks().size(); task++) {
            Map<Status, Long> counts = marks.statuses(task);
            List<String> words = new ArrayList<>();
            counts.forEach((status, count) -> words.add("%d %s".formatted(count, status.words())));
            String told = String.join(", ", words);
            page.raw("<div>\n<p>")
                    .element(
                            "strong",
                            "Step " + marks.heading().tasks().get(task).step());
            page.raw(" <span class=\"quiet\">").text(told).raw("</span></p>\n");
            bar(page, counts, told);
            page.raw("</div>\n");
        }
        page.raw("</div>\n");
    }

    private void bar(Markup page, Map<Status, Long> counts, String told) {
        page.raw("<svg viewBox=\"0 0 %d 12\" preserveAspectRatio=\"none\" role=\"img\" aria-label=\""
                .formatted(BAR_UNITS));
        page.text(told).raw("\">");
        long before = 0;
        int all = Math.max(1, marks.rows().size());
        for (Map.Entry<Status, Long> entry : counts.entrySet()) {
            long from = before * BAR_UNITS / all;
            before += entry.getValue();
            long to = before * BAR_UNITS / all;
            String kind =
                    entry.getKey() == Status.PASSED ? "pass" : entry.getKey().isRead() ? "fail" : "none";
            page.raw("<rect class=\"bar-%s\" x=\"%d\" y=\"0\" width=\"%d\" height=\"12\"/>"
                    .formatted(kind, from, Math.max(1, to - from - (to < BAR_UNITS ? 2 : 0))));
        }
        page.raw("</svg>\n");
    }

    private void table(Markup page) {
        boolean anyLate = marks.rows().stream().anyMatch(Row::late);
        boolean anyAlike = !groups.isEmpty();
        page.raw("<h2 id=\"students\">Students</h2>\n<div class=\"wide fold\" tabindex=\"0\" role=\"region\" "
                + "aria-labelledby=\"students\">\n<table>\n<thead>\n<tr><th scope=\"col\">Student</th>");
        for (Marks.Task task : marks.heading().tasks()) {
            page.raw("<th scope=\"col\">Step %d</th>".formatted(task.step()));
        }
        page.raw(anyLate ? "<th scope=\"col\">Late</th>" : "");
        page.raw(anyAlike ? "<th scope=\"col\">Structure</th>" : "");
        page.raw("<th scope=\"col\">What is wrong first</th></tr>\n</thead>\n<tbody>\n");
        for (int i = 0; i < marks.rows().size(); i++) {
            Row row = marks.rows().get(i);
            page.raw("<tr><th scope=\"row\"><a href=\"%s/%s\">".formatted(STUDENTS, files.get(i)));
            page.name(row.student()).raw("</a></th>");
            for (Work work : row.works()) {
                page.raw("<td data-of=\"Step %d\">".formatted(work.step()));
                mark(page, work);
                page.raw("</td>");
            }
            if (anyLate) {
                page.raw(row.late() ? "<td><span class=\"mark wary\">" : "<td>");
                page.text(row.late() ? late(row) : "").raw(row.late() ? "</span></td>" : "</td>");
            }
            if (anyAlike) {
                groupLinks(page, i);
            }
            page.raw("<td class=\"say\">").text(trouble(row)).raw("</td></tr>\n");
        }
        page.raw("</tbody>\n</table>\n</div>\n");
    }

    private void groupLinks(Markup page, int row) {
        page.raw("<td>");
        String between = "";
        for (int g = 0; g < groups.size(); g++) {
            if (groups.get(g).rows().contains(row)) {
                page.raw("%s<a href=\"#group-%d\">group %d</a>".formatted(between, g + 1, g + 1));
                between = " ";
            }
        }
        page.raw("</td>");
    }

    private static String trouble(Row row) {
        List<String> told = new ArrayList<>(row.notes());
        for (Work work : row.works()) {
            String trouble = work.firstTrouble();
            if (!trouble.isEmpty()) {
                told.add(row.works().size() == 1 ? trouble : "step %d: %s".formatted(work.step(), trouble));
                break;
            }
        }
        return String.join("; ", told);
    }

    private static String late(Row row, @Nullable Instant due) {
        if (row.handedIn() == null || due == null) {
            return "late";
        }
        Duration by = Duration.between(due, row.handedIn());
        if (by.toDays() > 0) {
            return "late by %d d %d h".formatted(by.toDays(), by.toHoursPart());
        }
        if (by.toHours() > 0) {
            return "late by %d h %d min".formatted(by.toHours(), by.toMinutesPart());
        }
        return by.toMinutes() > 0 ? "late by %d min".formatted(by.toMinutes()) : "late by less than a minute";
    }

    private String late(Row row) {
        return late(row, marks.heading().due());
    }

    private static void mark(Markup page, Work work) {
        Status status = work.status();
        String sign = status == Status.PASSED ? "\u2713" : status.isRead() ? "\u2717" : "\u2013";
        String kind = status == Status.PASSED ? "pass" : status.isRead() ? "fail" : "none";
        String words = status == Status.FAILED
                ? "%d of %d checks".formatted(work.passed(), work.checks().size())
                : status.words();
        page.raw("<span class=\"mark %s\">".formatted(kind))
                .text(sign + " " + words)
                .raw("</span>");
    }

    // ---- what the class finds hard

    private void hardest(Markup page) {
        boolean headed = false;
        for (int task = 0; task < marks.heading().tasks().size(); task++) {
            Map<String, int[]> byCheck = new LinkedHashMap<>();
            for (Row row : marks.rows()) {
                Map<String, Boolean> passed = new LinkedHashMap<>();
                for (Checked check : row.works().get(task).checks()) {
                    passed.merge(check.check(), check.passed(), Boolean::logicalAnd);
                }
                passed.forEach((check, all) -> {
                    int[] count = byCheck.computeIfAbsent(check, key -> new int[2]);
                    count[0] += all ? 1 : 0;
                    count[1]++;
                });
            }
            if (byCheck.isEmpty()) {
                continue;
            }
            if (!headed) {
                page.raw("<h2 id=\"checks\">Checks</h2>\n<p class=\"quiet small\">Of the programs that could be run, "
                        + "how many passed each check, on all of its runs.</p>\n");
                headed = true;
            }
            page.raw("<div class=\"wide\" tabindex=\"0\" role=\"region\" aria-label=\"Checks of step %d\">\n<table>\n"
                    .formatted(marks.heading().tasks().get(task).step()));
            page.element(
                    "caption",
                    "Step %d".formatted(marks.heading().tasks().get(task).step()));
            page.raw("\n<thead><tr><th scope=\"col\">Check</th><th scope=\"col\">Passed</th></tr></thead>\n<tbody>\n");
            byCheck.forEach((check, count) -> {
                page.raw("<tr><td class=\"say\">").text(check).raw("</td><td class=\"count\">");
                page.text("%d of %d".formatted(count[0], count[1])).raw("</td></tr>\n");
            });
            page.raw("</tbody>\n</table>\n</div>\n");
        }
    }

    // ---- who wrote the same

    private void alike(Markup page) {
        if (groups.isEmpty()) {
            return;
        }
        page.raw(
                "<h2 id=\"alike\">The same structure</h2>\n<div class=\"note\">\n<p>These programs differ in nothing but the "
                        + "names of labels and constants, comments and layout. That alone says nothing about who wrote them: short "
                        + "tasks have few answers, and where few instructions are of a student\u2019s own, many will write the same. "
                        + "Talk before you judge.</p>\n</div>\n<ul class=\"plain\">\n");
        for (int g = 0; g < groups.size(); g++) {
            Alike group = groups.get(g);
            page.raw("<li id=\"group-%d\"><strong>Group %d</strong> ".formatted(g + 1, g + 1));
            page.raw("<span class=\"quiet\">").text(told(group)).raw("</span><br>\n");
            String between = "";
            for (int row : group.rows()) {
                page.raw(between).raw("<a href=\"%s/%s\">".formatted(STUDENTS, files.get(row)));
                page.name(marks.rows().get(row).student()).raw("</a>");
                between = ", ";
            }
            page.raw("</li>\n");
        }
        page.raw("</ul>\n");
    }

    private static String told(Alike group) {
        return "step %d, %d students; %s not in the starting program%s%s"
                .formatted(
                        group.step(),
                        group.rows().size(),
                        group.own() == 1 ? "1 instruction is" : group.own() + " instructions are",
                        group.asModel() ? "; the lesson\u2019s model answer has this structure, too" : "",
                        group.identical() ? "; the files are the same to the byte" : "");
    }

    // ---- how it was done

    private void how(Markup page) {
        Marks.Heading heading = marks.heading();
        page.raw("<h2 id=\"how\">How this was marked</h2>\n<p class=\"small\">");
        page.text(
                ("Each program ran for at most %,d cycles a run (less where the lesson says so), for at most %d s in all, "
                                + "and was read up to %,d bytes. Numbers that differ from student to student come from the "
                                + "student\u2019s name.")
                        .formatted(
                                heading.limits().cycles(),
                                heading.limits().seconds(),
                                heading.limits().bytes()));
        page.raw("</p>\n<p class=\"small\">");
        page.text(
                heading.due() == null
                        ? "No time was given by which work was due, so nobody is late."
                        : "Late is whose newest marked file was last changed after %s. Copying files can change that time."
                                .formatted(time(heading.due())));
        page.raw("</p>\n<p class=\"small\">");
        page.text(
                "Structures are compared by the words that programs assemble to. So other names, comments, layout, ways to "
                        + "write a number and orders of the cores\u2019 sections are seen through. Other registers, other numbers, "
                        + "another order of instructions or data, and instructions put in or left out are not. A starting program "
                        + "handed in as it was given out belongs to no group.");
        page.raw("</p>\n");
    }

    private static String time(Instant moment) {
        return TIME.format(moment);
    }

    // ---- a student

    /** The page of the student in this row. */
    public String studentPage(int index) {
        Row row = marks.rows().get(index);
        Markup page = Markup.page(row.student() + ": " + marks.heading().title());
        page.raw("<nav aria-label=\"Pages\"><a href=\"../%s\">The class</a>".formatted(CLASS_PAGE));
        if (index > 0) {
            page.raw("<span>Before: <a href=\"%s\" rel=\"prev\">".formatted(files.get(index - 1)));
            page.name(marks.rows().get(index - 1).student()).raw("</a></span>");
        }
        if (index + 1 < files.size()) {
            page.raw("<span>Next: <a href=\"%s\" rel=\"next\">".formatted(files.get(index + 1)));
            page.name(marks.rows().get(index + 1).student()).raw("</a></span>");
        }
        page.raw("</nav>\n<header>\n")
                .raw("<p class=\"over\">")
                .text(marks.heading().title())
                .raw("</p>\n<h1>");
        page.name(row.student()).raw("</h1>\n<p class=\"quiet\">");
        page.text("%d of %s passed."
                .formatted(
                        row.passed(),
                        row.works().size() == 1 ? "1 task" : row.works().size() + " tasks"));
        if (row.handedIn() != null) {
            page.text(" Last changed " + time(row.handedIn()) + ".");
        }
        page.raw("</p>\n");
        if (row.late()) {
            page.raw("<p><span class=\"mark wary\">").text(late(row)).raw("</span></p>\n");
        }
        for (String note : row.notes()) {
            page.raw("<p>").text(note).raw("</p>\n");
        }
        page.raw("</header>\n");
        for (int task = 0; task < row.works().size(); task++) {
            work(page, row, row.works().get(task), marks.heading().tasks().get(task), index);
        }
        return page.end();
    }

    private void work(Markup page, Row row, Work work, Marks.Task task, int index) {
        page.raw("<h2>").text(upper(title(task))).raw(" ");
        mark(page, work);
        page.raw("</h2>\n");
        if (!work.file().isEmpty()) {
            page.raw("<p class=\"quiet small\">").element("code", work.file()).raw("</p>\n");
        }
        if (!work.message().isEmpty()) {
            page.raw("<p>")
                    .text(upper(work.message()))
                    .text(work.message().endsWith(".") ? "" : ".")
                    .raw("</p>\n");
        }
        List<String> lines = source.apply(row, work);
        checks(page, work, !lines.isEmpty());
        for (Alike group : groups) {
            if (group.step() == work.step() && group.rows().contains(index)) {
                sameAs(page, group, index);
            }
        }
        SourceList.write(page, work, lines);
    }

    private static String upper(String text) {
        return text.isEmpty() ? text : text.substring(0, 1).toUpperCase(Locale.ROOT) + text.substring(1);
    }

    private static void checks(Markup page, Work work, boolean linked) {
        if (work.checks().isEmpty()) {
            return;
        }
        boolean runs = work.checks().stream().anyMatch(check -> !check.run().isEmpty());
        page.raw(
                "<div class=\"wide fold\" tabindex=\"0\" role=\"region\" aria-label=\"Checks of step %d\">\n<table>\n<thead><tr>"
                        .formatted(work.step()));
        page.raw("<th scope=\"col\">Result</th><th scope=\"col\">Check</th>");
        page.raw(runs ? "<th scope=\"col\">Run</th>" : "");
        page.raw("<th scope=\"col\">Where</th><th scope=\"col\">What is so instead</th></tr></thead>\n<tbody>\n");
        for (Checked check : work.checks()) {
            page.raw("<tr><td><span class=\"mark %s\">".formatted(check.passed() ? "pass" : "fail"));
            page.text(check.passed() ? "\u2713 passed" : "\u2717 failed").raw("</span></td><td class=\"say\">");
            page.text(check.check()).raw("</td>");
            if (runs) {
                page.raw("<td class=\"run\" data-of=\"Run\">").text(check.run()).raw("</td>");
            }
            page.raw("<td class=\"count\">");
            if (check.line() > 0) {
                page.raw(linked ? "<a href=\"#s%d-%d\">".formatted(work.step(), check.line()) : "");
                page.text("line " + check.line()).raw(linked ? "</a>" : "");
            }
            if (check.cycle() >= 0) {
                page.text((check.line() > 0 ? ", " : "") + "cycle %,d".formatted(check.cycle()));
            }
            page.raw("</td><td class=\"say\">").text(check.message()).raw("</td></tr>\n");
        }
        page.raw("</tbody>\n</table>\n</div>\n");
    }

    private void sameAs(Markup page, Alike group, int index) {
        page.raw("<p class=\"small\">The same structure as ");
        String between = "";
        for (int row : group.rows()) {
            if (row != index) {
                page.raw(between).raw("<a href=\"%s\">".formatted(files.get(row)));
                page.name(marks.rows().get(row).student()).raw("</a>");
                between = ", ";
            }
        }
        page.text(": " + told(group) + ".")
                .raw(" <a href=\"../%s#alike\">What that means</a></p>\n".formatted(CLASS_PAGE));
    }
}
