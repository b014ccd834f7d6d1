package octurn.lessons.value;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;

/** Numbers as a text shows them. */
public final class Numbers {

    /** What is left of a computed fraction when the noise of its last bits is taken away. */
    private static final MathContext TWELVE_DIGITS = new MathContext(12, RoundingMode.HALF_EVEN);

    private static final double EXACT = 1L << 53;

    private Numbers() {}

    /** The number without the noise that computing in binary fractions leaves: whole numbers are exact. */
    public static BigDecimal exact(double number) {
        boolean whole = number == Math.rint(number) && Math.abs(number) <= EXACT;
        return whole ? BigDecimal.valueOf((long) number) : new BigDecimal(number).round(TWELVE_DIGITS);
    }

    /** Without grouping, as many digits as it has. */
    public static String plain(double number) {
        BigDecimal exact = exact(number);
        return exact.signum() == 0 ? "0" : exact.stripTrailingZeros().toPlainString();
    }

    /** With commas between thousands, and of a fraction at most so many decimals, without zeros at the end. */
    public static String grouped(double number, int decimals) {
        BigDecimal rounded =
                exact(number).setScale(decimals, RoundingMode.HALF_UP).stripTrailingZeros();
        return grouped(rounded.scale() < 0 || rounded.signum() == 0 ? rounded.setScale(0) : rounded);
    }

    /** With commas between thousands. */
    public static String grouped(long number) {
        return grouped(BigDecimal.valueOf(number));
    }

    /** With commas between thousands, and exactly so many decimals. */
    public static String fixed(double number, int decimals) {
        return grouped(exact(number).setScale(decimals, RoundingMode.HALF_UP));
    }

    private static String grouped(BigDecimal number) {
        String digits = number.abs().toPlainString();
        int point = digits.indexOf('.');
        int end = point < 0 ? digits.length() : point;
        StringBuilder text = new StringBuilder(digits);
        for (int at = end - 3; at > 0; at -= 3) {
            text.insert(at, ',');
        }
        return number.signum() < 0 ? "-" + text : text.toString();
    }
}
