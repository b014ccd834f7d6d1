package octurn.signal;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import octurn.design.Input;

/**
 * A wanted time in whole cycles of a clock, and what the rounding costs.
 *
 * @param exact the cycles it would take, not rounded
 * @param cycles rounded to the nearest, a half up, at least 1
 * @param errorPercent how far what these cycles give is off what was wanted: of a rate, how much too fast; of a time, how
 *     much too long
 */
public record WholeCycles(BigDecimal exact, long cycles, double errorPercent) {

    private static final MathContext DIGITS = MathContext.DECIMAL128;
    private static final BigDecimal MOST = BigDecimal.valueOf(Input.MAX_CYCLE);

    /**
     * The cycles from one beat of a rate to the next: of a bit at a baud rate, of a period at a frequency.
     *
     * @param clockHertz cycles a second
     * @param perSecond the wanted rate, above 0
     * @throws IllegalArgumentException if the rate is not above 0, or takes more than 2^53-1 cycles
     */
    public static WholeCycles ofRate(long clockHertz, BigDecimal perSecond) {
        requirePositive("rate", perSecond);
        BigDecimal clock = BigDecimal.valueOf(clockHertz);
        BigDecimal exact = clock.divide(perSecond, DIGITS);
        long cycles = rounded(exact);
        BigDecimal got = clock.divide(BigDecimal.valueOf(cycles), DIGITS);
        return new WholeCycles(exact, cycles, percent(got, perSecond));
    }

    /**
     * The cycles of a time: of a pulse, a pause.
     *
     * @param clockHertz cycles a second
     * @param seconds the wanted time, above 0
     * @throws IllegalArgumentException if the time is not above 0, or takes more than 2^53-1 cycles
     */
    public static WholeCycles ofTime(long clockHertz, BigDecimal seconds) {
        requirePositive("time", seconds);
        BigDecimal exact = BigDecimal.valueOf(clockHertz).multiply(seconds);
        long cycles = rounded(exact);
        return new WholeCycles(exact, cycles, percent(BigDecimal.valueOf(cycles), exact));
    }

    /** Whether nothing had to be rounded. */
    public boolean isExact() {
        return exact.compareTo(BigDecimal.valueOf(cycles)) == 0;
    }

    private static long rounded(BigDecimal exact) {
        if (exact.compareTo(MOST) > 0) {
            throw new IllegalArgumentException("more than %d cycles".formatted(Input.MAX_CYCLE));
        }
        return Math.max(1, exact.setScale(0, RoundingMode.HALF_UP).longValueExact());
    }

    private static double percent(BigDecimal got, BigDecimal wanted) {
        return got.divide(wanted, DIGITS)
                .subtract(BigDecimal.ONE)
                .movePointRight(2)
                .doubleValue();
    }

    private static void requirePositive(String what, BigDecimal value) {
        if (value.signum() <= 0) {
            throw new IllegalArgumentException("%s: %s, not above 0".formatted(what, value.toPlainString()));
        }
    }
}
