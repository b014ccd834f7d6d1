package octurn.cli.view;

import java.util.ArrayList;
import java.util.List;
import octurn.cli.view.Canvas.Area;

/**
 * The screens of a course, drawn anew for each scene: a pure function of what there is to show and of the screen's size.
 *
 * <p>From top to bottom: where we are; the list of lessons, or the text of a step with what came of it, side by side where
 * there is room; and the answer being typed, a message, or what could be done next.
 */
public final class LearnScreen {

    /** Longer lines are hard to follow with the eye. */
    private static final int MOST_COLUMNS = 88;

    /** Columns from which on results stand beside the text. */
    private static final int SIDE_BY_SIDE = 120;

    private static final int LEAST_ROWS = 10;
    private static final int LEAST_COLUMNS = 40;

    /** Rows at the bottom: a line across, the message or the answer, the hint. */
    private static final int BOTTOM = 3;

    private LearnScreen() {}

    /** Draws the screen. */
    public static Frame render(LearnScene scene, int rows, int columns, Glyphs glyphs) {
        Canvas canvas = new Canvas(Math.max(rows, 1), Math.max(columns, 1), glyphs);
        Area area = canvas.all();
        if (rows < LEAST_ROWS || columns < LEAST_COLUMNS) {
            tooSmall(area);
            return canvas.frame();
        }
        header(area, scene);
        Area body = area.part(1, 0, rows - 1 - BOTTOM, columns);
        if (scene instanceof LearnScene.Lessons lessons) {
            lessons(body, lessons);
        } else if (scene instanceof LearnScene.Page page) {
            page(body, page);
        }
        bottom(area.below(rows - BOTTOM), scene, hint(scene, rows, columns, glyphs));
        if (scene instanceof LearnScene.Page page) {
            more(area.part(rows - BOTTOM, 0, 1, columns), page, rows);
        }
        return canvas.frame();
    }

    private static void tooSmall(Area area) {
        String text =
                "This window has %d columns and %d rows; lessons need %d and %d. Make it larger, or leave with Ctrl-C. octurn learn --say needs no room at all."
                        .formatted(area.columns(), area.rows(), LEAST_COLUMNS, LEAST_ROWS);
        List<String> lines = area.glyphs().wrapped(text, Math.max(1, area.columns()));
        for (int row = 0; row < Math.min(lines.size(), area.rows()); row++) {
            area.put(row, 0, lines.get(row), Ink.PLAIN);
        }
    }

    private static void header(Area area, LearnScene scene) {
        Glyphs glyphs = area.glyphs();
        String place = glyphs.cut(glyphs.visible(scene.place()), area.columns() / 2) + " ";
        area.fill(0, 0, area.columns(), " ", Ink.REVERSED);
        area.putCut(0, 1, scene.title(), Ink.STRONG_REVERSED, area.columns() - Glyphs.width(place) - 2);
        area.putRight(0, area.columns(), place, Ink.REVERSED);
    }

    private static void bottom(Area area, LearnScene scene, String hint) {
        Glyphs glyphs = area.glyphs();
        area.fill(0, 0, area.columns(), glyphs.sign("\u254c", "-"), Ink.WEAK);
        if (scene instanceof LearnScene.Page page && page.prompt() != null) {
            answer(area, page, page.prompt());
        } else {
            area.putCut(1, 0, scene.message(), scene.isError() ? Ink.ALARM : Ink.STRONG, area.columns());
        }
        area.putCut(2, 0, hint, Ink.PLAIN, area.columns());
    }

    /** What could be done next; where a page goes on below, that comes first. */
    private static String hint(LearnScene scene, int rows, int columns, Glyphs glyphs) {
        String hint = scene.hint();
        boolean below = scene instanceof LearnScene.Page page && below(page, rows, columns, glyphs) > 0;
        int second = hint.indexOf("  ");
        return below && hint.startsWith("Enter ") && second > 0
                ? "Enter turns the page" + hint.substring(second)
                : hint;
    }

    /** Lines of a page below those in sight. */
    public static int below(LearnScene.Page page, int rows, int columns, Glyphs glyphs) {
        return Math.max(0, length(page, columns, glyphs) - room(rows) - page.scroll());
    }

    /** Which lines are in sight, if not all are. */
    private static void more(Area area, LearnScene.Page page, int rows) {
        int length = length(page, area.columns(), area.glyphs());
        int room = room(rows);
        if (length > room) {
            int top = Math.max(0, Math.min(page.scroll(), length - room));
            String text = " lines %d..%d of %d, PgDn and PgUp for more ".formatted(top + 1, top + room, length);
            area.putRight(0, area.columns() - 1, text, Ink.PLAIN);
        }
    }

    /** The answer being typed, and behind it a message; a long one is moved so that the cursor stays in sight. */
    private static void answer(Area area, LearnScene.Page page, Scene.Prompt prompt) {
        Glyphs glyphs = area.glyphs();
        String ask = glyphs.visible(page.ask()) + " ";
        String before = glyphs.visible(prompt.text().substring(0, prompt.cursor()));
        int start = Glyphs.width(ask);
        int shift = Math.max(0, Glyphs.width(before) - (area.columns() - start - 4));
        int end = area.put(1, start - shift, glyphs.visible(prompt.text()), Ink.UNDERLINED);
        for (int column = end; column < start + 6; column++) {
            area.put(1, column, " ", Ink.UNDERLINED);
        }
        area.put(1, 0, ask, Ink.STRONG);
        area.putCut(
                1,
                Math.max(end, start + 6) + 2,
                page.message(),
                page.isError() ? Ink.ALARM : Ink.PLAIN,
                area.columns());
        area.cursor(1, start + Glyphs.width(before) - shift);
    }

    // ---- the list ----

    private static void lessons(Area area, LearnScene.Lessons scene) {
        Glyphs glyphs = area.glyphs();
        List<Line> about = scene.rows().isEmpty()
                ? List.of()
                : lines(scene.rows().get(scene.chosen()).about(), glyphs, Math.min(area.columns() - 2, MOST_COLUMNS));
        int aboutRows = Math.min(about.size(), Math.max(3, area.rows() / 3));
        int room = area.rows() - aboutRows - 2;
        int count = scene.rows().size();
        int first = Math.max(0, Math.min(scene.chosen() - room / 2, count - room));
        int standing = area.columns() >= 100 ? 28 : 22;
        int minutes = area.columns() - standing - 8;
        area.put(0, 4, "lesson", Ink.WEAK);
        area.put(0, minutes, "minutes", Ink.WEAK);
        area.put(0, minutes + 9, "so far", Ink.WEAK);
        if (count > room) {
            String more = "%d..%d of %d".formatted(first + 1, Math.min(count, first + room), count);
            area.put(0, 12, more, Ink.WEAK);
        }
        for (int row = 0; row < Math.min(room, count - first); row++) {
            int index = first + row;
            LearnScene.Row lesson = scene.rows().get(index);
            boolean chosen = index == scene.chosen();
            Ink ink = chosen ? Ink.STRONG : Ink.PLAIN;
            if (chosen) {
                area.put(row + 1, 0, glyphs.sign("\u25b6", ">"), Ink.STRONG);
            }
            area.putRight(row + 1, 4, Integer.toString(index + 1), ink);
            area.putCut(row + 1, 5, lesson.title(), ink, minutes - 1);
            area.putRight(row + 1, minutes + 7, lesson.minutes(), ink);
            Ink mark = lesson.isDone() ? Ink.GREEN : ink;
            area.putCut(row + 1, minutes + 9, lesson.standing(), mark, area.columns());
            area.zone(row + 1, 0, 1, area.columns(), "choose " + (index + 1), "", "");
        }
        area.zone(1, 0, room, area.columns(), "", "choose up", "choose down");
        int top = area.rows() - aboutRows;
        area.fill(top - 1, 0, area.columns(), glyphs.sign("\u254c", "-"), Ink.WEAK);
        for (int row = 0; row < aboutRows; row++) {
            area.put(top + row, 1, about.get(row));
        }
    }

    // ---- a step ----

    private static boolean isSideBySide(LearnScene.Page page, int columns) {
        return columns >= SIDE_BY_SIDE && !page.results().isEmpty();
    }

    private static int textColumns(LearnScene.Page page, int columns) {
        int room = isSideBySide(page, columns) ? columns / 2 - 2 : columns - 2;
        return Math.min(room, MOST_COLUMNS);
    }

    /** Lines of text that a screen of so many rows shows at once. */
    public static int room(int rows) {
        return Math.max(1, rows - 1 - BOTTOM);
    }

    /** How many lines a page has at this width. */
    public static int length(LearnScene.Page page, int columns, Glyphs glyphs) {
        int text = lines(page.text(), glyphs, textColumns(page, columns)).size();
        int results = lines(page.results(), glyphs, textColumns(page, columns)).size();
        return isSideBySide(page, columns) ? Math.max(text, results) : text + (results == 0 ? 0 : results + 1);
    }

    /** The line at which the results begin at this width, from 0. */
    public static int resultsStart(LearnScene.Page page, int columns, Glyphs glyphs) {
        return isSideBySide(page, columns) || page.results().isEmpty()
                ? 0
                : lines(page.text(), glyphs, textColumns(page, columns)).size() + 1;
    }

    private static void page(Area area, LearnScene.Page page) {
        Glyphs glyphs = area.glyphs();
        int columns = textColumns(page, area.columns());
        List<Line> text = lines(page.text(), glyphs, columns);
        List<Line> results = lines(page.results(), glyphs, columns);
        if (isSideBySide(page, area.columns())) {
            int middle = area.columns() / 2;
            column(area.part(0, 0, area.rows(), middle - 1), text, page.scroll());
            column(area.part(0, middle, area.rows(), area.columns() - middle), results, page.scroll());
            for (int row = 0; row < area.rows(); row++) {
                area.put(row, middle - 1, glyphs.sign("\u258f", "|"), Ink.WEAK);
            }
        } else {
            List<Line> all = new ArrayList<>(text);
            if (!results.isEmpty()) {
                all.add(Line.of(Ink.WEAK, glyphs.sign("\u254c", "-").repeat(columns)));
                all.addAll(results);
            }
            column(area, all, page.scroll());
        }
        area.zone(0, 0, area.rows(), area.columns(), "", "scroll up", "scroll down");
    }

    private static void column(Area area, List<Line> lines, int scroll) {
        int top = Math.max(0, Math.min(scroll, lines.size() - area.rows()));
        for (int row = 0; row < Math.min(area.rows(), lines.size() - top); row++) {
            area.put(row, 1, lines.get(top + row));
        }
    }

    private static List<Line> lines(List<Section> sections, Glyphs glyphs, int columns) {
        List<Line> lines = new ArrayList<>();
        for (Section section : sections) {
            if (!lines.isEmpty()) {
                lines.add(Line.EMPTY);
            }
            if (!section.label().isEmpty()) {
                for (String line : glyphs.wrapped(glyphs.visible(section.label()), columns)) {
                    lines.add(Line.of(section.tone().ink(), line));
                }
            }
            if (!section.text().blocks().isEmpty()) {
                lines.addAll(ProseView.lines(section.text(), glyphs, columns));
            }
        }
        return lines;
    }
}
