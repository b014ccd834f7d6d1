package octurn.machine;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import octurn.trace.Kind;

/** The waits of one core's data accesses by the instruction that made them. */
final class AccessSites {

    private static final long FREE = -1;
    private static final int NUMBERS = 5;

    private long[] places = new long[8];
    /** By place in {@link #places}: count, total, min, max, origin. */
    private long[] numbers = new long[8 * NUMBERS];

    private int used;

    AccessSites() {
        Arrays.fill(places, FREE);
    }

    /**
     * Counts admitted accesses of one instruction.
     *
     * @param place of the instruction
     * @param origin where its word came from, as {@link Core#origin} says
     * @param wait cycles that each of them waited
     * @param times how many
     */
    void add(long place, int origin, long wait, long times) {
        int i = find(place);
        if (places[i] == FREE) {
            if (2 * (used + 1) > places.length) {
                grow();
                i = find(place);
            }
            places[i] = place;
            numbers[i * NUMBERS + 2] = wait;
            numbers[i * NUMBERS + 4] = origin;
            used++;
        }
        int at = i * NUMBERS;
        numbers[at] += times;
        numbers[at + 1] += wait * times;
        numbers[at + 2] = Math.min(numbers[at + 2], wait);
        numbers[at + 3] = Math.max(numbers[at + 3], wait);
    }

    private int find(long place) {
        int mask = places.length - 1;
        int i = (int) ((place * 0x9E3779B97F4A7C15L) >>> 40) & mask;
        while (places[i] != place && places[i] != FREE) {
            i = i + 1 & mask;
        }
        return i;
    }

    private void grow() {
        long[] oldPlaces = places;
        long[] oldNumbers = numbers;
        places = new long[2 * oldPlaces.length];
        numbers = new long[2 * oldNumbers.length];
        Arrays.fill(places, FREE);
        for (int i = 0; i < oldPlaces.length; i++) {
            if (oldPlaces[i] != FREE) {
                int at = find(oldPlaces[i]);
                places[at] = oldPlaces[i];
                System.arraycopy(oldNumbers, i * NUMBERS, numbers, at * NUMBERS, NUMBERS);
            }
        }
    }

    /** All sites of this core, private before shared, then by unsigned address. */
    List<AccessSite> list(int core) {
        List<AccessSite> list = new ArrayList<>();
        for (int i = 0; i < places.length; i++) {
            if (places[i] != FREE) {
                int at = i * NUMBERS;
                list.add(new AccessSite(
                        core,
                        Kind.inShared(places[i]),
                        Kind.address(places[i]),
                        (int) numbers[at + 4],
                        numbers[at],
                        numbers[at + 1],
                        numbers[at + 2],
                        numbers[at + 3]));
            }
        }
        list.sort(AccessSite.ORDER);
        return list;
    }

    void copyFrom(AccessSites other) {
        places = other.places.clone();
        numbers = other.numbers.clone();
        used = other.used;
    }
}
