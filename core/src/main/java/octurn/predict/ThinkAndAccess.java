package octurn.predict;

import java.util.Arrays;
import octurn.arbiter.Rotation;

/**
 * What happens in the long run to cores that think and access in turns, without end: closed formulas and exact chains.
 * Times are in cycles; an access holds the memory for one slot. A think runs from the end of a core's slot to its next
 * request.
 */
public final class ThinkAndAccess {

    private ThinkAndAccess() {}

    /**
     * The long run.
     *
     * @param waitCycles mean cycles from a request to its admission
     * @param throughput accesses of all cores together in a cycle
     * @param utilization the part of all cycles in which the memory is held; above 1 if several accesses overlap
     */
    public record LongRun(double waitCycles, double throughput, double utilization) {

        private static LongRun of(int cores, double slotCycles, double think, double throughput) {
            // Where nobody waits, what is left by rounding may be below 0.
            double waits = Math.max(0, cores / throughput - think - slotCycles);
            return new LongRun(waits < 1e-9 ? 0 : waits, throughput, throughput * slotCycles);
        }
    }

    // ---- in rotation, each core by itself

    /**
     * One core in rotation that always thinks equally long. It is admitted at slots of its own alone, so its slots come
     * round after a whole number of rotations; with one slot in each rotation of R cycles the period is
     * R * ceil((think + slot) / R).
     *
     * @param rotationCycles the cycles of a whole rotation
     * @return the long run of this core alone
     * @throws IllegalArgumentException if the core has no slot
     */
    public static LongRun fixedInTurn(Rotation rotation, int core, int slotCycles, int rotationCycles, long think) {
        long first = rotation.nextSlot(core, 0);
        if (first == Rotation.NEVER) {
            throw new IllegalArgumentException("core %d has no slot".formatted(core));
        }
        int places = rotationCycles / slotCycles;
        long[] seen = new long[places];
        long[] waited = new long[places];
        long[] accesses = new long[places];
        Arrays.fill(seen, -1);
        long slot = first;
        long waits = 0;
        long count = 0;
        while (true) {
            int place = (int) (slot / slotCycles % places);
            if (seen[place] >= 0) {
                double n = count - accesses[place];
                double cycles = slot - seen[place];
                return new LongRun((waits - waited[place]) / n, n / cycles, n * slotCycles / cycles);
            }
            seen[place] = slot;
            waited[place] = waits;
            accesses[place] = count;
            long request = slot + slotCycles + think;
            slot = rotation.nextSlot(core, request);
            waits += slot - request;
            count++;
        }
    }

    /**
     * Cores in rotation, one slot each, that ask in each cycle of their thinking with the same chance. A core that was
     * admitted misses its next slot if it thinks past it, and each one after that if it thinks on for a whole rotation R
     * more: its period is R (1 + m / (1 - (1-p)^R)), where m is the chance of missing the next slot.
     *
     * <p>For slots of one cycle, as many cores as slots, and {@code atOnce} this is U = 1 - (1-p)^N.
     *
     * @param cores how many take part
     * @param slots of a rotation, one of them for each of those cores
     * @param chance p, above 0, at most 1
     * @param atOnce whether a core may ask again in the cycle after its slot, so that thinks are 0, 1, 2 ..; otherwise
     *     they are 1, 2, 3 ..
     */
    public static LongRun geometricInTurn(int cores, int slots, int slotCycles, double chance, boolean atOnce) {
        double rotation = (double) slots * slotCycles;
        double missOne = Math.pow(1 - chance, rotation - slotCycles + (atOnce ? 1 : 0));
        double period = rotation * (1 + missOne / (1 - Math.pow(1 - chance, rotation)));
        return LongRun.of(cores, slotCycles, meanThink(chance, atOnce), cores / period);
    }

    /** The mean of a geometric think with this chance in each cycle. */
    public static double meanThink(double chance, boolean atOnce) {
        return 1 / chance - (atOnce ? 1 : 0);
    }

    // ---- on demand

    /**
     * Cores that always think equally long, under any policy that never leaves the memory free while a request is up, if
     * all get their turns: the asymptotic bounds (Denning and Buzen 1978) are then reached, X = min(1/S, N/(Z+S)).
     */
    public static LongRun fixedOnDemand(int cores, int slotCycles, double think) {
        return LongRun.of(cores, slotCycles, think, Math.min(1.0 / slotCycles, cores / (think + slotCycles)));
    }

    /**
     * Cores that ask in each cycle of their thinking with the same chance, under any policy that never leaves the memory
     * free while a request is up. The number k of requests at the moments at which the memory is given away, or is free
     * for a cycle, is a Markov chain: with k > 0 one is admitted, and by the end of its slot each of the N-k others that
     * think has asked with the chance 1 - (1-p)^S; with k = 0 a cycle passes, after which each has asked with chance p.
     * Who is admitted makes no difference to the sums.
     *
     * @param cores N
     * @param chance p, above 0, at most 1
     * @param atOnce as in {@link #geometricInTurn}
     */
    public static LongRun geometricOnDemand(int cores, int slotCycles, double chance, boolean atOnce) {
        double[][] chain = new double[cores + 1][cores + 1];
        chain[0] = binomial(cores, chance);
        for (int k = 1; k <= cores; k++) {
            double[] asked = binomial(cores - k, 1 - Math.pow(1 - chance, slotCycles));
            double again = atOnce ? chance : 0;
            for (int more = 0; more < asked.length; more++) {
                chain[k][k - 1 + more] += asked[more] * (1 - again);
                if (again > 0) {
                    chain[k][k + more] += asked[more] * again;
                }
            }
        }
        double idle = stationary(chain)[0];
        double cycles = (1 - idle) * slotCycles + idle;
        return LongRun.of(cores, slotCycles, meanThink(chance, atOnce), (1 - idle) / cycles);
    }

    /** The chances of 0 .. n successes. */
    private static double[] binomial(int n, double chance) {
        double[] chances = {1};
        for (int i = 0; i < n; i++) {
            double[] next = new double[chances.length + 1];
            for (int k = 0; k < chances.length; k++) {
                next[k] += chances[k] * (1 - chance);
                next[k + 1] += chances[k] * chance;
            }
            chances = next;
        }
        return chances;
    }

    /**
     * The stationary distribution of a chain, by eliminating one state after the other without a subtraction
     * (Grassmann, Taksar, Heyman, Operations Research 33(5), 1985; from memory).
     */
    static double[] stationary(double[][] chain) {
        int n = chain.length;
        double[][] p = new double[n][];
        for (int i = 0; i < n; i++) {
            p[i] = chain[i].clone();
        }
        for (int last = n - 1; last > 0; last--) {
            double leave = 0;
            for (int j = 0; j < last; j++) {
                leave += p[last][j];
            }
            for (int i = 0; i < last; i++) {
                p[i][last] = leave == 0 ? 0 : p[i][last] / leave;
                for (int j = 0; j < last; j++) {
                    p[i][j] += p[i][last] * p[last][j];
                }
            }
        }
        double[] weights = new double[n];
        weights[0] = 1;
        double sum = 1;
        for (int j = 1; j < n; j++) {
            for (int i = 0; i < j; i++) {
                weights[j] += weights[i] * p[i][j];
            }
            sum += weights[j];
        }
        for (int j = 0; j < n; j++) {
            weights[j] /= sum;
        }
        return weights;
    }
}
