package octurn.cli.view;

import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import octurn.asm.Program;
import octurn.cli.view.Canvas.Area;
import octurn.design.Design;
import octurn.machine.AccessSite;
import octurn.machine.Core;
import octurn.machine.State;
import octurn.report.Places;
import octurn.run.PlaceCycles;
import org.jspecify.annotations.Nullable;

/** The source with the chosen core's line, and the cycles and waits of each line so far. */
final class SourceView {

    private static final int NUMBERS = 18;
    /** Columns for the source from which on there is room to say which cores are at a line. */
    private static final int ROOMY = 56;

    private final Area area;
    private final Scene scene;
    private final Program program;
    private final Places places;
    private final Core core;
    private final Map<Integer, Long> cycles = new TreeMap<>();
    private final Map<Integer, Long> waits = new TreeMap<>();

    private SourceView(Area area, Scene scene) {
        this.area = area;
        this.scene = scene;
        this.places = scene.sentences().places();
        this.program = places.program();
        this.core = scene.moment().chip().core(scene.look().core());
        count();
    }

    static String title() {
        return " line  cyc  wait source";
    }

    static void draw(Area area, Scene scene) {
        new SourceView(area, scene).draw();
    }

    /** Cycles and waits by line; an instruction under way counts with what it took so far. */
    private void count() {
        Design design = program.design();
        PlaceCycles spent = scene.moment().placeCycles();
        int number = core.number();
        for (int address = 0; address < design.privateWords(); address++) {
            count(false, address, spent.cycles(number, false, address));
        }
        for (int address = 0; address < design.sharedWords(); address++) {
            count(true, address, spent.cycles(number, true, address));
        }
        boolean busy = switch (core.state()) {
            case IDLE, FAULT, LOAD_WAIT, LOAD_SLOT -> false;
            default -> true;
        };
        if (busy) {
            add(cycles, places.line(core), scene.moment().cycle() - spent.since(number));
        }
        for (AccessSite site : core.accessSites()) {
            add(waits, places.line(core, site.inShared(), site.address()), site.total());
        }
        if (core.state() == State.WAIT) {
            add(waits, places.line(core), scene.moment().cycle() - core.requestCycle());
        }
    }

    private void count(boolean inShared, int address, long number) {
        if (number > 0) {
            add(cycles, places.line(core, inShared, address), number);
        }
    }

    private static void add(Map<Integer, Long> counts, int line, long number) {
        if (line > 0 && number > 0) {
            counts.merge(line, number, Long::sum);
        }
    }

    private void draw() {
        List<String> source = program.source();
        int current = places.line(core);
        int chosen = scene.look().line();
        int top = top(chosen == Look.FOLLOW ? current : chosen, source.size(), area.rows());
        for (int row = 0; row < area.rows() && top + row <= source.size(); row++) {
            line(row, top + row, current, chosen);
        }
        area.zone(0, 0, area.rows(), area.columns(), "", "select up 3", "select down 3");
        for (int row = 0; row < area.rows() && top + row <= source.size(); row++) {
            area.zone(row, 0, 1, area.columns(), "select " + (top + row), "", "");
        }
    }

    /** The first line in sight: it moves by half a screen at a time, so that the text stands still for a while. */
    static int top(int line, int lines, int rows) {
        int half = Math.max(1, rows / 2);
        int top = Math.max(0, line - 1) / half * half - half / 2 + 1;
        return Math.max(1, Math.min(top, lines - rows + 1));
    }

    private void line(int row, int line, int current, int chosen) {
        Glyphs glyphs = area.glyphs();
        String text = area.columns() < ROOMY ? closer(program.sourceLine(line)) : program.sourceLine(line);
        boolean here = line == current;
        area.put(row, 0, scene.stopLines().contains(line) ? glyphs.sign("\u25cf", "*") : " ", Ink.RED);
        area.put(
                row,
                1,
                here ? glyphs.sign("\u25b8", ">") : line == chosen ? glyphs.sign("\u00bb", "=") : " ",
                Ink.STRONG);
        area.putRight(row, 6, Integer.toString(line), Ink.WEAK);
        number(row, 11, cycles.get(line), Ink.PLAIN);
        number(row, 16, waits.get(line), Ink.PLAIN);
        int comment = Places.commentAt(text);
        int end = area.columns();
        if (area.columns() >= ROOMY) {
            end -= others(row, line);
        }
        Ink ink = here ? Ink.STRONG_REVERSED : line == chosen ? Ink.UNDERLINED : Ink.PLAIN;
        String shown = glyphs.visible(text.substring(0, comment), 0);
        int column = area.put(row, NUMBERS - 1, shown, ink, end);
        area.put(
                row, column, glyphs.visible(text.substring(comment), column - NUMBERS + 1), here ? ink : Ink.WEAK, end);
    }

    /** A line with less blank space, up to its first text in quotes, where there is little room. */
    static String closer(String line) {
        int quote = line.indexOf('"');
        String code = quote < 0 ? line : line.substring(0, quote);
        int indent = code.length() - code.stripLeading().length();
        return " ".repeat(Math.min(indent, 3))
                + code.stripLeading().replaceAll("\\s+", " ")
                + (quote < 0 ? "" : line.substring(quote));
    }

    private void number(int row, int endColumn, @Nullable Long number, Ink ink) {
        if (number != null) {
            area.putRight(row, endColumn, LanesView.shorter(number), ink);
        }
    }

    /** Which other cores are at this line, at the right edge; returns the columns that takes. */
    private int others(int row, int line) {
        String numbers = IntStream.range(0, program.design().cores())
                .filter(number -> number != core.number())
                .mapToObj(number -> scene.moment().chip().core(number))
                .filter(other -> other.state() != State.IDLE && places.line(other) == line)
                .map(other -> Integer.toString(other.number()))
                .collect(Collectors.joining(" "));
        if (numbers.isEmpty()) {
            return 0;
        }
        String text = area.glyphs().cut(" " + area.glyphs().sign("\u25c2", "<") + numbers, 24);
        area.putRight(row, area.columns(), text, Ink.WEAK);
        return Glyphs.width(text);
    }
}
