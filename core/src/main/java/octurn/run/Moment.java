package octurn.run;

import java.util.Collections;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import octurn.asm.Program;
import octurn.machine.Chip;
import octurn.machine.Core;
import octurn.machine.State;
import octurn.trace.Event;
import octurn.trace.Kind;
import org.jspecify.annotations.Nullable;

/**
 * One cycle of a run with what happened shortly before it and what is going to happen shortly after: all that a view
 * gets to see. It is good until the timeline moves on.
 */
public final class Moment {

    /** A cycle that is not known, because it lies beyond what can be seen. */
    public static final long UNKNOWN = -1;

    private static final Set<Kind> STATE_ENDS = Collections.unmodifiableSet(EnumSet.of(
            Kind.REQUEST, Kind.ADMIT, Kind.FINISH, Kind.GIVE_UP, Kind.START, Kind.IDLE, Kind.FAULT, Kind.LOADING));

    private final Program program;
    private final Chip chip;
    private final PlaceCycles placeCycles;
    private final long from;
    private final long to;
    private final List<Event> events;
    /** How many of the events belong to the past and to the present cycle. */
    private final int known;

    Moment(Program program, Chip chip, PlaceCycles placeCycles, long from, long to, List<Event> events) {
        this.program = program;
        this.chip = chip;
        this.placeCycles = placeCycles;
        this.from = from;
        this.to = to;
        this.events = events;
        int count = 0;
        while (count < events.size() && events.get(count).cycle() <= chip.cycle()) {
            count++;
        }
        this.known = count;
    }

    /** What runs. */
    public Program program() {
        return program;
    }

    /** The chip at the beginning of the present cycle. */
    public Chip chip() {
        return chip;
    }

    /** The present cycle. */
    public long cycle() {
        return chip.cycle();
    }

    /** The cycles that each core has spent on each instruction so far. */
    public PlaceCycles placeCycles() {
        return placeCycles;
    }

    /** The first cycle whose events are here. */
    public long from() {
        return from;
    }

    /** The first cycle after the last one whose events are here. */
    public long to() {
        return to;
    }

    /** The events of the cycles from .. to-1. */
    public List<Event> events() {
        return events;
    }

    /** The events up to and including the present cycle. */
    public List<Event> past() {
        return events.subList(0, known);
    }

    /** The events of the cycles after the present one. */
    public List<Event> coming() {
        return events.subList(known, events.size());
    }

    /** The last event of these kinds of a core that has happened, or null if it lies too far back. */
    public @Nullable Event last(int core, Set<Kind> kinds) {
        for (int i = known - 1; i >= 0; i--) {
            Event event = events.get(i);
            if (event.core() == core && kinds.contains(event.kind())) {
                return event;
            }
        }
        return null;
    }

    /** The next event of these kinds of a core that is going to happen, or null if it lies too far ahead. */
    public @Nullable Event next(int core, Set<Kind> kinds) {
        for (Event event : coming()) {
            if (event.core() == core && kinds.contains(event.kind())) {
                return event;
            }
        }
        return null;
    }

    /**
     * The first cycle at which what a core is doing now is over: its instruction, its wait, its slot or its sleep; or
     * {@link #UNKNOWN}.
     */
    public long until(int number) {
        Core core = chip.core(number);
        if (core.state() == State.IDLE || core.state() == State.FAULT || chip.ended() != null) {
            return UNKNOWN;
        }
        Event next = next(number, STATE_ENDS);
        if (next != null) {
            return next.cycle();
        }
        // Beyond what can be seen, the core may know: but another core may stop it before that.
        return core.dueCycle() == Long.MAX_VALUE ? UNKNOWN : core.dueCycle();
    }

    /**
     * The states of a core in the cycles from .. to-1, one for each; null for those at and after the end of the run.
     */
    public @Nullable State[] states(int core) {
        @Nullable State[] states = new @Nullable State[(int) (to - from)];
        State state = chip.core(core).state();
        for (Event event : events) {
            if (event.core() == core && event.kind() == Kind.STATE) {
                state = State.values()[(int) event.b()];
                break;
            }
        }
        long end = to;
        int next = 0;
        for (Event event : events) {
            if (event.kind() == Kind.STATE && event.core() == core) {
                while (from + next < event.cycle()) {
                    states[next++] = state;
                }
                state = State.values()[(int) event.a()];
            } else if (event.kind() == Kind.END) {
                end = event.cycle();
            }
        }
        if (chip.ended() != null) {
            end = Math.min(end, chip.cycle());
        }
        while (from + next < end) {
            states[next++] = state;
        }
        return states;
    }
}
