package octurn.cli.view;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import octurn.arbiter.Rotation;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.excerpt.Excerpt;
import octurn.excerpt.Excerpt.Deed;
import octurn.excerpt.Excerpt.Lane;
import octurn.excerpt.Excerpt.Level;
import octurn.excerpt.Excerpt.Stretch;
import octurn.excerpt.Excerpt.Wave;
import octurn.excerpt.Excerpt.WaveColumn;
import octurn.machine.State;

/** An excerpt of a run in plain text: lanes over cycles, one column a cycle, with the marks of the stepper. */
public final class ExcerptView {

    /** Room for the names, left of the lanes. */
    private static final int NAMES = 8;
    /** Room for the shares, right of merged lanes. */
    private static final int SHARES = 18;

    private static final int MOST_HANDOVERS = 8;

    private final Excerpt excerpt;
    private final Design design;
    private final List<Integer> cores;
    private final List<Integer> pins;
    private final boolean labels;
    private final Glyphs glyphs;
    private final int columns;
    private final int width;
    private final ExcerptWords words;
    private final List<Line> lines = new ArrayList<>();

    private ExcerptView(
            Excerpt excerpt, List<Integer> cores, List<Integer> pins, boolean labels, Glyphs glyphs, int columns) {
        this.excerpt = excerpt;
        this.design = excerpt.program().design();
        this.cores = cores;
        this.pins = pins;
        this.labels = labels;
        this.glyphs = glyphs;
        this.columns = columns;
        this.width = excerpt.columns();
        this.words = new ExcerptWords(excerpt, cores, glyphs);
    }

    /** How many cycles fit into so many columns of text with a column for each. */
    public static int exactCycles(int columns) {
        return columns - NAMES;
    }

    /** How many columns there are for merged cycles in so many columns of text. */
    public static int mergedColumns(int columns) {
        return columns - NAMES - SHARES;
    }

    /**
     * The lines.
     *
     * @param excerpt of at least one cycle, with no more columns than fit
     * @param cores whose lanes are wanted
     * @param pins whose waves are wanted
     * @param labels whether instructions are written below the lanes
     * @param columns how wide it may get, at least 40
     */
    public static List<Line> lines(
            Excerpt excerpt, List<Integer> cores, List<Integer> pins, boolean labels, Glyphs glyphs, int columns) {
        ExcerptView view = new ExcerptView(excerpt, cores, pins, labels, glyphs, columns);
        view.heading();
        view.rulers();
        cores.forEach(core -> view.lane(excerpt.lanes().get(core)));
        pins.forEach(pin -> view.wave(excerpt.waves().get(pin)));
        view.footing();
        return view.lines;
    }

    private void heading() {
        String span = ", " + words.span();
        lines.add(
                Line.of(Ink.STRONG, words.program(columns - Glyphs.width(span))).and(span));
        lines.add(Line.of(glyphs.cut(words.design(columns), columns)));
        lines.add(Line.EMPTY);
    }

    // ---- rulers

    private void rulers() {
        String[] cells = blank();
        int step = Numbers.grouped(excerpt.to()).length() < 9 ? 10 : 20;
        long scale = excerpt.cyclesAColumn();
        // The first tick is the first round number, on a column of its own.
        int first = excerpt.isExact() ? (int) Math.floorMod(-excerpt.from(), 10L) : 0;
        for (int column = first; column < width; column += step) {
            String number = Numbers.grouped(excerpt.from() + column * scale);
            if (column + number.length() <= width || column == first) {
                write(cells, column, number);
            }
        }
        String shares = excerpt.isExact() ? "" : "  work  wait  slot";
        lines.add(Line.of(Ink.WEAK, Glyphs.padded("cycle", NAMES)).and(join(cells) + shares));
        if (excerpt.isExact()) {
            if (design.admission() instanceof Admission.Rotation admission) {
                turns(new Rotation(design.slotCycles(), admission.order(), design.cores()));
            } else if (!(design.admission() instanceof Admission.OwnPort)) {
                holders();
            }
        }
    }

    private void turns(Rotation rotation) {
        String[] cells = blank();
        int slot = design.slotCycles();
        for (long start = excerpt.from() / slot * slot; start < excerpt.to(); start += slot) {
            stretch(cells, start, start + slot, rotation.owner(start));
        }
        lines.add(Line.of(Ink.WEAK, Glyphs.padded("turn", NAMES)).and(join(cells)));
    }

    private void holders() {
        String[] cells = blank();
        Arrays.fill(cells, glyphs.sign("\u00b7", "."));
        for (Lane lane : excerpt.lanes()) {
            for (Stretch stretch : lane.stretches()) {
                if (stretch.state().isAdmitted()) {
                    stretch(cells, stretch.since(), stretch.to(), lane.core());
                }
            }
        }
        lines.add(Line.of(Ink.WEAK, Glyphs.padded("held", NAMES)).and(join(cells)));
    }

    /** A core's number over a stretch of cycles; of two digits in one column, the last one. */
    private void stretch(String[] cells, long from, long to, int core) {
        String number = Integer.toString(core);
        String shown = to - from < number.length() ? number.substring(1) : number;
        for (long cycle = Math.max(from, excerpt.from()); cycle < Math.min(to, excerpt.to()); cycle++) {
            int index = (int) (cycle - from);
            String rest = cycle == to - 1 ? " " : glyphs.sign("\u254c", "-");
            cells[(int) (cycle - excerpt.from())] = index < shown.length() ? shown.substring(index, index + 1) : rest;
        }
    }

    private String[] blank() {
        String[] cells = new String[width];
        Arrays.fill(cells, " ");
        return cells;
    }

    private static void write(String[] cells, int column, String text) {
        for (int i = 0; i < text.length() && column + i < cells.length; i++) {
            cells[column + i] = text.substring(i, i + 1);
        }
    }

    private static String join(String[] cells) {
        return String.join("", cells);
    }

    // ---- lanes

    private void lane(Lane lane) {
        State[] states = new State[width];
        boolean[] begins = new boolean[width];
        if (excerpt.isExact()) {
            for (Stretch stretch : lane.stretches()) {
                Arrays.fill(states, column(stretch.from()), column(stretch.to()), stretch.state());
            }
            lane.deeds().stream().filter(Deed::begins).forEach(deed -> begins[column(deed.from())] = true);
        } else {
            for (int column = 0; column < width; column++) {
                states[column] = most(lane.columns().get(column));
            }
        }
        Line line = Line.of(Glyphs.padded("core %2d".formatted(lane.core()), NAMES));
        for (int column = 0; column < width; ) {
            StringBuilder text = new StringBuilder();
            Ink ink = LaneMarks.ink(states[column]);
            for (; column < width && LaneMarks.ink(states[column]) == ink; column++) {
                boolean start = begins[column] && states[column] == State.WORK;
                text.append(start ? LaneMarks.start(glyphs) : LaneMarks.mark(states[column], glyphs));
            }
            line = line.and(ink, text.toString());
        }
        if (!excerpt.isExact()) {
            line = line.and("%4d %% %3d %% %3d %%"
                    .formatted(
                            ExcerptWords.percent(lane.cycles(), state -> state == State.WORK),
                            ExcerptWords.waitPercent(lane),
                            ExcerptWords.percent(lane.cycles(), State::isAdmitted)));
        }
        lines.add(line);
        if (labels && excerpt.isExact()) {
            labels(lane);
        }
    }

    private int column(long cycle) {
        return (int) (cycle - excerpt.from());
    }

    /** The state in which most of a column's cycles were spent; of equals the first. */
    private static State most(Map<State, Long> cycles) {
        State most = State.IDLE;
        long count = 0;
        for (State state : State.values()) {
            if (cycles.getOrDefault(state, 0L) > count) {
                most = state;
                count = cycles.getOrDefault(state, 0L);
            }
        }
        return most;
    }

    /** The instructions, each below its first cycle, as far as there is room up to the next one. */
    private void labels(Lane lane) {
        StringBuilder row = new StringBuilder();
        int used = 0;
        for (int i = 0; i < lane.deeds().size(); i++) {
            Deed deed = lane.deeds().get(i);
            boolean last = i + 1 == lane.deeds().size();
            int from = column(deed.from());
            int room = last ? width - from : column(lane.deeds().get(i + 1).from()) - from - 1;
            for (String text : words.label(deed)) {
                if (Glyphs.width(text) <= room) {
                    row.append(" ".repeat(from - used)).append(text);
                    used = from + Glyphs.width(text);
                    break;
                }
            }
        }
        if (used > 0) {
            lines.add(Line.of(" ".repeat(NAMES)).and(Ink.WEAK, row.toString()));
        }
    }

    // ---- pins

    private void wave(Wave wave) {
        String high = glyphs.sign("\u2594", "^");
        String low = glyphs.sign("\u2581", "_");
        String[] cells = blank();
        if (excerpt.isExact()) {
            for (Level level : wave.levels()) {
                String mark = level.clash() ? "!" : level.high() ? high : low;
                Arrays.fill(cells, column(level.from()), column(level.to()), mark);
            }
        } else {
            for (int column = 0; column < width; column++) {
                WaveColumn sums = wave.columns().get(column);
                boolean mixed = sums.edges() > 0 && sums.highCycles() < excerpt.cyclesIn(column);
                String level = sums.highCycles() > 0 ? high : low;
                cells[column] = sums.clashes() > 0 ? "!" : mixed ? glyphs.sign("\u2503", "|") : level;
            }
        }
        String name = Glyphs.padded("pin %3d".formatted(wave.pin()), NAMES);
        lines.add(Line.of(name).and(wave.clashes() > 0 ? Ink.ALARM : Ink.PLAIN, join(cells)));
    }

    // ---- below the lanes

    private void footing() {
        lines.add(Line.EMPTY);
        for (String line : glyphs.wrapped(legend(), columns)) {
            lines.add(Line.of(Ink.WEAK, line.replace('\u00a0', ' ')));
        }
        List<String> notes = new ArrayList<>(words.notes());
        if (!excerpt.isExact()) {
            notes.set(
                    0,
                    "Each column is %s cycles and shows what the core did in most of them; the shares are of all cycles."
                            .formatted(Numbers.grouped(excerpt.cyclesAColumn())));
        }
        for (String note : notes) {
            glyphs.wrapped(note, columns).forEach(line -> lines.add(Line.of(line)));
        }
        List<String> handed = words.handovers(MOST_HANDOVERS);
        if (!handed.isEmpty()) {
            lines.add(Line.of("Words that went from core to core:"));
            for (String one : handed) {
                lines.add(Line.of("  " + glyphs.cut(one, columns - 2)));
            }
        }
    }

    /** The marks that occur. */
    private String legend() {
        List<String> parts = new ArrayList<>();
        Set<State> occurring = new TreeSet<>();
        cores.forEach(
                core -> occurring.addAll(excerpt.lanes().get(core).cycles().keySet()));
        for (State state : occurring) {
            String mark = LaneMarks.mark(state, glyphs);
            parts.add((state == State.WORK && excerpt.isExact() ? LaneMarks.start(glyphs) + mark : mark)
                    + "\u00a0"
                    + ExcerptWords.name(state).replace(' ', '\u00a0'));
        }
        boolean clash = pins.stream().anyMatch(pin -> excerpt.waves().get(pin).clashes() > 0);
        if (clash) {
            parts.add("!\u00a0clash");
        }
        return String.join("  ", parts);
    }
}
