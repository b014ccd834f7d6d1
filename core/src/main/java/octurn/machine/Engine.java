package octurn.machine;

/** Moves a chip through time. Every engine leaves the same chip behind, to the cycle. */
public interface Engine {

    /** The chip that it moves. */
    Chip chip();

    /**
     * Runs to the beginning of this cycle, or to the end of the run if that comes first. A cycle that is already past
     * changes nothing.
     */
    void runTo(long cycle);
}
