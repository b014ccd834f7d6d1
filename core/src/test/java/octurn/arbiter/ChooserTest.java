package octurn.arbiter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import java.util.stream.LongStream;
import java.util.stream.Stream;
import octurn.design.Admission;
import octurn.design.Clock;
import octurn.design.Cost;
import octurn.design.Design;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** What holds for every policy that chooses, and what each promises besides. */
class ChooserTest {

    private static final int CORES = 8;
    private static final Admission PRIORITY = new Admission.Priority(List.of(3, 1, 4, 0, 5, 2, 6, 7));
    private static final Admission LOTTERY = new Admission.Lottery(List.of(1, 2, 3, 4, 5, 6, 7, 1000), 99);

    static Stream<Admission> policies() {
        return Stream.of(new Admission.NextWaiting(), PRIORITY, new Admission.FirstCome(), LOTTERY);
    }

    private static Design design(Admission admission, int cores) {
        return new Design("n", cores, 16, 16, 1, admission, Cost.DEFAULT, 0, Clock.DEFAULT);
    }

    private static Chooser chooser(Admission admission) {
        return Chooser.of(design(admission, CORES));
    }

    private static Memory fresh(Admission admission) {
        long seed = admission instanceof Admission.Lottery lottery ? lottery.seed() : 1;
        return new Memory(CORES - 1, (int) seed);
    }

    /** Random requests through a policy, one slot a cycle; every admitted core, in order. */
    private static List<Integer> admissions(Admission admission, long seed, int choices) {
        Random random = new Random(seed);
        Chooser chooser = chooser(admission);
        Memory memory = fresh(admission);
        long[] requestCycle = new long[CORES];
        int requests = 0;
        List<Integer> admitted = new ArrayList<>();
        for (long cycle = 0; admitted.size() < choices; cycle++) {
            for (int core = 0; core < CORES; core++) {
                if ((requests >>> core & 1) == 0 && random.nextInt(4) == 0) {
                    requests |= 1 << core;
                    requestCycle[core] = cycle;
                }
            }
            if (requests != 0) {
                int core = chooser.choose(requests, requestCycle, memory);
                memory.lastAdmitted = core;
                assertThat(requests >>> core & 1)
                        .as("core %d of %x", core, requests)
                        .isEqualTo(1);
                requests &= ~(1 << core);
                admitted.add(core);
            }
        }
        return admitted;
    }

    // ---- the contract ----

    @ParameterizedTest
    @MethodSource("policies")
    void choose_anyRequests_admitsOneOfThem(Admission admission) {
        for (long seed = 1; seed <= 20; seed++) {
            admissions(admission, seed, 500);
        }
    }

    @ParameterizedTest
    @MethodSource("policies")
    void choose_theSameRequestsAgain_admitsTheSameCores(Admission admission) {
        assertThat(admissions(admission, 7, 500)).isEqualTo(admissions(admission, 7, 500));
    }

    @ParameterizedTest
    @MethodSource("policies")
    void choose_oneRequester_admitsIt(Admission admission) {
        Chooser chooser = chooser(admission);
        for (int core = 0; core < CORES; core++) {
            assertThat(chooser.choose(1 << core, new long[CORES], fresh(admission)))
                    .isEqualTo(core);
        }
    }

    @ParameterizedTest
    @MethodSource("policies")
    void choose_changesWhatItRemembersAndNothingElse(Admission admission) {
        Chooser chooser = chooser(admission);
        long[] requestCycle = LongStream.range(0, CORES).toArray();
        Memory memory = fresh(admission);
        Memory kept = new Memory(0, 0);
        kept.copyFrom(memory);

        int first = chooser.choose(0xFF, requestCycle, memory);
        memory.copyFrom(kept);

        assertThat(chooser.choose(0xFF, requestCycle, memory)).isEqualTo(first);
        assertThat(requestCycle).isEqualTo(LongStream.range(0, CORES).toArray());
    }

    @Test
    void of_policiesUnderWhichThereIsNothingToChoose_isRefused() {
        for (Admission admission : List.of(new Admission.Rotation(List.of(0)), new Admission.OwnPort())) {
            assertThatThrownBy(() -> Chooser.of(design(admission, 1)))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessage("%s has nothing to choose", admission.policy());
        }
    }

    // ---- wait bounds, with one request outstanding a core ----

    /** The most admissions of others that a request of this core had to see go by, everybody asking again at once. */
    private static int mostServicesWaited(Admission admission, int watched, int choices) {
        Chooser chooser = chooser(admission);
        Memory memory = fresh(admission);
        long[] requestCycle = new long[CORES];
        int waited = 0;
        int most = 0;
        for (long cycle = 1; cycle <= choices; cycle++) {
            int core = chooser.choose((1 << CORES) - 1, requestCycle, memory);
            memory.lastAdmitted = core;
            requestCycle[core] = cycle;
            waited = core == watched ? 0 : waited + 1;
            most = Math.max(most, waited);
        }
        return most;
    }

    @Test
    void nextWaitingAndFirstCome_waitAtMostForEachOtherCoreOnce() {
        for (int core = 0; core < CORES; core++) {
            assertThat(mostServicesWaited(new Admission.NextWaiting(), core, 1000))
                    .isLessThanOrEqualTo(CORES - 1);
            assertThat(mostServicesWaited(new Admission.FirstCome(), core, 1000))
                    .isLessThanOrEqualTo(CORES - 1);
        }
    }

    @Test
    void nextWaitingAndFirstCome_allAlwaysAsking_shareEqually() {
        for (Admission admission : List.of(new Admission.NextWaiting(), new Admission.FirstCome())) {
            Chooser chooser = chooser(admission);
            Memory memory = fresh(admission);
            long[] requestCycle = new long[CORES];
            int[] counts = new int[CORES];
            for (long cycle = 1; cycle <= 800; cycle++) {
                int core = chooser.choose(0xFF, requestCycle, memory);
                memory.lastAdmitted = core;
                requestCycle[core] = cycle;
                counts[core]++;
            }
            assertThat(counts).containsOnly(100);
        }
    }

    @Test
    void priority_allAlwaysAsking_theMostUrgentTakesAll() {
        // The wait of the others has no bound.
        assertThat(mostServicesWaited(PRIORITY, 7, 1000)).isEqualTo(1000);
        assertThat(mostServicesWaited(PRIORITY, 3, 1000)).isZero();
    }

    // ---- each policy's own rule ----

    @Test
    void nextWaiting_goesUpFromTheCoreAdmittedLast() {
        Chooser chooser = chooser(new Admission.NextWaiting());
        assertThat(chooser.choose(0b10010010, new long[CORES], new Memory(1, 1)))
                .isEqualTo(4);
        assertThat(chooser.choose(0b10010010, new long[CORES], new Memory(4, 1)))
                .isEqualTo(7);
        assertThat(chooser.choose(0b10010010, new long[CORES], new Memory(7, 1)))
                .isEqualTo(1);
        assertThat(chooser.choose(0b10010010, new long[CORES], new Memory(0, 1)))
                .isEqualTo(1);
    }

    @Test
    void nextWaiting_ofCore31_wrapsRound() {
        Chooser chooser = Chooser.of(design(new Admission.NextWaiting(), 32));
        assertThat(chooser.choose(0x80000001, new long[32], new Memory(30, 1))).isEqualTo(31);
        assertThat(chooser.choose(0x80000001, new long[32], new Memory(31, 1))).isZero();
        assertThat(chooser.choose(0x80000000, new long[32], new Memory(31, 1))).isEqualTo(31);
    }

    @Test
    void priority_takesTheFirstInItsOrder() {
        Chooser chooser = chooser(PRIORITY);
        assertThat(chooser.choose(0b11101, new long[CORES], fresh(PRIORITY))).isEqualTo(3);
        assertThat(chooser.choose(0b10101, new long[CORES], fresh(PRIORITY))).isEqualTo(4);
        assertThat(chooser.choose(0b00101, new long[CORES], fresh(PRIORITY))).isZero();
    }

    @Test
    void priority_requestOfACoreThatTheOrderLacks_isAnInternalError() {
        Chooser chooser = new Priority(List.of(0));
        assertThatThrownBy(() -> chooser.choose(2, new long[2], new Memory(0, 1)))
                .isInstanceOf(IllegalStateException.class)
                .hasMessage("priority: requests 2 of cores that the order lacks");
    }

    @Test
    void firstCome_takesTheOldest_ofEqualsTheLowest() {
        Chooser chooser = chooser(new Admission.FirstCome());
        long[] requestCycle = {9, 4, 7, 4, 5, 1, 1, 8};
        assertThat(chooser.choose(0b11111111, requestCycle, new Memory(0, 1))).isEqualTo(5);
        assertThat(chooser.choose(0b11011111, requestCycle, new Memory(0, 1))).isEqualTo(6);
        assertThat(chooser.choose(0b00011111, requestCycle, new Memory(0, 1))).isEqualTo(1);
        assertThat(chooser.choose(0b10000001, requestCycle, new Memory(0, 1))).isEqualTo(7);
    }

    // ---- the lottery's generator ----

    /** Marsaglia 2003, "Xorshift RNGs", the generator with shifts 13, 17, 5: the first numbers of two seeds. */
    @Test
    void xorshift32_fromPublishedSeeds_givesThePublishedNumbers() {
        assertThat(numbers(2463534242L, 5))
                .containsExactly(723471715L, 2497366906L, 2064144800L, 2008045182L, 3532304609L);
        assertThat(numbers(1, 3)).containsExactly(270369L, 67634689L, 2647435461L);
    }

    @Test
    void xorshift32_overAMillionNumbers_isNeither0NorBackAtTheSeed() {
        int x = 1;
        for (int i = 0; i < 1_000_000; i++) {
            x = Lottery.xorshift32(x);
            assertThat(x != 0 && x != 1).isTrue();
        }
    }

    private static List<Long> numbers(long seed, int count) {
        return Stream.iterate((int) seed, Lottery::xorshift32)
                .skip(1)
                .limit(count)
                .map(Integer::toUnsignedLong)
                .toList();
    }

    @Test
    void lottery_draw_takesTheNumberModuloTheWeightsOfTheRequesters() {
        // From seed 2463534242 the first number is 723471715. Of cores 1 (weight 2), 2 (3) and 4 (5), the sum is 10 and
        // the ticket 5: not below 2; 3 left, not below 3; 0 left: core 4.
        Admission lottery = new Admission.Lottery(List.of(1, 2, 3, 4, 5, 6, 7, 8), Admission.Lottery.DEFAULT_SEED);
        Memory memory = fresh(lottery);

        assertThat(chooser(lottery).choose(0b10110, new long[CORES], memory)).isEqualTo(4);
        assertThat(Integer.toUnsignedLong(memory.random)).isEqualTo(723471715L);
        // The second is 2497366906: of cores 0 (1) and 1 (2) modulo 3 (its digits sum up to 52, rest 1): core 1.
        assertThat(chooser(lottery).choose(0b00011, new long[CORES], memory)).isEqualTo(1);
        assertThat(Integer.toUnsignedLong(memory.random)).isEqualTo(2497366906L);
    }

    /**
     * Lottery scheduling (Waldspurger and Weihl, OSDI 1994): over n draws a core with share p wins n p times, with variance
     * n p (1 - p). Weights 5, 3, 2.
     */
    @Test
    void lottery_overManyDraws_sharesByWeight() {
        Admission lottery = new Admission.Lottery(List.of(5, 3, 2), Admission.Lottery.DEFAULT_SEED);
        Chooser chooser = Chooser.of(design(lottery, 3));
        Memory memory = fresh(lottery);
        int draws = 10_000;
        int[] wins = new int[3];
        for (int i = 0; i < draws; i++) {
            wins[chooser.choose(0b111, new long[3], memory)]++;
        }

        double[] shares = {.5, .3, .2};
        for (int core = 0; core < 3; core++) {
            double sigma = Math.sqrt(draws * shares[core] * (1 - shares[core]));
            assertThat(Math.abs(wins[core] - draws * shares[core])).isLessThan(4 * sigma);
        }
        // With core 0 absent, core 1 has 3 of 5.
        int second = 0;
        for (int i = 0; i < draws; i++) {
            second += chooser.choose(0b110, new long[3], memory) == 1 ? 1 : 0;
        }
        assertThat(Math.abs(second - .6 * draws)).isLessThan(4 * Math.sqrt(draws * .6 * .4));
    }

    /** The same source: with eight equal shares, 8000 draws give each core 1000, one sigma being 29.58. */
    @Test
    void lottery_equalWeights_shareEquallyWithin4Sigma() {
        Admission lottery = new Admission.Lottery(Collections.nCopies(CORES, 1), Admission.Lottery.DEFAULT_SEED);
        Memory memory = fresh(lottery);
        int[] wins = new int[CORES];
        for (int i = 0; i < 8000; i++) {
            wins[chooser(lottery).choose(0xFF, new long[CORES], memory)]++;
        }

        assertThat(IntStream.of(wins).allMatch(count -> Math.abs(count - 1000) < 4 * 29.58))
                .isTrue();
        // Chi-square over the cores, 7 degrees of freedom: 24.3 is exceeded once in a thousand (from memory).
        double chiSquare = IntStream.of(wins)
                .mapToDouble(count -> (count - 1000) * (count - 1000) / 1000.0)
                .sum();
        assertThat(chiSquare).isLessThan(24.3);
    }
}
