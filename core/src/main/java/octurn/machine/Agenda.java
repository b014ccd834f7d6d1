package octurn.machine;

/**
 * What comes next: a cycle for each of some cores, in the order of time, and of equal cycles in the order of the cores'
 * numbers. A core is on it once at the most.
 *
 * <p>What is added mostly comes after all that is there, so that a sorted queue costs less than a heap, or than looking
 * through all cores.
 */
final class Agenda {

    /** A power of two above the most cores that a chip has. */
    private static final int PLACES = 64;

    private static final int CORE_BITS = 5;

    /** After all that can be added. */
    private static final long END = Long.MAX_VALUE;

    /**
     * The cycle, and below it the core's number; from {@link #head} on, with {@link #END} behind the last.
     */
    private final long[] keys = new long[PLACES];

    private int head;
    private int tail;

    Agenda() {
        clear();
    }

    /** Adds a core that is not on it. */
    void add(long cycle, int core) {
        final long[] keys = this.keys;
        long key = cycle << CORE_BITS | core;
        int i = tail;
        while (i != head && keys[i - 1 & keys.length - 1] > key) {
            keys[i & keys.length - 1] = keys[i - 1 & keys.length - 1];
            i--;
        }
        keys[i & keys.length - 1] = key;
        i = tail + 1;
        tail = i;
        keys[i & keys.length - 1] = END;
    }

    /** The first cycle on it; later than any that is simulated if there is none. */
    long cycle() {
        return keys[head & keys.length - 1] >> CORE_BITS;
    }

    /** The core that is first on it. */
    int core() {
        return (int) keys[head & keys.length - 1] & (1 << CORE_BITS) - 1;
    }

    /** Takes away what is first. */
    void remove() {
        head++;
    }

    /** Notes the cycles of all cores that are on it; returns which these are, bit i for core i. */
    int copyTo(long[] cycles) {
        int cores = 0;
        for (int i = head; i != tail; i++) {
            long key = keys[i & keys.length - 1];
            int core = (int) key & (1 << CORE_BITS) - 1;
            cycles[core] = key >> CORE_BITS;
            cores |= 1 << core;
        }
        return cores;
    }

    /** Whether nothing is on it. */
    boolean isEmpty() {
        return head == tail;
    }

    /** Takes all away. */
    void clear() {
        head = 0;
        tail = 0;
        keys[0] = END;
    }
}
