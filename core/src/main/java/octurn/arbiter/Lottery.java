package octurn.arbiter;

import java.util.List;

/** A draw among the requesting cores, by weight: one draw an admission, also with one requester. */
final class Lottery implements Chooser {

    private final int[] weights;

    Lottery(List<Integer> weights) {
        this.weights = weights.stream().mapToInt(Integer::intValue).toArray();
    }

    @Override
    public int choose(int requests, long[] requestCycle, Memory memory) {
        long sum = 0;
        for (int rest = requests; rest != 0; rest &= rest - 1) {
            sum += weights[Integer.numberOfTrailingZeros(rest)];
        }
        memory.random = xorshift32(memory.random);
        long ticket = Integer.toUnsignedLong(memory.random) % sum;
        // The last one with no more than the ticket before it. To stop there would be a jump that no processor
        // foresees.
        int chosen = 0;
        long before = 0;
        for (int rest = requests; rest != 0; rest &= rest - 1) {
            int core = Integer.numberOfTrailingZeros(rest);
            chosen = before <= ticket ? core : chosen;
            before += weights[core];
        }
        return chosen;
    }

    @Override
    public boolean draws() {
        return true;
    }

    /** The next number of xorshift32 with shifts 13, 17, 5 (Marsaglia 2003, "Xorshift RNGs"). */
    static int xorshift32(int x) {
        x ^= x << 13;
        x ^= x >>> 17;
        x ^= x << 5;
        return x;
    }
}
