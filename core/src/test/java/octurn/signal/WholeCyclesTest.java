package octurn.signal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.math.BigDecimal;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class WholeCyclesTest {

    private static final long MHZ_48 = 48_000_000;

    /** Rounded divisors of 48 MHz for common baud rates, and their errors (computed from the definition). */
    @ParameterizedTest
    @CsvSource({
        "9600, 5000, 0",
        "19200, 2500, 0",
        "57600, 833, 0.0400",
        "115200, 417, -0.0799",
        "230400, 208, 0.1603",
        "1000000, 48, 0"
    })
    void ofRate_commonBauds_areTheDivisorAndItsError(BigDecimal baud, long cycles, double errorPercent) {
        WholeCycles bit = WholeCycles.ofRate(MHZ_48, baud);

        assertThat(bit.cycles()).isEqualTo(cycles);
        assertThat(bit.errorPercent()).isEqualTo(errorPercent, within(0.00005));
        assertThat(bit.isExact()).isEqualTo(errorPercent == 0);
    }

    @ParameterizedTest
    @CsvSource({
        "0.00001, 480, 0",
        "0.05, 2400000, 0",
        "0.0000000104, 1, 100.3205",
        "0.000000031, 1, -32.7957",
        "0.00000003125, 2, 33.3333"
    })
    void ofTime_pulseWidths_areTheCyclesAndTheError(BigDecimal seconds, long cycles, double errorPercent) {
        WholeCycles width = WholeCycles.ofTime(MHZ_48, seconds);

        assertThat(width.cycles()).isEqualTo(cycles);
        assertThat(width.errorPercent()).isEqualTo(errorPercent, within(0.0001));
    }

    @Test
    void ofRate_fasterThanTheClock_isOneCycle() {
        WholeCycles bit = WholeCycles.ofRate(1000, BigDecimal.valueOf(4000));

        assertThat(bit.cycles()).isEqualTo(1);
        assertThat(bit.errorPercent()).isEqualTo(-75);
    }

    @Test
    void ofRate_nothingOrTooLong_isRefused() {
        assertThatThrownBy(() -> WholeCycles.ofRate(1000, BigDecimal.ZERO)).hasMessage("rate: 0, not above 0");
        assertThatThrownBy(() -> WholeCycles.ofTime(1000, new BigDecimal("1e20")))
                .hasMessage("more than 9007199254740991 cycles");
    }
}
