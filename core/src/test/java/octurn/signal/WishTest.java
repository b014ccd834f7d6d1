package octurn.signal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.math.BigDecimal;
import octurn.signal.Wish.Kind;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class WishTest {

    private static final long MHZ_48 = 48_000_000;

    /** 48 MHz / 417 and 48 MHz / 109091 by hand; 31 ns are 1.488 cycles, so 1, which is 20.833 ns. */
    @ParameterizedTest
    @CsvSource({"BAUD, 115200, 115107.91367", "HERTZ, 440, 440.00034830", "PULSE, 0.000000031, 0.0000000208333"})
    void gives_wholeCycles_areWhatComesOfThem(Kind kind, BigDecimal wanted, double gives) {
        WholeCycles cycles =
                kind == Kind.PULSE ? WholeCycles.ofTime(MHZ_48, wanted) : WholeCycles.ofRate(MHZ_48, wanted);

        assertThat(new Wish(kind, wanted.toString(), cycles).gives(MHZ_48)).isEqualTo(gives, within(gives * 1e-5));
    }
}
