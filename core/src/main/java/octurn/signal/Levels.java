package octurn.signal;

import java.util.Arrays;

/** A line that is high or low in every cycle of a stretch. */
public final class Levels {

    private final long from;
    private final long to;
    private final boolean first;
    private final long[] edges;

    private Levels(long from, long to, boolean first, long[] edges) {
        this.from = from;
        this.to = to;
        this.first = first;
        this.edges = edges;
    }

    /**
     * A line in the cycles from .. to-1.
     *
     * @param first whether it is high at first
     * @param edges the first cycle of each level after the first one, ascending, above from and below to
     * @throws IllegalArgumentException if the edges are not
     */
    public static Levels of(long from, long to, boolean first, long... edges) {
        long before = from;
        for (long edge : edges) {
            if (edge <= before || edge >= to) {
                throw new IllegalArgumentException("edge: %d, not %d..%d".formatted(edge, before + 1, to - 1));
            }
            before = edge;
        }
        return new Levels(from, to, first, edges.clone());
    }

    /** The same without a look at the edges, which become its own. */
    static Levels trusted(long from, long to, boolean first, long[] edges) {
        return new Levels(from, to, first, edges);
    }

    /** The first cycle. */
    public long from() {
        return from;
    }

    /** The first cycle after the last one. */
    public long to() {
        return to;
    }

    /** How many times the level changes. */
    public int edges() {
        return edges.length;
    }

    /** The first cycle of the level that begins with this edge, from 0. */
    public long edge(int index) {
        return edges[index];
    }

    /** Whether this edge, from 0, is one from low to high. */
    public boolean isRise(int index) {
        return first == (index % 2 != 0);
    }

    /** Whether the line is high in a cycle of the stretch. */
    public boolean isHigh(long cycle) {
        return first == (edgesUpTo(cycle) % 2 == 0);
    }

    /** The number of edges up to and including this cycle. */
    int edgesUpTo(long cycle) {
        int place = Arrays.binarySearch(edges, cycle);
        return place >= 0 ? place + 1 : -place - 1;
    }

    /** Its beginning up to so many edges. */
    Levels head(int count) {
        return edges.length <= count ? this : new Levels(from, edges[count], first, Arrays.copyOf(edges, count));
    }
}
