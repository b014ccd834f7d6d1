package octurn.excerpt;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import octurn.asm.Program;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.excerpt.Excerpt.Deed;
import octurn.excerpt.Excerpt.Handover;
import octurn.excerpt.Excerpt.Lane;
import octurn.excerpt.Excerpt.Level;
import octurn.excerpt.Excerpt.Stretch;
import octurn.excerpt.Excerpt.Wave;
import octurn.excerpt.Excerpt.WaveColumn;
import octurn.machine.Chip;
import octurn.machine.ClearEngine;
import octurn.machine.Core;
import octurn.machine.Fault;
import octurn.machine.State;
import octurn.report.Places;
import octurn.report.Sentences;
import octurn.run.Run;
import octurn.trace.Kind;
import octurn.trace.Sink;
import org.jspecify.annotations.Nullable;

/** Takes an excerpt: runs to its first cycle as fast as it goes, and from there on listens. */
public final class Recorder implements Sink {

    /** The most cycles of an exact excerpt. */
    public static final long MOST_EXACT = 10_000;

    /** The most columns of a merged one. */
    public static final long MOST_COLUMNS = 10_000;

    private static final State[] STATES = State.values();

    private final Program program;
    private final Design design;
    private final Sentences sentences;
    private final long from;
    private final long to;
    private final long cyclesAColumn;

    @Nullable
    private Chip chip;

    private final List<CoreTape> cores = new ArrayList<>();
    private final List<PinTape> pins = new ArrayList<>();
    private final Map<Integer, Post> posts = new HashMap<>();
    private final List<Handover> handovers = new ArrayList<>();

    /** How a run is taken to a cycle; a long way can be told to whoever waits. */
    @FunctionalInterface
    public interface Mover {
        /** Goes there at once. */
        Mover PLAIN = Run::runTo;

        /** Takes the run to the beginning of this cycle, or to its end if that comes first. */
        void move(Run run, long cycle);
    }

    private Recorder(Program program, long from, long to, long cyclesAColumn) {
        this.program = program;
        this.design = program.design();
        this.sentences = new Sentences(program);
        this.from = from;
        this.to = to;
        this.cyclesAColumn = cyclesAColumn;
    }

    /**
     * Takes an excerpt.
     *
     * @param limit of the run, 1..2^53-1
     * @param from the first cycle, from 0
     * @param to the first cycle after the last one; the excerpt is shorter if the run ends before
     * @param cyclesAColumn 1 for an exact excerpt of at most {@link #MOST_EXACT} cycles; else how many cycles to merge
     *     into one of at most {@link #MOST_COLUMNS} columns
     * @param mover moves the run
     * @throws IllegalArgumentException if one of them is out of range
     */
    public static Excerpt take(
            Program program, Scenario scenario, long limit, long from, long to, long cyclesAColumn, Mover mover) {
        if (from < 0 || to <= from) {
            throw new IllegalArgumentException("from %d to %d: not ascending from 0".formatted(from, to));
        }
        long columns = cyclesAColumn < 1 ? Long.MAX_VALUE : (Math.min(to, limit) - from) / cyclesAColumn;
        if (columns > (cyclesAColumn == 1 ? MOST_EXACT : MOST_COLUMNS)) {
            throw new IllegalArgumentException("cycles a column: %d, too few".formatted(cyclesAColumn));
        }
        Recorder recorder = new Recorder(program, from, Math.min(to, limit), cyclesAColumn);
        Run run;
        if (from == 0) {
            run = Run.of(program, scenario, limit, (chip, end) -> {
                recorder.begin(chip);
                return new ClearEngine(chip, end, recorder);
            });
        } else {
            run = Run.of(program, scenario, limit);
            mover.move(run, from - 1);
            recorder.begin(run.chip());
            run.listen(recorder);
        }
        mover.move(run, recorder.to);
        return recorder.excerpt();
    }

    private void begin(Chip newChip) {
        chip = newChip;
        for (int i = 0; i < design.cores(); i++) {
            cores.add(new CoreTape(newChip.core(i)));
        }
        for (int pin = 0; pin < design.pins(); pin++) {
            pins.add(new PinTape(newChip, pin));
        }
    }

    @Override
    public void event(Kind kind, long cycle, int core, long a, long b) {
        if (cycle > to) {
            return;
        }
        switch (kind) {
            case STATE -> {
                if (cycle < to) {
                    cores.get(core).enter(STATES[(int) a], cycle);
                } else {
                    cores.get(core).leavesAtEnd = true;
                }
            }
            case BEGIN -> {
                if (cycle < to && isExact()) {
                    cores.get(core).start(cycle, a, (int) b);
                }
            }
            case FINISH -> cores.get(core).endDeed(cycle);
            case FAULT -> {
                if (cycle < to && isExact()) {
                    cores.get(core).fault(cycle, Fault.Kind.values()[(int) a].text());
                }
            }
            case SHARED_WRITE -> {
                if (cycle > from && isExact() && core >= 0) {
                    posts.put((int) a, new Post(core, cycle, new HashSet<>()));
                }
            }
            case SHARED_READ -> {
                if (cycle > from && isExact()) {
                    read(cycle, core, (int) a, (int) b);
                }
            }
            case PINS -> {
                if (cycle < to) {
                    for (PinTape pin : pins) {
                        pin.enter(cycle, (a >>> pin.pin & 1) != 0, (b >>> pin.pin & 1) != 0);
                    }
                }
            }
            default -> {
                // Shows in the states, or not at all.
            }
        }
    }

    private boolean isExact() {
        return cyclesAColumn == 1;
    }

    /** A word that a core wrote, with those that have read it. */
    private record Post(int core, long cycle, Set<Integer> readers) {}

    private void read(long cycle, int core, int address, int value) {
        Post post = posts.get(address);
        if (post != null && post.core != core && post.readers.add(core)) {
            String name = sentences.places().sharedName(address);
            handovers.add(new Handover(address, name, value, post.core, post.cycle, core, cycle));
        }
    }

    private Excerpt excerpt() {
        Chip now = chip();
        long end = Math.min(to, now.cycle());
        boolean any = end > from;
        List<Lane> lanes = new ArrayList<>();
        for (CoreTape core : any ? cores : List.<CoreTape>of()) {
            lanes.add(core.lane(end));
        }
        List<Wave> waves = new ArrayList<>();
        for (PinTape pin : any ? pins : List.<PinTape>of()) {
            waves.add(pin.wave(end));
        }
        return new Excerpt(program, from, end, cyclesAColumn, lanes, waves, handovers, now.ended());
    }

    private Chip chip() {
        if (chip == null) {
            throw new IllegalStateException("not begun");
        }
        return chip;
    }

    /** The columns that a stretch of cycles lies in, each with how many of them. */
    private void overColumns(long start, long end, ColumnCycles columns) {
        for (long at = start; at < end; ) {
            long column = (at - from) / cyclesAColumn;
            long next = Math.min(end, from + (column + 1) * cyclesAColumn);
            columns.add((int) column, next - at);
            at = next;
        }
    }

    private interface ColumnCycles {
        void add(int column, long cycles);
    }

    /** One core while it is recorded. */
    private final class CoreTape {
        private final Core core;
        private final long[] cycles = new long[STATES.length];
        private final List<Stretch> stretches = new ArrayList<>();
        private final List<Deed> deeds = new ArrayList<>();
        /** By column; null where nothing is counted yet. */
        private final List<long[]> columns = new ArrayList<>();

        private State state;
        private long since;
        private boolean leavesAtEnd;

        @Nullable
        private Deed open;

        CoreTape(Core core) {
            this.core = core;
            this.state = core.state();
            this.since = core.stateSince();
            if (from > 0 && isExact()) {
                underWay();
            }
        }

        /** What it was doing when the recording began. */
        private void underWay() {
            Fault fault = core.fault();
            if (fault != null) {
                open = new Deed(from, to, false, "", fault.kind().text(), 0);
            } else if (state == State.WORK || state == State.WAIT || state == State.SLOT || state == State.SLEEP) {
                Places places = sentences.places();
                open = new Deed(
                        from,
                        to,
                        false,
                        places.label(core, core.pcInShared(), core.pc()),
                        places.instruction(core, core.pcInShared(), core.pc(), core.word()),
                        places.line(core));
            }
        }

        void enter(State next, long cycle) {
            close(cycle, true);
            if (next == State.IDLE || next == State.FAULT || next == State.LOAD_WAIT) {
                endDeed(cycle);
            }
            state = next;
            since = cycle;
        }

        private void close(long end, boolean isOver) {
            long start = Math.max(from, since);
            if (end <= start) {
                return;
            }
            cycles[state.ordinal()] += end - start;
            if (isExact()) {
                stretches.add(new Stretch(state, start, end, since, isOver));
            } else {
                overColumns(start, end, (column, count) -> {
                    while (columns.size() <= column) {
                        columns.add(new long[STATES.length]);
                    }
                    columns.get(column)[state.ordinal()] += count;
                });
            }
        }

        void start(long cycle, long place, int word) {
            boolean inShared = Kind.inShared(place);
            int address = Kind.address(place);
            Places places = sentences.places();
            open = new Deed(
                    cycle,
                    to,
                    true,
                    places.label(core, inShared, address),
                    places.instruction(core, inShared, address, word),
                    places.line(core, inShared, address));
        }

        void fault(long cycle, String text) {
            endDeed(cycle);
            open = new Deed(cycle, to, true, "", text, 0);
        }

        void endDeed(long cycle) {
            Deed deed = open;
            if (deed != null && cycle > deed.from()) {
                deeds.add(new Deed(deed.from(), cycle, deed.begins(), deed.label(), deed.text(), deed.line()));
            }
            open = null;
        }

        Lane lane(long end) {
            close(end, leavesAtEnd);
            endDeed(end);
            List<Map<State, Long>> sums = new ArrayList<>();
            for (long[] column : columns) {
                sums.add(byState(column));
            }
            return new Lane(core.number(), byState(cycles), stretches, deeds, sums);
        }

        private static Map<State, Long> byState(long[] counts) {
            Map<State, Long> map = new EnumMap<>(State.class);
            for (State one : STATES) {
                if (counts[one.ordinal()] > 0) {
                    map.put(one, counts[one.ordinal()]);
                }
            }
            return map;
        }
    }

    /** One pin while it is recorded. */
    private final class PinTape {
        private final int pin;
        private final List<Level> levels = new ArrayList<>();
        private final List<long[]> columns = new ArrayList<>();
        private boolean high;
        private boolean clash;
        private long since;
        /** Whether its level changed at {@code since}; counted when a cycle of it has passed, for the run may end there. */
        private boolean beginsWithEdge;

        private long edges;
        private long clashes;
        private long highCycles;

        PinTape(Chip chip, int pin) {
            this.pin = pin;
            this.high = (chip.pinLevels() >>> pin & 1) != 0;
            this.clash = (chip.pinClashes() >>> pin & 1) != 0;
            this.since = from;
        }

        void enter(long cycle, boolean nowHigh, boolean nowClash) {
            if (nowHigh == high && nowClash == clash) {
                return;
            }
            close(cycle);
            beginsWithEdge = nowHigh != high && cycle > from;
            high = nowHigh;
            clash = nowClash;
            since = cycle;
        }

        private long[] column(int number) {
            while (columns.size() <= number) {
                columns.add(new long[3]);
            }
            return columns.get(number);
        }

        private void close(long end) {
            if (end <= since) {
                return;
            }
            if (beginsWithEdge) {
                edges++;
                if (!isExact()) {
                    column((int) ((since - from) / cyclesAColumn))[2]++;
                }
            }
            highCycles += high ? end - since : 0;
            clashes += clash ? end - since : 0;
            if (isExact()) {
                levels.add(new Level(since, end, high, clash));
            } else {
                overColumns(since, end, (number, count) -> {
                    long[] column = column(number);
                    column[0] += high ? count : 0;
                    column[1] += clash ? count : 0;
                });
            }
        }

        Wave wave(long end) {
            close(end);
            List<WaveColumn> sums = new ArrayList<>();
            for (long[] column : columns) {
                sums.add(new WaveColumn(column[0], column[1], column[2]));
            }
            return new Wave(pin, edges, clashes, highCycles, levels, sums);
        }
    }
}
