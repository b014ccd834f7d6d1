package octurn.arbiter;

import java.util.List;

/** The requesting core that stands first in the order. */
final class Priority implements Chooser {

    private final int[] order;

    Priority(List<Integer> order) {
        this.order = order.stream().mapToInt(Integer::intValue).toArray();
    }

    @Override
    public int choose(int requests, long[] requestCycle, Memory memory) {
        for (int core : order) {
            if ((requests >>> core & 1) != 0) {
                return core;
            }
        }
        throw new IllegalStateException("priority: requests %x of cores that the order lacks".formatted(requests));
    }
}
