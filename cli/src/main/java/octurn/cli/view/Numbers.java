package octurn.cli.view;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.Locale;

/** Numbers as people read them. */
final class Numbers {

    private static final String[] UNITS = {"", "k", "M", "G", "T", "P"};

    private Numbers() {}

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
        int unit = (rounded.precision() - rounded.scale() - 1) / 3;
        int decimals = 2 - (rounded.precision() - rounded.scale() - 1) % 3;
        BigDecimal scaled = rounded.movePointLeft(3 * unit);
        return scaled.setScale(decimals, RoundingMode.UNNECESSARY).toPlainString() + UNITS[unit];
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

    /** Rounded to so many significant digits, without zeros at the end of a fraction. */
    static String significant(double number, int digits) {
        return plain(BigDecimal.valueOf(number).round(new MathContext(digits, RoundingMode.HALF_UP)));
    }

    /** The same, with commas between thousands. */
    static String groupedSignificant(double number, int digits) {
        BigDecimal rounded = BigDecimal.valueOf(number).round(new MathContext(digits, RoundingMode.HALF_UP));
        String text = plain(rounded);
        int point = text.indexOf('.');
        return grouped(rounded.longValue()) + (point < 0 ? "" : text.substring(point));
    }

    /** So many a second: whole from 1000 on, below with four digits. */
    static String rate(double perSecond) {
        return perSecond >= 999.5 ? grouped(Math.round(perSecond)) : significant(perSecond, 4);
    }

    private static String plain(BigDecimal number) {
        if (number.signum() == 0) {
            return "0";
        }
        BigDecimal stripped = number.stripTrailingZeros();
        return (stripped.scale() < 0 ? stripped.setScale(0) : stripped).toPlainString();
    }

    /** A time in the unit that suits it, with four digits. */
    static String duration(double seconds, Glyphs glyphs) {
        if (seconds == 0) {
            return "0 s";
        }
        if (seconds < 0.9999e-6) {
            return significant(seconds * 1e9, 4) + " ns";
        }
        if (seconds < 0.9999e-3) {
            return significant(seconds * 1e6, 4) + " " + glyphs.sign("\u00b5s", "us");
        }
        if (seconds < 0.9999) {
            return significant(seconds * 1e3, 4) + " ms";
        }
        return groupedSignificant(seconds, 4) + " s";
    }

    /** A frequency in the unit that suits it. */
    static String hertz(long hertz) {
        if (hertz >= 1_000_000_000) {
            return scaled(hertz, 9) + " GHz";
        }
        if (hertz >= 1_000_000) {
            return scaled(hertz, 6) + " MHz";
        }
        return hertz >= 1_000 ? scaled(hertz, 3) + " kHz" : hertz + " Hz";
    }

    /** Exact: a frequency is never rounded. */
    private static String scaled(long number, int places) {
        return plain(BigDecimal.valueOf(number).movePointLeft(places));
    }
}
