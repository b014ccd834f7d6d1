package octurn.cli.process;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SurroundingsTest {

    @ParameterizedTest
    @CsvSource({"80, 80", "79, 80", "100, 100", "161, 160", "99999, 160", "0, 80", "-5, 80", "wide, 80", "123456, 80"})
    void columns_ofTheEnvironment_areKeptWithinBounds(String given, int columns) {
        assertThat(Surroundings.columns(given)).isEqualTo(columns);
    }

    @Test
    void columns_notGiven_are80() {
        assertThat(Surroundings.columns(null)).isEqualTo(80);
    }

    /** See no-color.org. */
    @Test
    void colour_isRefusedByNoColorAndByDumbTerminals() {
        assertThat(Surroundings.mayColour(Map.of("TERM", "xterm"))).isTrue();
        assertThat(Surroundings.mayColour(Map.of("TERM", "xterm", "NO_COLOR", "")))
                .isTrue();
        assertThat(Surroundings.mayColour(Map.of("TERM", "xterm", "NO_COLOR", "1")))
                .isFalse();
        assertThat(Surroundings.mayColour(Map.of("TERM", "dumb"))).isFalse();
        assertThat(Surroundings.mayColour(Map.of())).isFalse();
    }

    @Test
    void readerGone_isKnownByItsMessage() {
        assertThat(Surroundings.isReaderGone(new IOException("Broken pipe"))).isTrue();
        assertThat(Surroundings.isReaderGone(new IOException("The pipe is being closed")))
                .isTrue();
        assertThat(Surroundings.isReaderGone(new IOException("No space left on device")))
                .isFalse();
        assertThat(Surroundings.isReaderGone(new IOException())).isFalse();
    }
}
