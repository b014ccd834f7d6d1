package octurn.trace;

/**
 * Listens to an engine. It is called in the order in which the spec lets things happen; it must not change the chip.
 */
@FunctionalInterface
public interface Sink {

    /** Something happened; the numbers are those of an {@link Event}. */
    void event(Kind kind, long cycle, int core, long a, long b);

    /** A sink that hands everything to both. */
    static Sink both(Sink first, Sink second) {
        return (kind, cycle, core, a, b) -> {
            first.event(kind, cycle, core, a, b);
            second.event(kind, cycle, core, a, b);
        };
    }
}
