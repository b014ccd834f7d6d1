package octurn.cli.view;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import octurn.cli.view.Canvas.Area;
import octurn.cli.view.Scene.Prompt;
import octurn.design.Design;
import octurn.run.Moment;

/**
 * The stepper's screen, drawn anew for each scene: a pure function of what there is to show and of the screen's size.
 *
 * <p>From top to bottom: where we are; the ruler of turns; a lane for each core, with time running to the right and a bar
 * where the present cycle begins; the source and panels with what is in the chip; the present cycle in words; and the
 * command line, an answer or a hint.
 */
public final class StepScreen {

    private StepScreen() {}

    /** Whether a screen of this size has room for everything. */
    public static boolean fits(int rows, int columns) {
        return StepLayout.fits(rows, columns);
    }

    /** Cycles before the present one that a screen of this size shows. */
    public static int past(int rows, int columns, Design design) {
        return fits(rows, columns) ? StepLayout.of(rows, columns, design).past() : 1;
    }

    /** Cycles from the present one on that a screen of this size shows. */
    public static int coming(int rows, int columns, Design design) {
        return fits(rows, columns) ? StepLayout.of(rows, columns, design).coming() : 1;
    }

    /** Cycles up to and including the present one that the waves of the pins show. */
    public static long pinCycles(Look look) {
        return PinsView.cycles(look);
    }

    /** Draws the screen. */
    public static Frame render(Scene scene, int rows, int columns, Glyphs glyphs) {
        Canvas canvas = new Canvas(Math.max(rows, 1), Math.max(columns, 1), glyphs);
        if (fits(rows, columns)) {
            draw(canvas.all(), scene);
        } else {
            tooSmall(canvas.all(), rows, columns);
        }
        return canvas.frame();
    }

    private static void tooSmall(Area area, int rows, int columns) {
        String text =
                "This window has %d columns and %d rows; the stepper needs %d and %d. Make it larger, or leave with q. octurn step --say needs no room at all."
                        .formatted(columns, rows, StepLayout.LEAST_COLUMNS, StepLayout.LEAST_ROWS);
        List<String> lines = area.glyphs().wrapped(text, Math.max(1, area.columns()));
        for (int row = 0; row < Math.min(lines.size(), area.rows()); row++) {
            area.put(row, 0, lines.get(row), Ink.PLAIN);
        }
    }

    private static void draw(Area area, Scene scene) {
        Design design = scene.moment().chip().design();
        StepLayout layout = StepLayout.of(area.rows(), area.columns(), design);
        header(area.part(0, 0, 1, area.columns()), scene);
        Area body = area.part(1, 0, layout.bottomRow() - 1, area.columns());
        if (scene.look().overlay() == Look.Overlay.HELP) {
            overlay(body, scene);
        } else {
            LanesView.draw(area.part(1, 0, layout.rulerRows() + layout.lanes(), area.columns()), scene, layout);
            if (layout.legendRow() >= 0) {
                area.put(layout.legendRow(), StepLayout.LABEL, LaneMarks.legend(area.glyphs()), Ink.PLAIN);
            }
            Area lower = area.part(layout.titleRow(), 0, layout.bottomRow() - layout.titleRow(), area.columns());
            if (scene.look().overlay() == Look.Overlay.NONE) {
                StepLayout left = note(area, scene, layout);
                detail(area, scene, left);
                sentence(area, scene, left);
            } else {
                overlay(lower, scene);
            }
        }
        bottom(area, scene, layout);
    }

    // ---- the header ----

    private static void header(Area area, Scene scene) {
        Moment moment = scene.moment();
        Design design = moment.chip().design();
        Glyphs glyphs = area.glyphs();
        String place =
                "cycle %s  %s ".formatted(Numbers.grouped(moment.cycle()), micros(design, moment.cycle(), glyphs));
        StringBuilder flags = new StringBuilder();
        for (String flag : scene.flags()) {
            flags.append('[').append(glyphs.visible(flag)).append("] ");
        }
        area.fill(0, 0, area.columns(), " ", Ink.REVERSED);
        int right = area.columns() - Glyphs.width(place);
        int flagColumn = right - Glyphs.width(flags.toString());
        String names = scene.sentences().places().program().name() + glyphs.sign(" \u00b7 ", " - ") + design.name();
        area.putCut(0, 1, names, Ink.REVERSED, Math.max(20, flagColumn - 1));
        area.put(0, Math.max(21, flagColumn), flags.toString(), Ink.STRONG_REVERSED, right);
        area.put(0, right, place, Ink.STRONG_REVERSED);
    }

    /** A cycle's time in microseconds at the design's clock. */
    public static String micros(Design design, long cycle, Glyphs glyphs) {
        return String.format(Locale.ROOT, "%,.3f ", design.clock().micros(cycle)) + glyphs.sign("\u00b5s", "us");
    }

    // ---- source, panels, words ----

    private static void detail(Area area, Scene scene, StepLayout layout) {
        int top = layout.titleRow();
        int source = layout.sourceColumns();
        int rows = layout.detailRows() + 1;
        String line = area.glyphs().sign("\u254c", "-");
        area.fill(top, 0, source, line, Ink.WEAK);
        area.put(top, 0, SourceView.title() + " ", Ink.PLAIN);
        SourceView.draw(area.part(top + 1, 0, rows - 1, source - 1), scene);
        List<Area> columns = new ArrayList<>();
        for (int i = 0; i < layout.panelColumns(); i++) {
            int column = source + i * (StepLayout.PANEL + 1);
            for (int row = 1; row < rows; row++) {
                area.put(top + row, column, area.glyphs().sign("\u258f", "|"), Ink.WEAK);
            }
            area.put(top, column, area.glyphs().sign("\u254c", "+"), Ink.WEAK);
            columns.add(area.part(top, column + 1, rows, StepLayout.PANEL));
        }
        new Panels(scene, area.glyphs()).fill(columns);
    }

    /** Draws the note, if there is one, above the bottom of the screen, and gives what is left to source and panels. */
    private static StepLayout note(Area area, Scene scene, StepLayout layout) {
        Note note = scene.note();
        if (note == null) {
            return layout;
        }
        Glyphs glyphs = area.glyphs();
        List<String> lines = new ArrayList<>();
        for (String paragraph : note.paragraphs()) {
            lines.addAll(glyphs.wrapped(glyphs.visible(paragraph), area.columns() - 1));
        }
        // One row of source and panels stays, for their titles would be without sense.
        int rows = Math.min(lines.size(), layout.detailRows() - 2);
        StepLayout left = layout.withDetailRows(layout.detailRows() - rows - 1);
        int top = left.sentenceRow() + left.sentenceRows();
        area.fill(top, 0, area.columns(), glyphs.sign("\u254c", "-"), Ink.WEAK);
        area.put(top, 1, " " + glyphs.cut(glyphs.visible(note.title()), area.columns() - 4) + " ", Ink.STRONG_REVERSED);
        paragraph(area.part(top + 1, 0, rows, area.columns()), lines, Ink.PLAIN);
        return left;
    }

    private static void sentence(Area area, Scene scene, StepLayout layout) {
        Glyphs glyphs = area.glyphs();
        String text =
                glyphs.visible(scene.sentences().of(scene.moment(), scene.look().core()));
        paragraph(
                area.part(layout.sentenceRow(), 0, layout.sentenceRows(), area.columns()),
                glyphs.wrapped(text, area.columns() - 1),
                Ink.STRONG);
    }

    /** As many of the lines as fit; the last one says with an ellipsis if there are more. */
    private static void paragraph(Area area, List<String> lines, Ink ink) {
        for (int row = 0; row < Math.min(area.rows(), lines.size()); row++) {
            boolean more = row == area.rows() - 1 && lines.size() > area.rows();
            String text = lines.get(row);
            area.putCut(row, 0, more ? text + " " + "x".repeat(area.columns()) : text, ink, area.columns());
        }
    }

    private static void overlay(Area area, Scene scene) {
        Glyphs glyphs = area.glyphs();
        List<String> lines = overlayLines(scene, glyphs, area.columns());
        int room = area.rows() - 1;
        int top = Math.max(0, Math.min(scene.look().overlayScroll(), lines.size() - room));
        area.fill(0, 0, area.columns(), glyphs.sign("\u254c", "-"), Ink.WEAK);
        area.put(0, 1, " " + glyphs.visible(scene.overlayTitle()) + " ", Ink.STRONG_REVERSED);
        String more = lines.size() <= room
                ? " Esc closes "
                : " %d..%d of %d lines, PgUp and PgDn for more, Esc closes "
                        .formatted(top + 1, Math.min(top + room, lines.size()), lines.size());
        area.putRight(0, area.columns() - 1, more, Ink.PLAIN);
        for (int row = 0; row < Math.min(room, lines.size() - top); row++) {
            area.put(row + 1, 0, lines.get(top + row), Ink.PLAIN);
        }
        area.zone(0, 0, area.rows(), area.columns(), "", "scroll up 3", "scroll down 3");
    }

    /** The overlay's paragraphs in lines; those of an indented paragraph are all indented. */
    private static List<String> overlayLines(Scene scene, Glyphs glyphs, int columns) {
        List<String> paragraphs = scene.look().overlay() == Look.Overlay.WHY
                ? scene.reasons().of(scene.moment(), scene.look().core())
                : scene.overlayText();
        List<String> lines = new ArrayList<>();
        for (String paragraph : paragraphs) {
            String visible = glyphs.visible(paragraph);
            int indent = Math.min(
                    columns / 2, visible.length() - visible.stripLeading().length());
            if (Glyphs.width(visible) < columns) {
                lines.add(visible);
            } else {
                for (String line : glyphs.wrapped(visible.stripLeading(), columns - 1 - indent)) {
                    lines.add(" ".repeat(indent) + line);
                }
            }
        }
        return lines;
    }

    // ---- the bottom ----

    private static void bottom(Area area, Scene scene, StepLayout layout) {
        Glyphs glyphs = area.glyphs();
        int row = layout.bottomRow();
        Prompt prompt = scene.prompt();
        boolean ownHintRow = layout.legendRow() >= 0 && scene.look().overlay() == Look.Overlay.NONE;
        if (ownHintRow) {
            area.putCut(row - 1, 0, scene.hint(), Ink.PLAIN, area.columns());
        }
        if (prompt != null) {
            prompt(area, row, prompt);
        } else if (!scene.message().isEmpty()) {
            area.putCut(row, 0, scene.message(), scene.isError() ? Ink.ALARM : Ink.STRONG, area.columns());
        } else if (!ownHintRow) {
            area.putCut(row, 0, scene.hint(), Ink.PLAIN, area.columns());
        }
        if (scene.isError() && prompt == null) {
            area.put(row, area.columns() - 2, glyphs.sign("\u2190", "!"), Ink.ALARM);
        }
    }

    /** The command line; a long one is moved so that the cursor stays in sight. */
    private static void prompt(Area area, int row, Prompt prompt) {
        Glyphs glyphs = area.glyphs();
        String before = glyphs.visible(prompt.text().substring(0, prompt.cursor()));
        int shift = Math.max(0, Glyphs.width(before) - (area.columns() - 4));
        String good = glyphs.visible(prompt.text().substring(0, prompt.firstBad()));
        String bad = glyphs.visible(prompt.text().substring(prompt.firstBad()));
        int column = area.put(row, 1 - shift, good, Ink.STRONG);
        column = area.put(row, column, bad, Ink.ALARM);
        area.putCut(row, column + 2, prompt.offers(), Ink.WEAK, area.columns());
        area.put(row, 0, ":", Ink.STRONG);
        area.cursor(row, 1 + Glyphs.width(before) - shift);
    }
}
