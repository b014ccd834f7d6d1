package octurn.measure;

import java.util.Map;
import java.util.SortedMap;

/**
 * What one core did between its data accesses.
 *
 * @param core whose
 * @param thinks cycles from the end of an access's slot to the request of the next, the work of that access included
 * @param histogram how many of them took how many cycles
 * @param accesses data accesses admitted; one more than there are thinks
 * @param waited cycles that those accesses waited
 * @param firstRequest the cycle at which the first of them was asked for
 * @param lastSlotEnd the cycle at which the slot of the last of them ended
 * @param otherAccesses whether it also fetched code or loaded an image through the arbiter
 */
public record CoreThinks(
        int core,
        Spread thinks,
        SortedMap<Long, Long> histogram,
        long accesses,
        long waited,
        long firstRequest,
        long lastSlotEnd,
        boolean otherAccesses) {

    /** The standard deviation of the thinks divided by their mean; 0 if they are all equal, 1 if exponential. */
    public double variation() {
        double mean = thinks.mean();
        if (thinks.count() < 2 || mean == 0) {
            return 0;
        }
        double squares = 0;
        for (Map.Entry<Long, Long> entry : histogram.entrySet()) {
            double off = entry.getKey() - mean;
            squares += off * off * entry.getValue();
        }
        return Math.sqrt(squares / thinks.count()) / mean;
    }

    /** Cycles from the first request to the end of the last slot. */
    public long span() {
        return lastSlotEnd - firstRequest;
    }
}
