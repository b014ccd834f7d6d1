package octurn.diag;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;

class NearestTest {

    private static final List<String> WORDS = List.of("fetch", "post", "swap", "bump", "or", "start", "stop");

    @Test
    void nearest_lettersTraded_isOneSlip() {
        assertThat(Nearest.of("fecth", WORDS)).isEqualTo("fetch");
    }

    @Test
    void nearest_letterMissingWrongOrTooMany_isFound() {
        assertThat(Nearest.of("fech", WORDS)).isEqualTo("fetch");
        assertThat(Nearest.of("pest", WORDS)).isEqualTo("post");
        assertThat(Nearest.of("swapp", WORDS)).isEqualTo("swap");
    }

    @Test
    void nearest_otherCase_isTheSameWord() {
        assertThat(Nearest.of("BUMP", WORDS)).isEqualTo("bump");
    }

    @Test
    void nearest_equallyNear_firstWins() {
        assertThat(Nearest.of("stat", List.of("stag", "star"))).isEqualTo("stag");
    }

    @Test
    void nearest_twoSlipsInFiveLetters_isNothing() {
        assertThat(Nearest.of("fatxh", WORDS)).isNull();
    }

    @Test
    void nearest_shortWord_mustShareItsFirstLetter() {
        assertThat(Nearest.of("ar", WORDS)).isNull();
        assertThat(Nearest.of("ot", WORDS)).isEqualTo("or");
        assertThat(Nearest.of("OR", WORDS)).isEqualTo("or");
    }

    @Test
    void nearest_veryLongWord_isNothing() {
        assertThat(Nearest.of("x".repeat(1_000_000), WORDS)).isNull();
    }

    @Test
    void nearest_nothingKnown_isNothing() {
        assertThat(Nearest.of("fetch", List.of())).isNull();
    }
}
