package octurn.cli.export;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class TimescaleTest {

    /** From the definition: half a cycle of 80 MHz is 6.25 ns; a cycle of 48 MHz is 20833.33.. ps. */
    @ParameterizedTest
    @CsvSource({
        "80000000, 10 ps, true, 1, 625",
        "100000000, 1 ns, true, 2, 10",
        "1, 100 ms, true, 2, 10",
        "48000000, 1 ps, false, 2, 20833",
        "48000000, 1 ps, false, 4, 41667",
        "48000000, 1 ps, false, 96000000, 1000000000000",
        "3, 10 us, false, 2, 33333",
        "64000000000, 1 fs, false, 2, 15625",
        "64000000000, 1 fs, false, 1, 7813",
        // 2^53-1 cycles: beyond 64 bits
        "48000000, 1 ps, false, 18014398509481982, 187649984473770645833"
    })
    void of_aClock_isItsUnitAndTimes(long hertz, String unit, boolean exact, long halfCycles, String time) {
        Timescale scale = Timescale.of(hertz);

        assertThat(scale.text()).isEqualTo(unit);
        assertThat(scale.isExact()).isEqualTo(exact);
        assertThat(scale.at(halfCycles)).isEqualTo(time);
    }
}
