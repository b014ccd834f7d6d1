package octurn.cli.view;

import java.util.List;
import java.util.Set;
import java.util.function.LongFunction;
import octurn.arbiter.Rotation;
import octurn.cli.view.Canvas.Area;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.machine.Chip;
import octurn.machine.Core;
import octurn.machine.Fault;
import octurn.machine.State;
import octurn.report.Sentences;
import octurn.run.Moment;
import octurn.trace.Event;
import octurn.trace.Kind;
import org.jspecify.annotations.Nullable;

/** The ruler of turns and, below it, one lane a core: time runs to the right, one column a cycle. */
final class LanesView {

    private static final Set<Kind> BEGINS = Set.of(Kind.BEGIN);

    // Instead of the number of the core that holds the memory:
    private static final int NOBODY = -1;
    private static final int SEVERAL = -2;
    private static final int UNKNOWN = -3;

    private final Area area;
    private final Scene scene;
    private final StepLayout layout;
    private final Glyphs glyphs;
    private final Moment moment;
    private final Chip chip;
    private final Design design;
    private final long now;
    /** The first cycle in sight, perhaps below 0. */
    private final long left;

    private final @Nullable State[][] states;
    /** By core and cycle: whether an instruction began. */
    private final boolean[][] starts;
    /** By core and cycle: whether a request was admitted. */
    private final boolean[][] admissions;

    private final @Nullable Rotation rotation;

    private LanesView(Area area, Scene scene, StepLayout layout) {
        this.area = area;
        this.scene = scene;
        this.layout = layout;
        this.glyphs = area.glyphs();
        this.moment = scene.moment();
        this.chip = moment.chip();
        this.design = chip.design();
        this.now = moment.cycle();
        this.left = now - layout.past();
        this.rotation = scene.sentences().rotation();
        this.states = new State[design.cores()][];
        for (int core = 0; core < states.length; core++) {
            states[core] = moment.states(core);
        }
        this.starts = marks(Kind.BEGIN);
        this.admissions = marks(Kind.ADMIT);
    }

    static void draw(Area area, Scene scene, StepLayout layout) {
        LanesView view = new LanesView(area, scene, layout);
        view.heading();
        view.rulers();
        view.lanes();
    }

    private boolean[][] marks(Kind kind) {
        boolean[][] marks = new boolean[design.cores()][(int) (moment.to() - moment.from())];
        for (Event event : moment.events()) {
            if (event.kind() == kind) {
                marks[event.core()][(int) (event.cycle() - moment.from())] = true;
            }
        }
        return marks;
    }

    private int column(long cycle) {
        int column = StepLayout.LABEL + (int) (cycle - left);
        return cycle < now ? column : column + 1;
    }

    private long right() {
        return now + layout.coming();
    }

    private int barColumn() {
        return StepLayout.LABEL + layout.past();
    }

    private int textColumn() {
        return column(right() - 1) + 2;
    }

    private void bar(int row) {
        area.put(row, barColumn(), glyphs.sign("\u2503", "|"), Ink.STRONG);
    }

    // ---- above the lanes ----

    private void heading() {
        int column = column(now);
        area.putCut(0, 0, turn(column - 2), Ink.PLAIN, column - 2);
        area.put(0, column, glyphs.sign("\u25bc", "v") + " now", Ink.STRONG);
        area.putRight(0, column(right() - 1) + 1, "coming " + glyphs.sign("\u2192", "->"), Ink.WEAK);
        int text = textColumn();
        area.put(0, text, "state  for left doing", Ink.WEAK);
    }

    /** Whose turn it is, in as many words as there is room for. */
    private String turn(int columns) {
        String turn = scene.sentences().turn(moment);
        if (turn.length() <= columns) {
            return turn;
        }
        if (rotation != null) {
            return "core %d's slot, %d of %d"
                    .formatted(rotation.owner(now), now % design.slotCycles() + 1, design.slotCycles());
        }
        List<Integer> holders = Sentences.holders(chip);
        if (holders.isEmpty()) {
            return "memory is free";
        }
        if (holders.size() > 1) {
            return holders.size() + " cores hold it";
        }
        Core holder = chip.core(holders.get(0));
        return "core %d holds it, %d of %d"
                .formatted(holder.number(), now - holder.stateSince() + 1, design.slotCycles());
    }

    private void rulers() {
        int held = layout.rulerRows() - 1;
        int turns = held - 1;
        if (rotation != null) {
            area.put(turns, 0, "turn", Ink.WEAK);
            for (long start = Math.floorDiv(left, design.slotCycles()) * design.slotCycles();
                    start < right();
                    start += design.slotCycles()) {
                if (start >= 0) {
                    int owner = rotation.owner(start);
                    Ink ink = owner == scene.look().core() ? Ink.STRONG_REVERSED : Ink.PLAIN;
                    stretch(turns, start, start + design.slotCycles(), owner, cycle -> ink, layout.rulerRows() > 3);
                }
            }
        } else {
            area.put(turns, 0, "line", Ink.WEAK);
            waitingInLine(turns);
        }
        area.put(held, 0, "held", Ink.WEAK);
        holders(held);
        for (int row = 1; row < layout.rulerRows(); row++) {
            bar(row);
        }
    }

    /**
     * A core's number over a stretch of cycles. Where there is room for one digit alone, it is the last one; the first
     * one can stand in the row above.
     */
    private void stretch(int row, long from, long to, int core, LongFunction<Ink> ink, boolean tensAbove) {
        String number = Integer.toString(core);
        String line = glyphs.sign("\u254c", "-");
        String lineEnd = " ";
        if (to - from < number.length()) {
            if (tensAbove) {
                put(row - 1, from, number.substring(0, 1), ink.apply(from));
            }
            number = number.substring(1);
        }
        for (long cycle = from; cycle < to; cycle++) {
            int index = (int) (cycle - from);
            String rest = cycle == to - 1 ? lineEnd : line;
            put(row, cycle, index < number.length() ? number.substring(index, index + 1) : rest, ink.apply(cycle));
        }
    }

    private void put(int row, long cycle, String mark, Ink ink) {
        if (cycle >= left && cycle < right() && cycle >= 0) {
            area.put(row, column(cycle), mark, ink);
        }
    }

    private @Nullable State state(int core, long cycle) {
        int index = (int) (cycle - moment.from());
        @Nullable State[] row = states[core];
        return cycle < moment.from() || index >= row.length ? null : row[index];
    }

    private void waitingInLine(int row) {
        for (long cycle = Math.max(0, left); cycle < right(); cycle++) {
            int count = 0;
            boolean known = false;
            for (int core = 0; core < design.cores(); core++) {
                State state = state(core, cycle);
                known |= state != null;
                count += state != null && state.isWaiting() ? 1 : 0;
            }
            if (known) {
                String mark = count == 0 ? glyphs.sign("\u00b7", ".") : count > 9 ? "+" : Integer.toString(count);
                put(row, cycle, mark, count == 0 ? Ink.WEAK : Ink.PLAIN);
            }
        }
    }

    private void holders(int row) {
        long from = Math.max(0, left);
        // A slot that begins out of sight has its number there.
        while (from > moment.from() && holder(from) >= 0 && !isAdmission(holder(from), from)) {
            from--;
        }
        while (from < right()) {
            int holder = holder(from);
            long to = from + 1;
            while (to < right() && holder(to) == holder && !isAdmission(holder, to)) {
                to++;
            }
            if (holder >= 0) {
                stretch(row, from, to, holder, this::heldInk, false);
            } else if (holder != UNKNOWN) {
                for (long cycle = from; cycle < to; cycle++) {
                    boolean several = holder == SEVERAL;
                    put(row, cycle, several ? "+" : glyphs.sign("\u00b7", "."), several ? heldInk(cycle) : Ink.WEAK);
                }
            }
            from = to;
        }
    }

    private Ink heldInk(long cycle) {
        return cycle <= now ? Ink.ON_BLUE : Ink.BLUE_AHEAD;
    }

    /** Who holds the memory in a cycle. */
    private int holder(long cycle) {
        int holder = NOBODY;
        boolean known = false;
        for (int core = 0; core < design.cores(); core++) {
            State state = state(core, cycle);
            known |= state != null;
            if (state != null && state.isAdmitted()) {
                holder = holder == NOBODY ? core : SEVERAL;
            }
        }
        return known ? holder : UNKNOWN;
    }

    /** Whether a core that holds the memory was admitted anew in this cycle. */
    private boolean isAdmission(int core, long cycle) {
        return core >= 0 && cycle >= moment.from() && admissions[core][(int) (cycle - moment.from())];
    }

    // ---- the lanes ----

    private void lanes() {
        int first = layout.firstLane(scene.look().core(), design.cores());
        for (int i = 0; i < layout.lanes(); i++) {
            lane(layout.rulerRows() + i, first + i);
        }
        int below = design.cores() - first - layout.lanes();
        if (first > 0) {
            area.put(layout.rulerRows(), 0, glyphs.sign("\u2191", "^"), Ink.STRONG);
        }
        if (below > 0) {
            area.put(layout.rulerRows() + layout.lanes() - 1, 0, glyphs.sign("\u2193", "v"), Ink.STRONG);
        }
        area.zone(layout.rulerRows(), 0, layout.lanes(), area.columns(), "", "core previous", "core next");
        for (int i = 0; i < layout.lanes(); i++) {
            area.zone(layout.rulerRows() + i, 0, 1, area.columns(), "core " + (first + i), "", "");
        }
        for (long cycle = Math.max(0, left); cycle < right(); cycle++) {
            area.zone(0, column(cycle), layout.rulerRows(), 1, "go " + cycle, "", "");
        }
    }

    private void lane(int row, int number) {
        Core core = chip.core(number);
        boolean chosen = number == scene.look().core();
        String label = "%s%3d ".formatted(chosen ? glyphs.sign("\u25b6", ">") : " ", number);
        area.put(row, 0, label, chosen ? Ink.STRONG_REVERSED : Ink.PLAIN);
        for (long cycle = Math.max(0, left); cycle < right(); cycle++) {
            State state = state(number, cycle);
            if (state != null) {
                boolean begins = state == State.WORK && starts[number][(int) (cycle - moment.from())];
                String mark = begins ? LaneMarks.start(glyphs) : LaneMarks.mark(state, glyphs);
                put(row, cycle, mark, cycle <= now ? LaneMarks.ink(state) : LaneMarks.inkAhead(state));
            }
        }
        bar(row);
        text(row, core, chosen);
    }

    private void text(int row, Core core, boolean chosen) {
        int column = textColumn();
        State state = core.state();
        Ink ink = chosen ? Ink.STRONG : state == State.IDLE ? Ink.WEAK : Ink.PLAIN;
        area.put(row, column, LaneMarks.brief(state), ink);
        area.putRight(row, column + 10, shorter(now - since(core)), ink);
        if (state != State.IDLE && state != State.FAULT) {
            long until = moment.until(core.number());
            area.putRight(row, column + 15, until < 0 ? "?" : shorter(until - now), ink);
        }
        area.putCut(row, column + 16, doing(core), ink, area.columns());
    }

    /** When what a core does now began. */
    private long since(Core core) {
        if (core.state().isWaiting()) {
            return core.requestCycle();
        }
        Event begin = core.state() == State.WORK ? moment.last(core.number(), BEGINS) : null;
        return begin == null ? core.stateSince() : begin.cycle();
    }

    private String doing(Core core) {
        Fault fault = core.fault();
        if (fault != null) {
            return fault.kind().text();
        }
        return switch (core.state()) {
            case IDLE -> "";
            case LOAD_WAIT, LOAD_SLOT -> "is being started";
            default -> {
                int line = scene.sentences().places().line(core);
                String text = scene.sentences().instruction(chip, core);
                yield area.columns() >= 100 && line > 0 ? line + ": " + text : text;
            }
        };
    }

    /** A number in at most four columns. */
    static String shorter(long number) {
        if (number < 10_000) {
            return Long.toString(number);
        }
        String units = "kMGTP";
        long scaled = number;
        int unit = -1;
        while (scaled >= 1000 && unit < units.length() - 1) {
            scaled /= 1000;
            unit++;
        }
        return scaled + String.valueOf(units.charAt(unit));
    }

    /** Whether slots are so short that the owners' numbers of two digits need two rows. */
    static boolean needsTens(Design design) {
        return design.slotCycles() == 1 && design.cores() > 10 && design.admission() instanceof Admission.Rotation;
    }
}
