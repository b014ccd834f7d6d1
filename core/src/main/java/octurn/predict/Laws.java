package octurn.predict;

import java.util.List;
import java.util.function.IntToDoubleFunction;

/** The short formulas. */
public final class Laws {

    private Laws() {}

    /**
     * Amdahl 1967: the speed-up of a task by so many processors if a part of it is split evenly among them and the rest
     * is not: 1 / ((1-f) + f/P).
     *
     * @param parallel the part that is split, f, 0..1
     * @param processors P, at least 1
     */
    public static double amdahl(double parallel, int processors) {
        return 1 / (1 - parallel + parallel / processors);
    }

    /**
     * Gustafson 1988: the speed-up by so many processors if the parallel part grows with them: N + (1-N)s.
     *
     * @param serial the part of the time on the parallel machine that is serial, s, 0..1
     * @param processors N, at least 1
     */
    public static double gustafson(double serial, int processors) {
        return processors + (1 - processors) * serial;
    }

    /**
     * The serial part that makes Amdahl's law give this speed-up (Karp and Flatt, CACM 33(5), 1990; from memory):
     * (1/speed-up - 1/P) / (1 - 1/P). Below 0 if the speed-up is above P.
     *
     * @param processors at least 2
     */
    public static double serialPart(double speedUp, int processors) {
        return (1 / speedUp - 1.0 / processors) / (1 - 1.0 / processors);
    }

    /**
     * Cycles an instruction with memory stalls (Patterson and Hennessy): those without, and for each instruction the
     * stalls of the accesses that it makes.
     *
     * @param base cycles an instruction if no access stalled
     * @param accesses accesses an instruction
     * @param stall cycles that an access stalls
     */
    public static double cyclesPerInstruction(double base, double accesses, double stall) {
        return base + accesses * stall;
    }

    /**
     * Jain's index of fairness (Jain, Chiu, Hawe, DEC-TR-301, 1984): (sum x)^2 / (n sum x^2); from 1/n if one has
     * everything to 1 if all have the same. Of nothing, or of zeros alone, it is 1: nobody has more than another.
     */
    public static double jain(double... shares) {
        double sum = 0;
        double squares = 0;
        for (double share : shares) {
            sum += share;
            squares += share * share;
        }
        return squares == 0 ? 1 : sum * sum / (shares.length * squares);
    }

    /** {@link #jain(double...)} of so many values. */
    public static double jain(int count, IntToDoubleFunction share) {
        double[] shares = new double[count];
        for (int i = 0; i < count; i++) {
            shares[i] = share.applyAsDouble(i);
        }
        return jain(shares);
    }

    /**
     * The share of the draws that a holder of so many tickets wins, if all others take part in every draw (Waldspurger
     * and Weihl 1994): t/T.
     */
    public static double lotteryShare(long tickets, long allTickets) {
        return (double) tickets / allTickets;
    }

    /**
     * The share of the draws that a holder of so many tickets wins if whoever won sits out the next draw, as a core
     * does whose next request comes only after its slot: the winners then follow one another with chances
     * t_j / (T - t_i), and in the long run core i wins in proportion to t_i (T - t_i). Of two holders each wins half.
     *
     * @param holder which of the holders
     * @param tickets of at least two holders
     */
    public static double lotteryShareSittingOut(int holder, List<Integer> tickets) {
        long all = tickets.stream().mapToLong(Integer::longValue).sum();
        double sum = 0;
        for (int count : tickets) {
            sum += (double) count * (all - count);
        }
        int own = tickets.get(holder);
        return own * (double) (all - own) / sum;
    }

    /** The standard deviation of the number of wins in so many draws of that lottery: sqrt(n p (1-p)). */
    public static double lotteryDeviation(double share, long draws) {
        return Math.sqrt(draws * share * (1 - share));
    }
}
