package octurn.published;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SequencesTest {

    /**
     * Marsaglia, "Xorshift RNGs" (2003), gives the generator and the seed 2463534242; the numbers were computed from its
     * definition.
     */
    @ParameterizedTest
    @CsvSource({
        "2463534242, '723471715 2497366906 2064144800 2008045182 3532304609'",
        "1, '270369 67634689 2647435461'",
    })
    void xorshift32_fromASeed_givesItsNumbers(long seed, String numbers) {
        int[] expected = words(numbers, 10);

        Published run = Published.run("xorshift", Map.of("seed", seed, "amount", (long) expected.length));

        assertThat(words(run, expected.length)).isEqualTo(expected);
    }

    /** Numerical Recipes in C lists these numbers of its quick generator. */
    @Test
    void linearCongruential_fromZero_givesItsNumbers() {
        int[] expected = words("3C6EF35F 47502932 D1CCF6E9 AAF95334 6252E503 9F2EC686", 16);

        assertThat(words(Published.run("lcg"), 6)).isEqualTo(expected);
    }

    /** The taps 16, 14, 13, 11 belong to a primitive polynomial, so the period is 2^16 - 1 (common practice). */
    @Test
    void shiftRegister_comesBackAfter65535Steps() {
        assertThat(Published.run("shift16").word("period")).isEqualTo(65535);
    }

    /** From 27 it takes 111 steps and climbs to 9232 (common knowledge; OEIS A006577 and A025586). */
    @Test
    void collatz_from27_takes111StepsOverAPeakOf9232() {
        Published run = Published.run("collatz");

        assertThat(run.word("steps")).isEqualTo(111);
        assertThat(run.word("peak")).isEqualTo(9232);
    }

    private static int[] words(Published run, int amount) {
        int[] words = new int[amount];
        Arrays.setAll(words, i -> run.word("numbers", i));
        return words;
    }

    private static int[] words(String numbers, int radix) {
        return Arrays.stream(numbers.split(" "))
                .mapToInt(number -> Integer.parseUnsignedInt(number, radix))
                .toArray();
    }
}
