package octurn.predict;

import java.util.ArrayList;
import java.util.List;

/**
 * Mean value analysis of a closed queueing network with one class of customers (Reiser and Lavenberg, JACM 27(2), 1980):
 * n customers think for a while and then visit stations, at each of which one is served at a time.
 *
 * <p>An arriving customer finds what the network with one customer less holds on average: R_k(n) = S_k (1 + Q_k(n-1)),
 * X(n) = n / (Z + sum of V_k R_k(n)), Q_k(n) = X(n) V_k R_k(n).
 */
public final class MeanValueAnalysis {

    private MeanValueAnalysis() {}

    /**
     * The network with so many customers.
     *
     * @param customers n
     * @param responseTime time from the end of a think to the begin of the next, all visits together
     * @param throughput thinks that end in a unit of time
     * @param queueLengths customers waiting or served at each station, on average
     * @param utilizations the part of the time in which each station serves
     */
    public record Solution(
            int customers,
            double responseTime,
            double throughput,
            List<Double> queueLengths,
            List<Double> utilizations) {}

    /**
     * The solutions for 1, 2 .. customers.
     *
     * @param service the time of one service at each station
     * @param visits how often a customer visits each station between two thinks
     * @param think the time of a think
     */
    public static List<Solution> solve(double[] service, double[] visits, double think, int customers) {
        int stations = service.length;
        double[] queue = new double[stations];
        List<Solution> solutions = new ArrayList<>();
        for (int n = 1; n <= customers; n++) {
            double[] response = new double[stations];
            double all = 0;
            for (int k = 0; k < stations; k++) {
                response[k] = service[k] * (1 + queue[k]);
                all += visits[k] * response[k];
            }
            double throughput = n / (think + all);
            List<Double> lengths = new ArrayList<>();
            List<Double> utilizations = new ArrayList<>();
            for (int k = 0; k < stations; k++) {
                queue[k] = throughput * visits[k] * response[k];
                lengths.add(queue[k]);
                utilizations.add(throughput * visits[k] * service[k]);
            }
            solutions.add(new Solution(n, all, throughput, lengths, utilizations));
        }
        return solutions;
    }

    /** The same with one station that each customer visits once: cores that think and one memory. */
    public static Solution oneStation(double service, double think, int customers) {
        return solve(new double[] {service}, new double[] {1}, think, customers).get(customers - 1);
    }
}
