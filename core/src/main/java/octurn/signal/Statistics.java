package octurn.signal;

/**
 * A row of cycle counts in short.
 *
 * @param count how many
 * @param total their sum
 * @param min the least; 0 of none
 * @param max the greatest; 0 of none
 * @param standardDeviation the root of the mean square distance from the mean (divided by count, not count - 1: these
 *     are all there are, not a sample); 0 of none
 */
public record Statistics(long count, long total, long min, long max, double standardDeviation) {

    /** Of no numbers. */
    public static final Statistics NONE = new Statistics(0, 0, 0, 0, 0);

    /** The mean; 0 of none. */
    public double mean() {
        return count == 0 ? 0 : (double) total / count;
    }

    /** Whether there are any, and all are equal. */
    public boolean isConstant() {
        return count > 0 && min == max;
    }

    /** Takes numbers one by one. The squares are summed up after Welford, Technometrics 4(3), 1962. */
    static final class Adder {
        private long count;
        private long total;
        private long min;
        private long max;
        private double mean;
        private double squares;

        void add(long number) {
            min = count == 0 ? number : Math.min(min, number);
            max = count == 0 ? number : Math.max(max, number);
            count++;
            total += number;
            double distance = number - mean;
            mean += distance / count;
            squares += distance * (number - mean);
        }

        Statistics statistics() {
            return count == 0 ? NONE : new Statistics(count, total, min, max, Math.sqrt(squares / count));
        }
    }
}
