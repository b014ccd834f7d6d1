package octurn.timing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.stream.IntStream;
import octurn.arbiter.Chooser;
import octurn.arbiter.Memory;
import octurn.design.Admission;
import octurn.report.RunReport;
import octurn.report.RunReport.CoreReport;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Waldspurger and Weihl, "Lottery Scheduling", OSDI 1994: a holder of t of T tickets wins t/T of the draws; over n draws
 * the number of wins has mean n p and variance n p (1-p); the first win takes 1/p draws in the mean.
 */
class LotteryTest {

    private static final int DRAWS = 8000;

    /** Chi-square over the cores: exceeded once in a thousand times by chance, by degrees of freedom. */
    private static final double[] CRITICAL = {Double.NaN, 10.83, 13.82, 16.27, 18.47, 20.52, 22.46, 24.32};

    @ParameterizedTest
    @CsvSource({
        "'5 3 2', 7, '0.5 0.3 0.2'",
        "'5 3 2', 6, '0 0.6 0.4'",
        "'1 1 1 1 1 1 1 1', 255, '0.125 0.125 0.125 0.125 0.125 0.125 0.125 0.125'",
        "'1000 1', 3, '0.999000999 0.000999001'",
    })
    void draws_amongRequestingCores_followTheirTickets(String weights, int requests, String shares) {
        Integer[] tickets =
                Arrays.stream(weights.split(" ")).map(Integer::valueOf).toArray(Integer[]::new);
        double[] expected = Arrays.stream(shares.split(" "))
                .mapToDouble(Double::parseDouble)
                .toArray();

        assertFollow(wins(tickets, requests, DRAWS), expected, DRAWS);
    }

    /** One in eight: 1000 wins of 8000, with a standard deviation of 29.58. */
    @Test
    void wins_ofOneInEight_deviateAsExpected() {
        assertThat(Math.sqrt(DRAWS * 0.125 * 0.875)).isCloseTo(29.58, within(0.005));
    }

    @Test
    void firstWin_ofOneInEight_takesEightDrawsInTheMean() {
        Chooser chooser = chooser(1, 1, 1, 1, 1, 1, 1, 1);
        Memory memory = new Memory(7, (int) Admission.Lottery.DEFAULT_SEED);
        int wins = 2000;
        int draws = 0;
        for (int won = 0; won < wins; draws++) {
            won += chooser.choose(255, new long[8], memory) == 5 ? 1 : 0;
        }
        // The number of draws to a win has the variance (1-p)/p^2 = 56.
        assertThat((double) draws / wins).isCloseTo(8, within(4 * Math.sqrt(56.0 / wins)));
    }

    /**
     * On the chip the core admitted last is never among the requesters of the next draw, as it has yet to work for its
     * next access. The shares are then proportional to w (W - w), W the sum of all weights (derived: a reversible Markov
     * chain); independent draws would deviate more than these.
     */
    @Test
    void accesses_ofThreeGreedyCores_areSharedByTickets() {
        String text = "core all\nnext: fetch r1, [0]\n jump next\n";
        RunReport report = Lab.report(text, Lab.design(3, 8, Lab.lottery(5, 3, 2)), 8L * DRAWS);

        int[] accesses = report.cores().stream()
                .map(CoreReport::accesses)
                .mapToInt(Math::toIntExact)
                .toArray();
        double sum = 5 * 5 + 3 * 7 + 2 * 8;
        int all = IntStream.of(accesses).sum();
        assertThat(all).isGreaterThan(DRAWS - 5);
        assertFollow(accesses, new double[] {5 * 5 / sum, 3 * 7 / sum, 2 * 8 / sum}, all);
    }

    private static int[] wins(Integer[] tickets, int requests, int draws) {
        Chooser chooser = chooser(tickets);
        Memory memory = new Memory(tickets.length - 1, (int) Admission.Lottery.DEFAULT_SEED);
        int[] wins = new int[tickets.length];
        for (int draw = 0; draw < draws; draw++) {
            wins[chooser.choose(requests, new long[tickets.length], memory)]++;
        }
        return wins;
    }

    private static Chooser chooser(Integer... tickets) {
        return Chooser.of(Lab.design(tickets.length, 1, Lab.lottery(tickets)));
    }

    private static void assertFollow(int[] wins, double[] shares, int draws) {
        double chiSquare = 0;
        int classes = 0;
        for (int core = 0; core < wins.length; core++) {
            double mean = draws * shares[core];
            double deviation = Math.sqrt(mean * (1 - shares[core]));
            assertThat((double) wins[core]).as("core %d", core).isCloseTo(mean, within(4 * deviation));
            if (shares[core] > 0) {
                chiSquare += (wins[core] - mean) * (wins[core] - mean) / mean;
                classes++;
            }
        }
        assertThat(chiSquare).as("chi-square").isLessThan(CRITICAL[classes - 1]);
    }
}
