package octurn.measure;

import java.util.Optional;

/**
 * How long one core took from one label to another.
 *
 * @param core whose
 * @param cycles of the passes: from the cycle at which the core comes to the first label to the next one at which it
 *     comes to the second
 * @param waits cycles of the passes in which the core's request was up and not admitted
 * @param again how often it came to the first label again before it came to the second; a pass runs from the first time
 * @param worst the longest pass, of equals the first; empty if there is none
 * @param open the pass that was not over at the end of the run, up to there; empty if there is none
 * @param misses passes, the open one included, that took longer than they may; 0 without a deadline
 * @param firstMiss the first of them; empty if there is none
 */
public record RegionPasses(
        int core,
        Spread cycles,
        Spread waits,
        long again,
        Optional<Pass> worst,
        Optional<Pass> open,
        long misses,
        Optional<Pass> firstMiss) {

    /**
     * One pass.
     *
     * @param number which, from 1
     * @param from the cycle at which it began
     * @param cycles it took
     */
    public record Pass(long number, long from, long cycles) {}
}
