package octurn.machine;

/**
 * Moves a chip through time. There are two: {@link ClearEngine}, which is the definition and can tell all that happens,
 * and {@link FastEngine}. Both leave the same chip behind, to the cycle.
 */
public interface Engine {

    /** The chip that it moves. */
    Chip chip();

    /**
     * Runs to the beginning of this cycle, or to the end of the run if that comes first. A cycle that is already past
     * changes nothing.
     */
    void runTo(long cycle);

    /** How to make an engine for a chip and the cycle at which its run ends at the latest. */
    @FunctionalInterface
    interface Maker {
        /** The one that explains, with nobody listening. */
        Maker CLEAR = (chip, limit) -> new ClearEngine(chip, limit, null);

        /** The one in a hurry. */
        Maker FAST = FastEngine::new;

        Engine make(Chip chip, long limit);
    }
}
