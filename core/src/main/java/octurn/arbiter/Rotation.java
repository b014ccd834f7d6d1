package octurn.arbiter;

import java.util.Arrays;
import java.util.List;

/**
 * Slots in strict rotation: the slot that starts at cycle k*S belongs to core {@code order[k mod length]}, whether it
 * wants it or not. Who is admitted depends on time alone, so every admission is known when its request is raised.
 */
public final class Rotation {

    /** What {@link #nextSlot} answers for a core that the order leaves out. */
    public static final long NEVER = Long.MAX_VALUE;

    private static final int NONE = -1;

    private final int slotCycles;
    private final int[] order;
    /** By core and place in the order: how many slots until one of the core's own, 0 if it is that one. */
    private final int[][] slotsAhead;

    /**
     * @param slotCycles S, the cycles of a slot
     * @param order the owners of the slots, over and over
     * @param cores how many cores there are
     */
    public Rotation(int slotCycles, List<Integer> order, int cores) {
        this.slotCycles = slotCycles;
        this.order = order.stream().mapToInt(Integer::intValue).toArray();
        this.slotsAhead = new int[cores][this.order.length];
        for (int core = 0; core < cores; core++) {
            fillSlotsAhead(core);
        }
    }

    private void fillSlotsAhead(int core) {
        int[] ahead = slotsAhead[core];
        Arrays.fill(ahead, NONE);
        int distance = NONE;
        for (int i = 2 * order.length - 1; i >= 0; i--) {
            int place = i % order.length;
            if (order[place] == core) {
                distance = 0;
            } else if (distance != NONE) {
                distance++;
            }
            ahead[place] = distance;
        }
    }

    /** The first cycle of the first slot of this core that starts at or after this cycle, or {@link #NEVER}. */
    public long nextSlot(int core, long cycle) {
        long slot = (cycle + slotCycles - 1) / slotCycles;
        int ahead = slotsAhead[core][(int) (slot % order.length)];
        return ahead == NONE ? NEVER : (slot + ahead) * slotCycles;
    }

    /** Whose slot this cycle lies in. */
    public int owner(long cycle) {
        return order[(int) (cycle / slotCycles % order.length)];
    }

    /** How many slots of this core start before this cycle. */
    public long slotsBefore(int core, long cycle) {
        long slots = (cycle + slotCycles - 1) / slotCycles;
        long count = 0;
        int rest = (int) (slots % order.length);
        for (int i = 0; i < order.length; i++) {
            if (order[i] == core) {
                count += slots / order.length + (i < rest ? 1 : 0);
            }
        }
        return count;
    }
}
