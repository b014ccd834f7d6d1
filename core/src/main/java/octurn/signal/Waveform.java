package octurn.signal;

import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import octurn.design.Input;

/** One pin over a stretch of cycles: what it is, from change to change. */
public final class Waveform {

    private final int pin;
    private final long to;
    private final long[] cycles;
    private final List<PinState> states;

    /**
     * A waveform.
     *
     * @param to the first cycle after the stretch
     * @param cycles those with a change, ascending, the first of them the beginning of the stretch
     * @param states what the pin is from each of them on
     */
    Waveform(int pin, long to, long[] cycles, List<PinState> states) {
        this.pin = pin;
        this.to = to;
        this.cycles = cycles;
        this.states = states;
    }

    /** The pin's number. */
    public int pin() {
        return pin;
    }

    /** The first cycle. */
    public long from() {
        return cycles.length == 0 ? to : cycles[0];
    }

    /** The first cycle after the last one. */
    public long to() {
        return to;
    }

    /** How many steps it has: stretches in which nothing changes, the first one included. */
    public int steps() {
        return cycles.length;
    }

    /** The first cycle of a step, from 0. */
    public long cycle(int step) {
        return cycles[step];
    }

    /** What the pin is during a step, from 0. */
    public PinState state(int step) {
        return states.get(step);
    }

    /**
     * What the pin is in this cycle.
     *
     * @throws IllegalArgumentException if the cycle is not from .. to-1
     */
    public PinState at(long cycle) {
        if (cycle < from() || cycle >= to) {
            throw new IllegalArgumentException("cycle: %d, not %d..%d".formatted(cycle, from(), to - 1));
        }
        return states.get(stepAt(cycle));
    }

    /** The step that a cycle of the stretch is in. */
    public int stepAt(long cycle) {
        int place = Arrays.binarySearch(cycles, cycle);
        return place >= 0 ? place : -place - 2;
    }

    /** The same in a shorter stretch; what of from .. to-1 lies outside is left out. */
    public Waveform between(long begin, long end) {
        long first = Math.max(begin, from());
        long last = Math.min(end, to);
        if (first >= last) {
            return new Waveform(pin, Math.max(first, last), new long[0], List.of());
        }
        int step = stepAt(first);
        int after = stepAt(last - 1) + 1;
        long[] some = Arrays.copyOfRange(cycles, step, after);
        some[0] = first;
        return new Waveform(pin, last, some, states.subList(step, after));
    }

    /** The levels as a core reads them: a pin to which nobody gives a level is low. */
    public Levels levels() {
        return levels(false);
    }

    /**
     * The levels of a serial line: one to which nobody gives a level counts as high, at rest, as a pull-up would hold
     * it, so that letting go of the pin is no start bit.
     */
    public Levels serialLine() {
        return levels(true);
    }

    private Levels levels(boolean openIsHigh) {
        long[] edges = new long[cycles.length];
        int count = 0;
        boolean first = false;
        boolean level = false;
        for (int i = 0; i < cycles.length; i++) {
            boolean next = states.get(i).high() || (openIsHigh && states.get(i).isOpen());
            if (i == 0) {
                first = next;
            } else if (next != level) {
                edges[count++] = cycles[i];
            }
            level = next;
        }
        return Levels.trusted(from(), to, first, Arrays.copyOf(edges, count));
    }

    /** The cores that drive the pin at some time in the stretch, ascending. */
    public List<Integer> drivers() {
        int mask = states.stream().mapToInt(PinState::drivers).reduce(0, (one, other) -> one | other);
        return IntStream.range(0, Integer.SIZE)
                .filter(core -> (mask >>> core & 1) != 0)
                .boxed()
                .toList();
    }

    /** Whether the outside gives the pin a level at some time in the stretch. */
    public boolean isGivenFromOutside() {
        return states.stream().anyMatch(state -> state.outside() != Input.NOTHING);
    }

    /** Cycles in which the pin has a clash. */
    public long clashCycles() {
        long sum = 0;
        for (int i = 0; i < cycles.length; i++) {
            if (states.get(i).clash()) {
                sum += (i + 1 < cycles.length ? cycles[i + 1] : to) - cycles[i];
            }
        }
        return sum;
    }
}
