package octurn.measure;

/**
 * A row of numbers in short.
 *
 * @param count how many
 * @param total their sum
 * @param min the least of them; 0 of none
 * @param max the greatest of them; 0 of none
 */
public record Spread(long count, long total, long min, long max) {

    /** Of no numbers. */
    public static final Spread NONE = new Spread(0, 0, 0, 0);

    /** With one number more. */
    public Spread with(long number) {
        return with(number, 1);
    }

    /** With a number more that came so many times. */
    public Spread with(long number, long times) {
        return count == 0
                ? new Spread(times, number * times, number, number)
                : new Spread(count + times, total + number * times, Math.min(min, number), Math.max(max, number));
    }

    /** All numbers of both. */
    public Spread and(Spread other) {
        if (count == 0) {
            return other;
        }
        return other.count == 0
                ? this
                : new Spread(
                        count + other.count, total + other.total, Math.min(min, other.min), Math.max(max, other.max));
    }

    /** The mean; 0 of none. */
    public double mean() {
        return count == 0 ? 0 : (double) total / count;
    }

    /** Whether there are any, and all are equal. */
    public boolean isConstant() {
        return count > 0 && min == max;
    }
}
