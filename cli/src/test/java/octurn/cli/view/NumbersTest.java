package octurn.cli.view;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class NumbersTest {

    private static final Glyphs UNICODE = new Glyphs(StandardCharsets.UTF_8);

    @ParameterizedTest
    @CsvSource({
        "0, 0",
        "999999, 999999",
        "1000000, 1.00M",
        "1234567, 1.23M",
        "12345678, 12.3M",
        "999499999, 999M",
        "999600000, 1.00G",
        "9007199254740991, 9.01P"
    })
    void brief_number_isAsShort(long number, String text) {
        assertThat(Numbers.brief(number)).isEqualTo(text);
    }

    @ParameterizedTest
    @CsvSource({"99999, 99999", "100000, 100k", "123456, 123k", "999700, 1.00M"})
    void briefer_number_isShorterStill(long number, String text) {
        assertThat(Numbers.briefer(number)).isEqualTo(text);
    }

    @ParameterizedTest
    @ValueSource(longs = {0, 7, 99_999, 100_000, 999_499, 999_500, 999_999, 1_000_000, 999_999_999_999L, 1L << 53})
    void brief_anyNumber_fitsItsColumns(long number) {
        assertThat(Numbers.brief(number)).hasSizeLessThanOrEqualTo(6);
        assertThat(Numbers.briefer(number)).hasSizeLessThanOrEqualTo(5);
        assertThat(Numbers.mean(number, 1)).hasSizeLessThanOrEqualTo(6);
    }

    @ParameterizedTest
    @CsvSource({
        "0, 3, 0.0",
        "10, 4, 2.5",
        "2, 3, 0.7",
        "99895, 100, 999.0",
        "99949, 100, 999",
        "998949, 1000, 998.9",
        "12345678, 100, 123k"
    })
    void mean_totalByCount_isRounded(long total, long count, String text) {
        assertThat(Numbers.mean(total, count)).isEqualTo(text);
    }

    /** 5 MHz times 16 is 80 MHz, 12.5 ns a cycle (common practice). */
    @ParameterizedTest
    @CsvSource({
        "12.5e-9, 12.5 ns",
        "1e-6, 1 \u00b5s",
        "75.1666e-6, 75.17 \u00b5s",
        "0.0015805, 1.581 ms",
        "1, 1 s",
        "0, 0 s",
        "12345.6, '12,350 s'",
        "0.99996e-6, 1 \u00b5s",
        "999.99e-9, 1 \u00b5s"
    })
    void duration_seconds_haveTheUnitThatSuits(double seconds, String text) {
        assertThat(Numbers.duration(seconds, UNICODE)).isEqualTo(text);
    }

    @Test
    void duration_onAsciiTerminal_writesMicroWithU() {
        assertThat(Numbers.duration(5e-6, new Glyphs(StandardCharsets.US_ASCII)))
                .isEqualTo("5 us");
    }

    @ParameterizedTest
    @CsvSource({
        "48000000, 48 MHz",
        "32768, 32.768 kHz",
        "999, 999 Hz",
        "1000000000, 1 GHz",
        "64000000000, 64 GHz",
        "12345678, 12.345678 MHz"
    })
    void hertz_isNeverRounded(long hertz, String text) {
        assertThat(Numbers.hertz(hertz)).isEqualTo(text);
    }
}
