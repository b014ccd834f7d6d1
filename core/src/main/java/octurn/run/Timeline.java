package octurn.run;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.NavigableMap;
import java.util.Objects;
import java.util.TreeMap;
import octurn.asm.Program;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.machine.Change;
import octurn.machine.Chip;
import octurn.machine.ClearEngine;
import octurn.trace.Event;
import octurn.trace.Kind;
import octurn.trace.Sink;
import org.jspecify.annotations.Nullable;

/**
 * A run that can be taken to any of its cycles, forwards and backwards, and that tells what happened around them and,
 * as it is deterministic, what is going to.
 *
 * <p>Nothing is ever undone: the run goes back to a keyframe (a saved chip) before the wanted cycle and on from there.
 * Keyframes lie close together near the cycles last visited and ever further apart away from them: on the way to a cycle
 * one is kept each time the distance to go has shrunk by a 64th. When they take more memory than they may, those go whose
 * loss makes the smallest gap, measured by its distance from the present. So a step back replays at most a few hundred
 * cycles, wherever it is made, and a long way back a small part of that way.
 *
 * <p>Changes made by hand are part of the run: they are made again in every replay, until they are taken out of the list.
 */
public final class Timeline {

    /** The bytes that keyframes may take where nothing else is said. */
    public static final long DEFAULT_BUDGET = 96L << 20;

    /** The place of the keyframe that lies before all, with nothing of cycle 0 decided. */
    private static final long BEFORE_ALL = -1;

    /** Cycles between keyframes: a part of the distance to go, within bounds. */
    private static final long GAP_SHARE = 64;

    private static final long SMALLEST_GAP = 256;
    private static final long LARGEST_GAP = 1 << 18;
    /** Cycles after which progress is told. */
    private static final long CHUNK = 1 << 16;

    private final Program program;
    private final Scenario scenario;
    private final long limit;
    private final long budget;

    private final Machine present;
    /** Runs ahead and behind to tell events, without moving the present. */
    private final Machine scout;

    private final NavigableMap<Long, Keyframe> keyframes = new TreeMap<>();
    private long bytes;
    private final Tape tape = new Tape();
    private final Tape pinTape = new Tape();
    /** The pins before the first event of their tape. */
    private Event pinsAtStart = new Event(Kind.PINS, 0, -1, 0, 0);

    private List<Alteration> alterations = List.of();

    private Timeline(Program program, Scenario scenario, long limit, long budget) {
        this.program = program;
        this.scenario = scenario;
        this.limit = limit;
        this.budget = budget;
        this.present = new Machine();
        this.scout = new Machine();
        keep(present.save(null));
        moveTo(0, Progress.NONE);
    }

    /** The run of a program, at the beginning of cycle 0. */
    public static Timeline of(Program program, Scenario scenario, long limit) {
        return of(program, scenario, limit, DEFAULT_BUDGET);
    }

    /**
     * The same with a budget of its own.
     *
     * @param limit the cycle at which the run ends at the latest, 1..2^53-1
     * @param budget how many bytes the keyframes may take, about; the two that are needed most are always kept
     */
    public static Timeline of(Program program, Scenario scenario, long limit, long budget) {
        Run.requireLimit(limit);
        return new Timeline(program, scenario, limit, budget);
    }

    /** What runs. */
    public Program program() {
        return program;
    }

    /** What the world does to the pins. */
    public Scenario scenario() {
        return scenario;
    }

    /** The cycle at which the run ends at the latest. */
    public long limit() {
        return limit;
    }

    /** The present cycle. */
    public long cycle() {
        return present.chip.cycle();
    }

    /** The chip at the beginning of the present cycle; to be looked at, and only until the next move. */
    public Chip chip() {
        return present.chip;
    }

    /** The cycles that each core has spent on each instruction so far; to be looked at, and only until the next move. */
    public PlaceCycles placeCycles() {
        return present.places;
    }

    /** Whether the present cycle is the end of the run. */
    public boolean isOver() {
        return present.chip.ended() != null;
    }

    /** About how many bytes the keyframes take. */
    public long keyframeBytes() {
        return bytes;
    }

    // ---- moving ----

    /**
     * Goes to the beginning of this cycle, or to the end of the run if that comes first.
     *
     * @return the present cycle: less than what was asked for if the run ends before, or the move was interrupted
     */
    public long moveTo(long cycle, Progress progress) {
        long target = Math.max(0, Math.min(cycle, limit));
        approach(present, target);
        while (present.place() < target && !present.isOver()) {
            long gap = Math.max(SMALLEST_GAP, Math.min(LARGEST_GAP, (target - present.place()) / GAP_SHARE));
            if (present.place() == BEFORE_ALL) {
                present.runTo(0);
            } else if (!advance(gap, target, progress)) {
                break;
            }
        }
        return cycle();
    }

    /** Goes on by a gap, and keeps a keyframe there unless it is the target or the end. */
    private boolean advance(long gap, long target, Progress progress) {
        long to = Math.min(target, present.place() + gap);
        while (present.place() < to && !present.isOver()) {
            present.runTo(Math.min(to, present.place() + CHUNK));
            if (present.place() < target && !present.isOver() && !progress.goOn(cycle(), target)) {
                return false;
            }
        }
        if (to < target && !present.isOver()) {
            remember();
        }
        return true;
    }

    /** Takes a machine to the last known moment not after this cycle. */
    private void approach(Machine machine, long cycle) {
        var nearest = Objects.requireNonNull(keyframes.floorEntry(cycle));
        long place = machine.place();
        if (place > cycle || place < nearest.getKey()) {
            machine.restore(nearest.getValue());
        }
    }

    private void remember() {
        long place = present.place();
        if (!keyframes.containsKey(place)) {
            keep(present.save(keyframes.lowerEntry(place).getValue()));
            thinOut();
        }
    }

    private void keep(Keyframe keyframe) {
        bytes += keyframe.chip.keep() + keyframe.places.keep();
        keyframes.put(keyframe.place, keyframe);
    }

    private void forget(long place) {
        Keyframe keyframe = Objects.requireNonNull(keyframes.remove(place));
        bytes -= keyframe.chip.letGo() + keyframe.places.letGo();
    }

    /** Lets go of the keyframes that are missed least, until the rest fits the budget. */
    private void thinOut() {
        while (bytes > budget && keyframes.size() > 2) {
            long least = BEFORE_ALL;
            double smallest = Double.MAX_VALUE;
            long before = BEFORE_ALL;
            long candidate = BEFORE_ALL;
            for (long place : keyframes.tailMap(BEFORE_ALL, false).keySet()) {
                double loss = loss(before, candidate, place);
                if (candidate != BEFORE_ALL && loss < smallest) {
                    smallest = loss;
                    least = candidate;
                }
                before = candidate;
                candidate = place;
            }
            if (least == BEFORE_ALL || loss(before, candidate, candidate) < smallest) {
                least = candidate;
            }
            forget(least);
        }
    }

    /** How much it hurts to lose a keyframe between two others: the gap it leaves, by its distance from the present. */
    private double loss(long before, long place, long after) {
        return (after - before) / (double) (Math.abs(present.place() - place) + SMALLEST_GAP);
    }

    // ---- seeking ----

    /** How a search ended. */
    public enum Outcome {
        /** At the cycle looked for. */
        FOUND,
        /** There is none in that direction: back where it began. */
        NOT_FOUND,
        /** Ended by whoever watched its progress: forwards it stays where it came to, backwards where it began. */
        INTERRUPTED
    }

    /**
     * What a search came to.
     *
     * @param watch which of the watches was met: its place in their list; -1 with none
     */
    public record Sought(Outcome outcome, int watch) {}

    /** Goes to the next cycle after the present one that meets one of the watches. */
    public Sought seekNext(List<Watch> watches, Progress progress) {
        long start = cycle();
        long length = SMALLEST_GAP;
        while (!present.isOver()) {
            long from = cycle();
            Scan scan = new Scan(watches, present.chip);
            present.listener = scan;
            present.runTo(Math.min(limit, from + length));
            present.listener = null;
            scan.finish();
            if (scan.first >= 0) {
                moveTo(scan.first, Progress.NONE);
                return new Sought(Outcome.FOUND, scan.firstWatch);
            }
            if (!present.isOver()) {
                remember();
                if (!progress.goOn(cycle(), limit)) {
                    return new Sought(Outcome.INTERRUPTED, -1);
                }
            }
            length = Math.min(2 * length, CHUNK);
        }
        moveTo(start, Progress.NONE);
        return new Sought(Outcome.NOT_FOUND, -1);
    }

    /** Goes back to the last cycle before the present one that meets one of the watches. */
    public Sought seekPrevious(List<Watch> watches, Progress progress) {
        long start = cycle();
        long to = start;
        long length = SMALLEST_GAP;
        while (to > 0) {
            long from = Math.max(0, to - length);
            approach(present, from - 1);
            if (present.place() < from - 1) {
                present.runTo(from - 1);
            }
            Scan scan = new Scan(watches, present.chip);
            present.listener = scan;
            present.runTo(to - 1);
            present.listener = null;
            scan.finish();
            if (scan.last >= 0) {
                moveTo(scan.last, Progress.NONE);
                return new Sought(Outcome.FOUND, scan.lastWatch);
            }
            if (!progress.goOn(from, 0)) {
                moveTo(start, Progress.NONE);
                return new Sought(Outcome.INTERRUPTED, -1);
            }
            to = from;
            length = Math.min(4 * length, LARGEST_GAP);
        }
        moveTo(start, Progress.NONE);
        return new Sought(Outcome.NOT_FOUND, -1);
    }

    /** Asks watches after each cycle with events, and keeps the first and the last that met one. */
    private static final class Scan implements Sink {
        private final List<Watch> watches;
        private long open = -1;
        private long first = -1;
        private int firstWatch = -1;
        private long last = -1;
        private int lastWatch = -1;

        private Scan(List<Watch> watches, Chip chip) {
            this.watches = watches;
            watches.forEach(watch -> watch.begin(chip));
        }

        @Override
        public void event(Kind kind, long cycle, int core, long a, long b) {
            if (cycle != open) {
                finish();
                open = cycle;
            }
            for (Watch watch : watches) {
                watch.event(kind, cycle, core, a, b);
            }
        }

        private void finish() {
            if (open < 0) {
                return;
            }
            int met = -1;
            for (int i = watches.size() - 1; i >= 0; i--) {
                if (watches.get(i).isMet(open)) {
                    met = i;
                }
            }
            if (met >= 0) {
                if (first < 0) {
                    first = open;
                    firstWatch = met;
                }
                last = open;
                lastWatch = met;
            }
        }
    }

    // ---- what happened and what will ----

    /**
     * The present cycle with what happened in so many cycles before it, and what is going to happen in so many cycles
     * from it on.
     */
    public Moment moment(long past, long coming) {
        long from = Math.max(0, cycle() - past);
        long to = cycle() + Math.max(1, coming);
        return new Moment(program, chip(), placeCycles(), from, to, events(from, to));
    }

    /** All events of the cycles from .. to-1, past or coming, in the order of the engine. */
    public List<Event> events(long from, long to) {
        record(tape, tape, from, to);
        return tape.events(from, to);
    }

    /**
     * The levels of the pins over the cycles from .. to-1, as events of kind {@link Kind#PINS}; the first tells the
     * levels at {@code from}. For stretches that are long for all events.
     */
    public List<Event> pinEvents(long from, long to) {
        record(
                pinTape,
                (kind, cycle, core, a, b) -> {
                    if (kind == Kind.PINS) {
                        pinTape.event(kind, cycle, core, a, b);
                    }
                },
                from,
                to);
        List<Event> events = new ArrayList<>();
        Event levels = pinsAtStart;
        for (Event event : pinTape.events(0, to)) {
            if (event.cycle() <= from) {
                levels = event;
            } else {
                events.add(event);
            }
        }
        events.add(0, new Event(Kind.PINS, from, -1, levels.a(), levels.b()));
        return events;
    }

    /**
     * Tells a listener all that happened from the beginning of the run up to the present cycle, with the changes by hand.
     * This runs all of it once more.
     *
     * @return whether all was told; false if the replay was interrupted
     */
    public boolean replay(Sink listener, Progress progress) {
        scout.restore(Objects.requireNonNull(keyframes.get(BEFORE_ALL)));
        scout.listener = listener;
        try {
            long target = cycle();
            for (long at = 0; at < target; at = Math.min(target, at + CHUNK)) {
                scout.runTo(at);
                if (!progress.goOn(at, target)) {
                    return false;
                }
            }
            scout.runTo(target);
            return true;
        } finally {
            scout.listener = null;
        }
    }

    /** Sees to it that a tape covers these cycles, and some around them for the next few steps. */
    private void record(Tape tape, Sink recorder, long from, long to) {
        if (from >= to || tape.covers(from, Math.min(to, limit + 1))) {
            return;
        }
        long margin = SMALLEST_GAP + (to - from) / 2;
        long start = Math.max(0, from - margin);
        long end = Math.min(limit + 1, to + margin);
        tape.clear(start, end);
        approach(scout, start - 1);
        if (scout.place() < start - 1) {
            scout.runTo(start - 1);
        }
        if (tape == pinTape) {
            pinsAtStart = new Event(
                    Kind.PINS,
                    start,
                    -1,
                    Integer.toUnsignedLong(scout.chip.pinLevels()),
                    Integer.toUnsignedLong(scout.chip.pinClashes()));
        }
        scout.listener = recorder;
        scout.runTo(end - 1);
        scout.listener = null;
    }

    // ---- changes by hand ----

    /** The changes made by hand, by cycle. */
    public List<Alteration> alterations() {
        return alterations;
    }

    /**
     * Makes these the changes by hand, instead of those before, and goes to the present cycle again, or to the end of the
     * run if that now comes first.
     *
     * @throws IllegalArgumentException if one of them does not fit the design
     */
    public void alter(List<Alteration> wanted) {
        wanted.forEach(alteration -> alteration.change().requireFits(program.design()));
        List<Alteration> sorted = wanted.stream()
                .sorted(Comparator.comparingLong(Alteration::cycle))
                .toList();
        long changed = firstDifference(sorted);
        if (changed == Long.MAX_VALUE) {
            return;
        }
        long here = cycle();
        alterations = sorted;
        List.copyOf(keyframes.tailMap(changed, true).keySet()).forEach(this::forget);
        tape.clear(0, 0);
        pinTape.clear(0, 0);
        scout.restore(Objects.requireNonNull(keyframes.get(BEFORE_ALL)));
        if (present.place() >= changed) {
            present.restore(keyframes.lowerEntry(changed).getValue());
            moveTo(here, Progress.NONE);
        }
    }

    private long firstDifference(List<Alteration> other) {
        int same = 0;
        while (same < alterations.size()
                && same < other.size()
                && alterations.get(same).equals(other.get(same))) {
            same++;
        }
        long mine = same < alterations.size() ? alterations.get(same).cycle() : Long.MAX_VALUE;
        long theirs = same < other.size() ? other.get(same).cycle() : Long.MAX_VALUE;
        return Math.min(mine, theirs);
    }

    /** A moment kept, to go on from; {@code place} as in {@link Machine#place}. */
    private record Keyframe(long place, Chip.Saved chip, PlaceCycles.Saved places) {}

    /** A chip with the engine that moves it and the counts that go with it. */
    private final class Machine implements Sink {
        private final Chip chip = Run.chip(program, scenario);
        private final Design design = program.design();
        private final PlaceCycles places = new PlaceCycles(design.cores(), design.privateWords(), design.sharedWords());
        private final ClearEngine engine = new ClearEngine(chip, limit, this);
        private boolean begun;

        @Nullable
        private Sink listener;

        @Override
        public void event(Kind kind, long cycle, int core, long a, long b) {
            places.event(kind, cycle, core, a, b);
            if (listener != null) {
                listener.event(kind, cycle, core, a, b);
            }
        }

        /** The cycle whose beginning is behind it. */
        private long place() {
            return begun ? chip.cycle() : BEFORE_ALL;
        }

        private boolean isOver() {
            return chip.ended() != null;
        }

        /** Runs to this cycle with the changes by hand on the way. */
        private void runTo(long cycle) {
            for (Alteration alteration : alterations) {
                long at = alteration.cycle();
                if (at > place() && at <= cycle && !isOver()) {
                    List<Change> changes = alterations.stream()
                            .filter(other -> other.cycle() == at)
                            .map(Alteration::change)
                            .toList();
                    engine.runTo(at, changes);
                    begun = true;
                }
            }
            engine.runTo(cycle);
            begun = begun || cycle >= 0;
        }

        private Keyframe save(@Nullable Keyframe before) {
            return before == null
                    ? new Keyframe(place(), chip.save(), places.save(null))
                    : new Keyframe(place(), chip.save(before.chip), places.save(before.places));
        }

        private void restore(Keyframe keyframe) {
            chip.restore(keyframe.chip);
            places.restore(keyframe.places);
            begun = keyframe.place != BEFORE_ALL;
        }
    }
}
