package octurn.cli.view;

import java.util.ArrayList;
import java.util.List;
import octurn.asm.Block;
import octurn.design.Design;
import octurn.report.Listing;
import octurn.report.Listing.Row;
import octurn.report.Listing.Time;
import octurn.report.TurnFigures;
import octurn.report.TurnFigures.CoreTurns;
import org.jspecify.annotations.Nullable;

/** The listing of a program for people. */
public final class ListingView {

    /** The columns of a row before and after what a word says, but for the source text. */
    private static final int OTHERS = 27 + 6;

    private static final int LEAST_TEXT = 28;
    private static final int LEAST_SOURCE = 19;

    /** Words of one line that are all alike, beyond these, become one row. */
    private static final int MOST_ALIKE = 3;

    private final Listing listing;
    private final Design design;
    private final Glyphs glyphs;
    private final int columns;
    private final int textColumns;
    private final List<Line> lines = new ArrayList<>();

    private ListingView(Listing listing, Glyphs glyphs, int columns) {
        this.listing = listing;
        this.design = listing.program().design();
        this.glyphs = glyphs;
        this.columns = columns;
        int longest = 1
                + listing.sections().stream()
                        .flatMap(section -> section.rows().stream())
                        .mapToInt(row -> Glyphs.width(says(row, false)))
                        .max()
                        .orElse(0);
        this.textColumns = Math.max(LEAST_TEXT, Math.min(longest, columns - OTHERS - LEAST_SOURCE));
    }

    /** The lines, cut to so many columns. */
    public static List<Line> lines(Listing listing, Glyphs glyphs, int columns) {
        ListingView view = new ListingView(listing, glyphs, columns);
        view.heading();
        listing.sections().forEach(view::section);
        return view.lines;
    }

    private void heading() {
        String name = glyphs.visible(listing.program().name());
        String designName = glyphs.visible(design.name());
        add(Line.of(Ink.STRONG, glyphs.cut("%s for %s".formatted(name, designName), columns)));
        add(Line.of(glyphs.cut("time in cycles; " + waitLegend() + "; 1+: one or more", columns)));
    }

    private void add(Line line) {
        lines.add(line);
    }

    private String waitLegend() {
        long worst = 0;
        for (CoreTurns core : TurnFigures.of(design).cores()) {
            if (core.worstWait().isEmpty()) {
                return "w: the wait for a turn, without a bound";
            }
            worst = Math.max(worst, core.worstWait().getAsLong());
        }
        return worst == 0 ? "w: the wait for a turn, always 0" : "w: the wait for a turn, 0..%d".formatted(worst);
    }

    private void section(Listing.Section section) {
        Block block = section.block();
        add(Line.EMPTY);
        add(Line.of(Ink.STRONG, glyphs.cut(title(section), columns)));
        if (section.rows().isEmpty()) {
            add(Line.of(Ink.WEAK, "  (empty)"));
            return;
        }
        String head = "  addr  word      time    " + Glyphs.padded("what it says", textColumns) + "line  source";
        add(Line.of(Ink.WEAK, head));
        int shownLine = 0;
        List<Row> rows = section.rows();
        for (int i = 0; i < rows.size(); i++) {
            Row row = rows.get(i);
            int alike = alike(rows, i);
            boolean count = block.kind() == Block.Kind.IMAGE && i == 0;
            add(row(row, count, row.line() != shownLine));
            shownLine = row.line();
            if (alike > MOST_ALIKE) {
                String more = "  ..%d  %d more like it"
                        .formatted(rows.get(i + alike - 1).address(), alike - 1);
                add(Line.of(Ink.WEAK, more));
                i += alike - 1;
            }
        }
    }

    private String title(Listing.Section section) {
        Block block = section.block();
        int words = block.words().length;
        String size = "%s word%s".formatted(Numbers.grouped(words), words == 1 ? "" : "s");
        return switch (block.kind()) {
            case CORE ->
                "core%s %s, private RAM: %s"
                        .formatted(block.cores().size() == 1 ? "" : "s", ranges(block.cores()), size);
            case SHARED -> "shared memory from %d: %s%s".formatted(block.address(), size, fetchNote(section));
            case IMAGE ->
                "image %s, shared memory from %d, runs in private RAM: %s"
                        .formatted(glyphs.visible(block.name()), block.address(), size);
        };
    }

    private String fetchNote(Listing.Section section) {
        boolean code = section.rows().stream().anyMatch(Row::code);
        return code ? "; run from here, each instruction takes w+%d more".formatted(design.slotCycles()) : "";
    }

    /** Ascending numbers as in "0, 2..5". */
    private static String ranges(List<Integer> numbers) {
        List<String> parts = new ArrayList<>();
        for (int i = 0; i < numbers.size(); ) {
            int last = i;
            while (last + 1 < numbers.size() && numbers.get(last + 1) == numbers.get(last) + 1) {
                last++;
            }
            parts.add(last == i ? Integer.toString(numbers.get(i)) : numbers.get(i) + ".." + numbers.get(last));
            i = last + 1;
        }
        return String.join(", ", parts);
    }

    /** How many rows from here on are data of the same line and value. */
    private static int alike(List<Row> rows, int from) {
        Row first = rows.get(from);
        int to = from;
        while (to < rows.size()
                && !rows.get(to).code()
                && rows.get(to).word() == first.word()
                && rows.get(to).line() == first.line()) {
            to++;
        }
        return Math.max(1, to - from);
    }

    private Line row(Row row, boolean count, boolean withSource) {
        String head = "%6d  %08X  %s%s"
                .formatted(
                        row.address(),
                        row.word(),
                        Glyphs.padded(time(row.time()), 8),
                        Glyphs.padded(glyphs.cut(says(row, count), textColumns - 1), textColumns));
        if (!withSource) {
            return Line.of(head);
        }
        String source = listing.program().sourceLine(row.line()).strip();
        String text = "%s%4d  %s".formatted(head, row.line(), glyphs.visible(source));
        return Line.of(glyphs.cut(text, columns));
    }

    private String says(Row row, boolean count) {
        String data = count ? "count " : "word ";
        return glyphs.visible(row.code() ? row.text() : data + row.text());
    }

    private String time(@Nullable Time time) {
        if (time == null) {
            return "";
        }
        if (time.waits()) {
            return "%d+w+%d".formatted(design.cost().plain(), design.slotCycles());
        }
        if (time.most().isEmpty()) {
            return time.least() + "+";
        }
        long most = time.most().getAsLong();
        return most == time.least() ? Long.toString(most) : "%d or %d".formatted(time.least(), most);
    }
}
