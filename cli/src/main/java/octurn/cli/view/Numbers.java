package octurn.cli.view;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.Locale;

/** Numbers as people read them. */
final class Numbers {

    private static final String[] UNITS = {"", "k", "M", "G", "T", "P"};
    private static final String[] HERTZ = {" Hz", " kHz", " MHz", " GHz"};

    private Numbers() {}

    // ---- counts

    /** With commas between thousands. */
    static String grouped(long number) {
        return String.format(Locale.ROOT, "%,d", number);
    }

    /** In at most 6 columns: whole up to 999999, beyond it three digits and a letter, as in 1.23M. */
    static String brief(long number) {
        return brief(number, 1_000_000);
    }

    /** In at most 5 columns: whole up to 99999, beyond it three digits and a letter, as in 123k. */
    static String briefer(long number) {
        return brief(number, 100_000);
    }

    private static String brief(long number, long whole) {
        if (number < whole) {
            return Long.toString(number);
        }
        // Rounded first: 999.9 thousand is a million.
        BigDecimal rounded = BigDecimal.valueOf(number).round(new MathContext(3, RoundingMode.HALF_UP));
        int magnitude = rounded.precision() - rounded.scale() - 1;
        BigDecimal scaled = rounded.movePointLeft(magnitude - magnitude % 3);
        return scaled.setScale(2 - magnitude % 3, RoundingMode.UNNECESSARY).toPlainString() + UNITS[magnitude / 3];
    }

    /** A mean, in at most 5 columns. */
    static String mean(long total, long count) {
        BigDecimal mean = BigDecimal.valueOf(total).divide(BigDecimal.valueOf(count), 9, RoundingMode.HALF_UP);
        if (mean.compareTo(BigDecimal.valueOf(99_999)) > 0) {
            return briefer(mean.longValue());
        }
        int decimals = mean.compareTo(BigDecimal.valueOf(999)) >= 0 ? 0 : 1;
        return mean.setScale(decimals, RoundingMode.HALF_UP).toPlainString();
    }

    // ---- measures

    /** Rounded to so many significant digits, without zeros at the end of a fraction. */
    static String significant(double number, int digits) {
        return plain(rounded(number, digits));
    }

    /** The same, with commas between thousands. */
    static String groupedSignificant(double number, int digits) {
        BigDecimal rounded = rounded(number, digits);
        String text = plain(rounded);
        int point = text.indexOf('.');
        return grouped(rounded.longValue()) + (point < 0 ? "" : text.substring(point));
    }

    private static BigDecimal rounded(double number, int digits) {
        return BigDecimal.valueOf(number).round(new MathContext(digits, RoundingMode.HALF_UP));
    }

    private static String plain(BigDecimal number) {
        if (number.signum() == 0) {
            return "0";
        }
        BigDecimal stripped = number.stripTrailingZeros();
        return (stripped.scale() < 0 ? stripped.setScale(0) : stripped).toPlainString();
    }

    /** So many a second: whole from 1000 on, below with four digits. */
    static String rate(double perSecond) {
        return perSecond >= 999.5 ? grouped(Math.round(perSecond)) : significant(perSecond, 4);
    }

    /** A time in the unit that suits it, with four digits. */
    static String duration(double seconds, Glyphs glyphs) {
        if (seconds == 0) {
            return "0 s";
        }
        // Just below a unit it would be rounded to a thousand of the smaller one.
        double almost = 0.99995;
        if (seconds < almost * 1e-6) {
            return significant(seconds * 1e9, 4) + " ns";
        }
        if (seconds < almost * 1e-3) {
            return significant(seconds * 1e6, 4) + " " + glyphs.sign("\u00b5s", "us");
        }
        return seconds < almost ? significant(seconds * 1e3, 4) + " ms" : groupedSignificant(seconds, 4) + " s";
    }

    /** A frequency in the unit that suits it, exact. */
    static String hertz(long hertz) {
        int unit = hertzUnit(hertz);
        return plain(BigDecimal.valueOf(hertz).movePointLeft(3 * unit)) + HERTZ[unit];
    }

    /** The same with six digits. */
    static String roundedHertz(long hertz) {
        int unit = hertzUnit(hertz);
        return significant(BigDecimal.valueOf(hertz).movePointLeft(3 * unit).doubleValue(), 6) + HERTZ[unit];
    }

    private static int hertzUnit(long hertz) {
        if (hertz >= 1_000_000_000) {
            return 3;
        }
        return hertz >= 1_000_000 ? 2 : hertz >= 1_000 ? 1 : 0;
    }
}
