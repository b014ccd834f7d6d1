package octurn.lessons.mark;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.Instant;
import java.time.ZoneId;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Lyon is an hour ahead of UTC in March, two from the end of March on (common knowledge). */
class DueTest {

    private static final ZoneId LYON = ZoneId.of("Europe/Paris");

    @ParameterizedTest
    @CsvSource({
        "2026-03-01T18:00, 2026-03-01T17:00:00Z",
        "2026-04-01T18:00:30, 2026-04-01T16:00:30Z",
        "2026-03-01T18:00Z, 2026-03-01T18:00:00Z",
        "2026-03-01T18:00-05:00, 2026-03-01T23:00:00Z",
        "2026-03-01, 2026-03-01T22:59:59.999999999Z"
    })
    void due_inAnyForm_isAMoment(String text, String moment) {
        assertThat(Due.parse(text, LYON)).isEqualTo(Instant.parse(moment));
    }

    @Test
    void due_inNoForm_saysWhatWouldBeRight() {
        assertThatThrownBy(() -> Due.parse("tomorrow", LYON))
                .hasMessageContaining("tomorrow is no time; right would be");
    }
}
