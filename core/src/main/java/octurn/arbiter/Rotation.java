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
    private final double oneBySlotCycles;
    private final double oneByLength;
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
        this.oneBySlotCycles = 1.0 / slotCycles;
        this.oneByLength = 1.0 / order.size();
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
        long slot = divide(cycle + slotCycles - 1, slotCycles, oneBySlotCycles);
        int place = (int) (slot - divide(slot, order.length, oneByLength) * order.length);
        int ahead = slotsAhead[core][place];
        return ahead == NONE ? NEVER : (slot + ahead) * slotCycles;
    }

    /**
     * n / d without a division, which takes long on most machines: the product with 1/d is off by one at the most for n
     * up to 2^53.
     */
    private static long divide(long n, int d, double oneByD) {
        long quotient = (long) (n * oneByD);
        long rest = n - quotient * d;
        if (rest < 0) {
            return quotient - 1;
        }
        return rest >= d ? quotient + 1 : quotient;
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

    /** A place in time for one core, from which its next turn is found faster than from nothing. */
    public Cursor cursor(int core) {
        return new Cursor(core);
    }

    /** Goes from turn to turn of one core. */
    public final class Cursor {

        /** So many turns are passed one by one; one that is farther is looked up. */
        private static final int FEW = 8;

        private final int core;
        /** By turn of the core in the order: cycles from its start to that of the next one. Empty if it has none. */
        private final int[] gaps;

        /** By place in the order: which of those turns the slot there is. */
        private final int[] turnAt;

        /** The turns that follow on each other now: {@code turn} is the first that starts after {@code before}. */
        private long before = -1;

        private long turn;
        /** From that turn to the next, and which of its turns that one is, if it has more than one. */
        private long gap;

        private int which;
        private final boolean several;

        private Cursor(int core) {
            this.core = core;
            int length = order.length;
            int[] ahead = slotsAhead[core];
            int[] gapsFound = new int[length];
            this.turnAt = new int[length];
            int count = 0;
            for (int place = 0; place < length; place++) {
                if (ahead[place] == 0) {
                    turnAt[place] = count;
                    gapsFound[count] = (1 + ahead[(place + 1) % length]) * slotCycles;
                    count++;
                }
            }
            this.gaps = Arrays.copyOf(gapsFound, count);
            this.several = count > 1;
            seek(0);
        }

        /** The same as {@link Rotation#nextSlot}. */
        public long next(long request) {
            if (request > turn || request <= before) {
                goTo(request);
            }
            long found = turn;
            goOn();
            return found;
        }

        private void goOn() {
            before = turn;
            turn += gap;
            if (several) {
                takeNextGap();
            }
        }

        private void takeNextGap() {
            which = which + 1 == gaps.length ? 0 : which + 1;
            gap = gaps[which];
        }

        private void goTo(long request) {
            for (int i = 0; i < FEW && request > turn; i++) {
                goOn();
            }
            if (request > turn || request <= before) {
                seek(request);
            }
        }

        private void seek(long request) {
            turn = nextSlot(core, request);
            before = request - 1;
            if (turn != NEVER) {
                which = turnAt[(int) (turn / slotCycles % order.length)];
                gap = gaps[which];
            }
        }
    }
}
