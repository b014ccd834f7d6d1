package octurn.run;

import octurn.machine.Chip;
import octurn.trace.Kind;
import octurn.trace.Sink;

/**
 * Looks for a moment in a run: is shown the chip at one cycle, then told all that happens, and asked after each cycle
 * with an event whether it was what it looks for. It can be begun anew at any cycle.
 */
public interface Watch extends Sink {

    /** The chip at the cycle after which events will be told. */
    void begin(Chip chip);

    /** Something happened; only what the watch is after need be kept. */
    @Override
    void event(Kind kind, long cycle, int core, long a, long b);

    /** Whether this cycle, all of whose events have been told, is one that is looked for. */
    boolean isMet(long cycle);

    /** A watch for single events, whatever the state around them. */
    static Watch event(EventTest test) {
        return new Watch() {
            private boolean met;

            @Override
            public void begin(Chip chip) {
                met = false;
            }

            @Override
            public void event(Kind kind, long cycle, int core, long a, long b) {
                met |= test.test(kind, core, a, b);
            }

            @Override
            public boolean isMet(long cycle) {
                boolean answer = met;
                met = false;
                return answer;
            }
        };
    }

    /** Whether an event is one that is looked for. */
    @FunctionalInterface
    interface EventTest {
        /** The numbers are those of an {@link octurn.trace.Event}. */
        boolean test(Kind kind, int core, long a, long b);
    }
}
