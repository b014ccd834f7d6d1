package octurn.cli.export;

import java.math.BigInteger;

/**
 * The unit of time in a value change dump: 1, 10 or 100 of s, ms, us, ns, ps or fs (IEEE 1364-2005, clause 18), chosen for
 * a clock.
 *
 * <p>The coarsest unit in which half a cycle is a whole number is taken; if there is none (a cycle at 48 MHz is 20.83..
 * ns), the coarsest in which a cycle has 10000 units or more. Then each time is rounded by itself, from the cycle's
 * number, so nothing adds up.
 */
final class Timescale {

    private static final String[] UNITS = {"s", "ms", "us", "ns", "ps", "fs"};
    /** Powers of ten from a second down to a femtosecond. */
    private static final int FINEST = 15;

    private static final int LEAST_UNITS_A_CYCLE = 10_000;

    private final String text;
    private final boolean exact;
    /** Units in half a cycle: this over {@link #below}, in lowest terms. */
    private final long above;

    private final long below;

    private Timescale(int power, long hertz) {
        BigInteger units = BigInteger.TEN.pow(power);
        BigInteger halves = BigInteger.valueOf(2 * hertz);
        BigInteger common = units.gcd(halves);
        this.above = units.divide(common).longValueExact();
        this.below = halves.divide(common).longValueExact();
        this.exact = below == 1;
        // 10^-1 s is 100 ms, 10^-2 s is 10 ms, 10^-3 s is 1 ms.
        int unit = (power + 2) / 3;
        this.text = "1" + "0".repeat(3 * unit - power) + " " + UNITS[unit];
    }

    /**
     * For a clock of so many cycles a second.
     *
     * @param hertz 1..64000000000
     */
    static Timescale of(long hertz) {
        for (int power = 0; power <= FINEST; power++) {
            Timescale scale = new Timescale(power, hertz);
            if (scale.exact) {
                return scale;
            }
        }
        int power = 0;
        while (power < FINEST && Math.pow(10, power) < (double) LEAST_UNITS_A_CYCLE * hertz) {
            power++;
        }
        return new Timescale(power, hertz);
    }

    /** As in the file: {@code 1 ns}. */
    String text() {
        return text;
    }

    /** Whether every half cycle is a whole number of units. */
    boolean isExact() {
        return exact;
    }

    /** The time at which so many half cycles are over, in units, rounded to the nearest; it may be beyond 64 bits. */
    String at(long halfCycles) {
        long high = Math.multiplyHigh(halfCycles, above);
        long product = halfCycles * above;
        if (high == 0 && product >= 0 && product <= Long.MAX_VALUE / 2) {
            return Long.toString((2 * product / below + 1) / 2);
        }
        return BigInteger.valueOf(halfCycles)
                .multiply(BigInteger.valueOf(2 * above))
                .divide(BigInteger.valueOf(below))
                .add(BigInteger.ONE)
                .shiftRight(1)
                .toString();
    }
}
