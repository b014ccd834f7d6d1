package octurn.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class SharesTest {

    @Test
    void percent_thirds_theFirstGetsWhatIsLeft() {
        assertThat(Shares.percent(1, 1, 1)).containsExactly(34, 33, 33);
    }

    @Test
    void percent_largestRemainder_isRoundedUpFirst() {
        // 12.5, 37.4 and 50.1 percent.
        assertThat(Shares.percent(125, 374, 501)).containsExactly(13, 37, 50);
    }

    @Test
    void percent_nothing_isAllZero() {
        assertThat(Shares.percent(0, 0, 0)).containsExactly(0, 0, 0);
        assertThat(Shares.percent()).isEmpty();
    }

    @Test
    void percent_ofTheLongestRun_doesNotOverflow() {
        long most = (1L << 53) - 1;
        assertThat(Shares.percent(most, 0)).containsExactly(100, 0);
        assertThat(Shares.percent(most / 2, most / 2)).containsExactly(50, 50);
    }

    /** Adds up, and no share is off by a whole unit or more. */
    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5})
    void split_randomParts_addUpAndAreFair(long seed) {
        Random random = new Random(seed);
        for (int round = 0; round < 2000; round++) {
            int units = random.nextInt(1001);
            long[] parts = random.longs(1 + random.nextInt(10), 0, 1 + random.nextInt(100_000))
                    .toArray();
            long whole = Arrays.stream(parts).sum();
            int[] shares = Shares.split(units, parts);
            if (whole > 0) {
                assertThat(Arrays.stream(shares).sum()).as("seed %d", seed).isEqualTo(units);
                for (int i = 0; i < parts.length; i++) {
                    double exact = (double) units * parts[i] / whole;
                    assertThat(shares[i]).as("seed %d", seed).isBetween((int) exact, (int) Math.ceil(exact));
                }
            }
        }
    }
}
