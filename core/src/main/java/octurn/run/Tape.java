package octurn.run;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import octurn.trace.Event;
import octurn.trace.Kind;
import octurn.trace.Sink;

/** The events of a stretch of cycles, packed. */
final class Tape implements Sink {

    private static final Kind[] KINDS = Kind.values();
    /** Numbers an event takes: cycle, kind and core, a, b. */
    private static final int NUMBERS = 4;

    private long[] numbers = new long[1024];
    private int used;
    private long from;
    private long to;

    /** Whether it holds the events of all cycles from .. to-1. */
    boolean covers(long from, long to) {
        return this.from <= from && to <= this.to;
    }

    /** Forgets all, and is to hold the events of the cycles from .. to-1. */
    void clear(long from, long to) {
        this.from = from;
        this.to = to;
        used = 0;
    }

    @Override
    public void event(Kind kind, long cycle, int core, long a, long b) {
        if (used == numbers.length) {
            numbers = Arrays.copyOf(numbers, 2 * used);
        }
        numbers[used] = cycle;
        numbers[used + 1] = (long) core << 32 | kind.ordinal();
        numbers[used + 2] = a;
        numbers[used + 3] = b;
        used += NUMBERS;
    }

    /** The events of the cycles from .. to-1, in the order in which they were told. */
    List<Event> events(long from, long to) {
        List<Event> events = new ArrayList<>();
        for (int i = firstAt(from); i < used && numbers[i] < to; i += NUMBERS) {
            events.add(new Event(
                    KINDS[(int) numbers[i + 1]],
                    numbers[i],
                    (int) (numbers[i + 1] >> 32),
                    numbers[i + 2],
                    numbers[i + 3]));
        }
        return events;
    }

    private int firstAt(long cycle) {
        int low = 0;
        int high = used / NUMBERS;
        while (low < high) {
            int middle = (low + high) >>> 1;
            if (numbers[middle * NUMBERS] < cycle) {
                low = middle + 1;
            } else {
                high = middle;
            }
        }
        return low * NUMBERS;
    }
}
