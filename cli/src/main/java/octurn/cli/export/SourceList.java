package octurn.cli.export;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Collectors;
import octurn.lessons.mark.Checked;
import octurn.lessons.mark.Remark;
import octurn.lessons.mark.Work;

/** A student's text with its line numbers, and below a line what is wrong with it. */
final class SourceList {

    /** Nobody looks at more; the rest is in the file. */
    private static final int MOST_LINES = 2000;

    private record Said(boolean error, String text) {}

    private SourceList() {}

    static void write(Markup page, Work work, List<String> lines) {
        Map<Integer, List<Said>> said = said(work);
        said.getOrDefault(0, List.of())
                .forEach(one -> page.raw("<p>").text(one.text()).raw("</p>\n"));
        if (lines.isEmpty()) {
            for (Map.Entry<Integer, List<Said>> entry : said.entrySet()) {
                for (Said one : entry.getKey() == 0 ? List.<Said>of() : entry.getValue()) {
                    page.raw("<p>")
                            .text("Line %d: %s".formatted(entry.getKey(), one.text()))
                            .raw("</p>\n");
                }
            }
            return;
        }
        page.raw(
                "<div class=\"source\" tabindex=\"0\" role=\"region\" aria-label=\"The file of step %d\">\n<ol class=\"code\">\n"
                        .formatted(work.step()));
        int shown = Math.min(lines.size(), MOST_LINES);
        for (int line = 1; line <= shown; line++) {
            List<Said> here = said.getOrDefault(line, List.of());
            String kind =
                    here.isEmpty() ? "" : here.stream().anyMatch(Said::error) ? " class=\"hit\"" : " class=\"warn\"";
            page.raw("<li id=\"s%d-%d\"%s><span>%d</span><span>".formatted(work.step(), line, kind, line));
            page.text(lines.get(line - 1)).raw("</span>");
            here.forEach(one -> page.raw("<p>")
                    .text((one.error() ? "\u2717 " : "! ") + one.text())
                    .raw("</p>"));
            page.raw("</li>\n");
        }
        page.raw("</ol>\n</div>\n");
        if (shown < lines.size()) {
            page.raw("<p class=\"quiet small\">")
                    .text("and %,d more lines".formatted(lines.size() - shown))
                    .raw("</p>\n");
        }
    }

    private static Map<Integer, List<Said>> said(Work work) {
        Map<Integer, List<Said>> said = new TreeMap<>();
        for (Remark remark : work.remarks()) {
            String hint = remark.hint() == null ? "" : " (%s)".formatted(remark.hint());
            add(said, remark.line(), new Said(remark.error(), remark.message() + hint));
        }
        for (Checked check : work.checks()) {
            if (!check.passed() && check.line() > 0) {
                add(said, check.line(), new Said(true, told(check) + runs(work, check)));
            }
        }
        return said;
    }

    private static String told(Checked check) {
        return check.cycle() < 0 ? check.message() : "cycle %,d: %s".formatted(check.cycle(), check.message());
    }

    /** The runs in which the same went wrong at the same place. */
    private static String runs(Work work, Checked one) {
        String runs = work.checks().stream()
                .filter(check -> !check.passed()
                        && check.line() == one.line()
                        && told(check).equals(told(one)))
                .map(Checked::run)
                .filter(run -> !run.isEmpty())
                .distinct()
                .collect(Collectors.joining("; "));
        return runs.isEmpty() ? "" : " (%s)".formatted(runs);
    }

    private static void add(Map<Integer, List<Said>> said, int line, Said what) {
        List<Said> here = said.computeIfAbsent(line, key -> new ArrayList<>());
        if (!here.contains(what)) {
            here.add(what);
        }
    }
}
