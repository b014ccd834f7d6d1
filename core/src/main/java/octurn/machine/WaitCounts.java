package octurn.machine;

import java.util.Arrays;
import java.util.SortedMap;
import java.util.TreeMap;

/** How many accesses waited how many cycles: an open-addressed table, so that any wait can be counted cheaply. */
final class WaitCounts {

    private static final long FREE = -1;

    private long[] waits = new long[16];
    private long[] counts = new long[16];
    private int used;

    WaitCounts() {
        Arrays.fill(waits, FREE);
    }

    void add(long wait, long times) {
        int i = find(wait);
        if (waits[i] == FREE) {
            if (2 * (used + 1) > waits.length) {
                grow();
                i = find(wait);
            }
            waits[i] = wait;
            used++;
        }
        counts[i] += times;
    }

    private int find(long wait) {
        int mask = waits.length - 1;
        int i = (int) ((wait * 0x9E3779B97F4A7C15L) >>> 40) & mask;
        while (waits[i] != wait && waits[i] != FREE) {
            i = i + 1 & mask;
        }
        return i;
    }

    private void grow() {
        long[] oldWaits = waits;
        long[] oldCounts = counts;
        waits = new long[2 * oldWaits.length];
        counts = new long[2 * oldCounts.length];
        Arrays.fill(waits, FREE);
        for (int i = 0; i < oldWaits.length; i++) {
            if (oldWaits[i] != FREE) {
                int at = find(oldWaits[i]);
                waits[at] = oldWaits[i];
                counts[at] = oldCounts[i];
            }
        }
    }

    SortedMap<Long, Long> toMap() {
        SortedMap<Long, Long> map = new TreeMap<>();
        for (int i = 0; i < waits.length; i++) {
            if (waits[i] != FREE) {
                map.put(waits[i], counts[i]);
            }
        }
        return map;
    }

    void copyFrom(WaitCounts other) {
        waits = other.waits.clone();
        counts = other.counts.clone();
        used = other.used;
    }
}
