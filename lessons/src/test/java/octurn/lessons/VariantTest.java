package octurn.lessons;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.HashMap;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class VariantTest {

    private static final Lesson LESSON = Folder.twoBeds().accepted();

    /**
     * The numbers were worked out by another program, Python's hashlib: int.from_bytes(sha256(("ada\ntwo-beds\nbeds")
     * .encode()).digest()[:8], "big") % 7 + 3, and so on. They must never change: students keep their numbers.
     */
    @ParameterizedTest
    @CsvSource({"Ada, 9, 4", "Ben, 9, 12", "Chioma, 9, 4", "Dilek, 3, 12", "Emil, 7, 12", "\u0141ukasz, 5, 12"})
    void variant_ofAName_isAsItAlwaysWas(String student, long beds, long gap) {
        assertThat(Variant.of(LESSON, student).numbers()).isEqualTo(Map.of("beds", beds, "gap", gap));
    }

    @Test
    void variant_withoutAName_hasTheMiddleOnes() {
        assertThat(Variant.standard(LESSON).numbers()).isEqualTo(Map.of("beds", 6L, "gap", 8L));
        assertThat(Variant.of(LESSON, "  ").numbers()).isEqualTo(Map.of("beds", 6L, "gap", 8L));
    }

    @Test
    void middle_ofAnEvenCount_isTheFirstOfTheTwo() {
        assertThat(Vary.between(1, 4).standard()).isEqualTo(2);
    }

    @ParameterizedTest
    @ValueSource(strings = {"Zo\u00eb  Li", " zo\u00eb li ", "Zoe\u0308 Li", "ZO\u00cb\tLI"})
    void variant_ofOneNameWrittenInAnotherWay_isTheSame(String student) {
        assertThat(Variant.of(LESSON, student).numbers())
                .isEqualTo(Variant.of(LESSON, "Zo\u00eb Li").numbers());
    }

    @Test
    void variants_ofManyNames_areSpreadEvenly() {
        Map<Long, Integer> counts = new HashMap<>();
        int students = 7000;
        for (int i = 0; i < students; i++) {
            counts.merge(Variant.of(LESSON, "student " + i).numbers().get("beds"), 1, Integer::sum);
        }
        assertThat(counts.keySet()).containsExactlyInAnyOrder(3L, 4L, 5L, 6L, 7L, 8L, 9L);
        // Pearson's chi-square with 6 degrees of freedom: above 22.46 in 1 of 1000 cases (NIST/SEMATECH e-Handbook,
        // 1.3.6.7.4).
        double expected = students / 7.0;
        double chiSquare = counts.values().stream()
                .mapToDouble(count -> Math.pow(count - expected, 2) / expected)
                .sum();
        assertThat(chiSquare).isLessThan(22.46);
    }

    @Test
    void numbers_ofOneStudent_areIndependentOfEachOther() {
        int both = 0;
        int students = 6300;
        for (int i = 0; i < students; i++) {
            Map<String, Long> numbers = Variant.of(LESSON, "student " + i).numbers();
            both += numbers.get("beds") == 3 && numbers.get("gap") == 4 ? 1 : 0;
        }
        // One in 21, which is 300; four standard deviations are 4 sqrt(6300 * 1/21 * 20/21) = 68.
        assertThat((double) both).isCloseTo(300, within(68.0));
    }

    @Test
    void variant_ofALessonWithANumberMore_keepsTheOthers() {
        Folder more = Folder.twoBeds()
                .replacing(LessonFiles.LESSON, "\"vary\": {", "\"vary\": { \"more\": { \"from\": 1, \"to\": 99 },");
        assertThat(Variant.of(more.accepted(), "Ada").numbers())
                .containsAllEntriesOf(Variant.of(LESSON, "Ada").numbers());
    }
}
