package octurn.measure;

import java.util.Arrays;
import java.util.HashMap;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;

/** How often each number came. Small numbers, which nearly all are, lie in an array. */
final class Counts {

    private static final int SMALL = 4096;

    private long[] small = new long[32];
    private final Map<Long, Long> large = new HashMap<>();

    /** Counts one number, from 0. */
    void add(long number) {
        if (number >= SMALL) {
            large.merge(number, 1L, Long::sum);
            return;
        }
        int i = (int) number;
        if (i >= small.length) {
            small = Arrays.copyOf(small, Math.min(SMALL, Math.max(i + 1, 2 * small.length)));
        }
        small[i]++;
    }

    SortedMap<Long, Long> toMap() {
        SortedMap<Long, Long> map = new TreeMap<>(large);
        for (int i = 0; i < small.length; i++) {
            if (small[i] != 0) {
                map.put((long) i, small[i]);
            }
        }
        return map;
    }

    static Spread spread(SortedMap<Long, Long> counts) {
        Spread spread = Spread.NONE;
        for (Map.Entry<Long, Long> entry : counts.entrySet()) {
            spread = spread.with(entry.getKey(), entry.getValue());
        }
        return spread;
    }
}
