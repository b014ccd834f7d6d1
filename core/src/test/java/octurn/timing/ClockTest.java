package octurn.timing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import octurn.design.Clock;
import octurn.design.Cost;
import octurn.design.Design;
import octurn.run.Run;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ClockTest {

    /** Common practice: the clock is the crystal times the multiplier, a cycle its reciprocal. */
    @ParameterizedTest
    @CsvSource({"5000000, 16, 80000000, 12.5", "6000000, 8, 48000000, 20.8333", "20000, 1, 20000, 50000"})
    void clock_ofSourceAndMultiplier_isTheirProduct(int hertz, int multiplier, long chipHertz, double nanos) {
        Clock clock = new Clock(Clock.Source.CRYSTAL, hertz, multiplier, 50);

        assertThat(clock.chipHertz()).isEqualTo(chipHertz);
        assertThat(clock.cycleNanos()).isCloseTo(nanos, within(0.0001));
        assertThat(clock.micros(chipHertz)).isEqualTo(1e6);
    }

    /** The greatest clock is beyond 32 bits. */
    @Test
    void clock_atItsGreatest_isExact() {
        assertThat(new Clock(Clock.Source.INTERNAL, 1_000_000_000, 64, 0).chipHertz())
                .isEqualTo(64_000_000_000L);
    }

    /** Rounded divisors at 48 MHz and how far the speed is off in per cent (computed from the definition). */
    @ParameterizedTest
    @CsvSource({
        "9600, 5000, 0",
        "19200, 2500, 0",
        "57600, 833, 0.0400",
        "115200, 417, -0.0799",
        "230400, 208, 0.1603",
        "1000000, 48, 0",
    })
    void serialDivisor_fromTheConstantClock_isTheNearest(int baud, int divisor, double percentOff) {
        String text = "core 0\n set r1, (clock + %d / 2) / %d\n halt\n".formatted(baud, baud);
        Run run = Lab.run(text, Design.DEFAULT, 100);
        run.finish();

        assertThat(run.chip().core(0).register(1)).isEqualTo(divisor);
        double speed = (double) Design.DEFAULT.clock().chipHertz() / divisor;
        assertThat((speed / baud - 1) * 100).isCloseTo(percentOff, within(0.00005));
    }

    @Test
    void constantsOfAProgram_followTheDesign() {
        Design design = new Design(
                "fast",
                5,
                1024,
                16384,
                4,
                Lab.rotation(5),
                Cost.DEFAULT,
                16,
                new Clock(Clock.Source.CRYSTAL, 5_000_000, 16, 50));
        Run run = Lab.run(
                "core 0\n big r1, clock\n set r2, cores\n set r3, slot\n set r4, rotation\n halt\n", design, 100);
        run.finish();

        assertThat(run.chip().core(0).register(1)).isEqualTo(80_000_000);
        assertThat(run.chip().core(0).register(2)).isEqualTo(5);
        assertThat(run.chip().core(0).register(3)).isEqualTo(4);
        assertThat(run.chip().core(0).register(4)).isEqualTo(20);
    }
}
