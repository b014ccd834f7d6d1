package octurn.machine;

import static octurn.machine.TestDesign.design;
import static octurn.machine.TestDesign.ownPort;
import static octurn.machine.TestDesign.rotation;
import static octurn.machine.TestDesign.under;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.entry;

import java.util.List;
import octurn.design.Admission;
import org.junit.jupiter.api.Test;

/** Who is admitted to the shared memory, and when. S is 3 cycles and plain work 1 cycle unless a test says otherwise. */
class AdmissionTest extends ChipTest {

    private static final String ONE_FETCH = """
            core %s
                    fetch r1, [0]
                    halt
            """;

    // ---- rotation: the slot of core c starts at 3c, 3c + 24, 3c + 48 .. ----

    @Test
    void rotation_fetchOfCore0AtCycle0_waits23Cycles() {
        // Work in 0, request up from 1, slots at 0, 24: waits 24 - 1 = 23, holds 24..26, halt in 27.
        Trial trial = run(ONE_FETCH.formatted(0));

        assertThat(trial.lane(0)).isEqualTo("work 1, wait 23, slot 3, work 1");
        assertThat(trial.cycles()).isEqualTo(28);
    }

    @Test
    void rotation_sameProgramOnCore1_waits2Cycles() {
        // Request up from 1, slot at 3: waits 1 and 2, holds 3..5, goes on at 6.
        Trial trial = run(ONE_FETCH.formatted(1));

        assertThat(trial.lane(1)).isEqualTo("work 1, wait 2, slot 3, work 1");
        assertThat(trial.cycles()).isEqualTo(7);
    }

    @Test
    void rotation_twoFetchesInARow_secondWaits20Cycles() {
        // The first ends at 26. The second: work in 27, request from 28, slot at 48: waits 20.
        Trial trial = run("""
                core 0
                        fetch r1, [0]
                        fetch r2, [0]
                        halt
                """);

        assertThat(trial.lane(0)).isEqualTo("work 1, wait 23, slot 3, work 1, wait 20, slot 3, work 1");
        assertThat(trial.waits(0)).containsExactly(entry(20L, 1L), entry(23L, 1L));
    }

    @Test
    void rotation_20CyclesOfWorkBetweenFetches_costNothing() {
        // The pause fills 27..46, the second fetch works in 47 and is up at 48, the beginning of its slot.
        Trial trial = run("""
                core 0
                        fetch r1, [0]
                        pause 20
                        fetch r2, [0]
                        halt
                """);

        assertThat(trial.waits(0)).containsExactly(entry(0L, 1L), entry(23L, 1L));
        assertThat(trial.cycles()).isEqualTo(52);
    }

    @Test
    void rotation_21CyclesOfWorkBetweenFetches_missTheSlot() {
        // Up at 49, one cycle late: the next slot starts at 72, 23 cycles on.
        Trial trial = run("""
                core 0
                        fetch r1, [0]
                        pause 21
                        fetch r2, [0]
                        halt
                """);

        assertThat(trial.waits(0)).containsExactly(entry(23L, 2L));
        assertThat(trial.cycles()).isEqualTo(76);
    }

    @Test
    void rotation_otherSlotsUnused_areNotTaken() {
        // Core 3 alone on the chip waits all the same for its own slot at 9.
        Trial trial = run(ONE_FETCH.formatted(3));

        assertThat(trial.lane(3)).isEqualTo("work 1, wait 8, slot 3, work 1");
    }

    @Test
    void rotation_allCoresAtOnce_eachWaitsForItsPlaceInTheOrder() {
        Trial trial = run(ONE_FETCH.formatted("all"));

        // Up at 1; the slots start at 24, 3, 6, 9, 12, 15, 18, 21.
        assertThat(trial.report().cores())
                .extracting(core -> core.waits().total())
                .containsExactly(23L, 2L, 5L, 8L, 11L, 14L, 17L, 20L);
        assertThat(trial.report().busyCycles()).isEqualTo(8 * 3);
    }

    @Test
    void rotation_slotsOf1Cycle_leaveNoSlotToMiss() {
        // Eight slots of 1 cycle: core 0's come at 0, 8, 16.
        Trial trial = run(design().slotCycles(1), ONE_FETCH.formatted(0));

        assertThat(trial.lane(0)).isEqualTo("work 1, wait 7, slot 1, work 1");
    }

    @Test
    void rotation_plainCost3_raisesTheRequestAfter3Cycles() {
        // Core 1's request is up at 3, the beginning of its slot.
        Trial trial = run(design().plain(3), ONE_FETCH.formatted(1));

        assertThat(trial.lane(1)).isEqualTo("work 3, slot 3, work 3");
    }

    @Test
    void rotation_coreTwiceInTheOrder_hasTwoSlotsARound() {
        // Slots of 3 cycles for 0 1 0 2: core 0 at 0, 6, 12, 18; core 1 at 3, 15; core 2 at 9, 21.
        Trial trial = run(rotation(0, 1, 0, 2).cores(3), """
                core all
                        fetch r1, [0]
                        fetch r1, [0]
                        halt
                """);

        // Core 0: up at 1, in at 6; starts again at 9, up at 10, in at 12.
        assertThat(trial.lane(0)).isEqualTo("work 1, wait 5, slot 3, work 1, wait 2, slot 3, work 1, idle 9");
        // Core 1: up at 1, in at 3; starts again at 6, up at 7, in at 15.
        assertThat(trial.lane(1)).isEqualTo("work 1, wait 2, slot 3, work 1, wait 8, slot 3, work 1, idle 6");
        // Core 2: up at 1, in at 9; starts again at 12, up at 13, in at 21.
        assertThat(trial.lane(2)).isEqualTo("work 1, wait 8, slot 3, work 1, wait 8, slot 3, work 1");
    }

    @Test
    void rotation_oneSlotOrder_comesRoundEverySlot() {
        Trial trial = run(rotation(1).cores(2), ONE_FETCH.formatted(1));

        assertThat(trial.lane(1)).isEqualTo("work 1, wait 2, slot 3, work 1");
    }

    @Test
    void rotation_requestsAtEveryPhase_waitHalfTheRotationOnAverage() {
        // Over all 24 phases of the rotation the waits are 0 .. 23, each once: mean (R-1)/2 = 11.5.
        long total = 0;
        for (int phase = 1; phase <= 24; phase++) {
            Trial trial = run("""
                    core 5
                            pause %d
                            fetch r1, [0]
                            halt
                    """.formatted(phase));
            total += trial.core(5).waits().total();
            assertThat(trial.core(5).waits().max()).isLessThanOrEqualTo(23);
        }

        assertThat(total).isEqualTo(24 * 23 / 2);
    }

    // ---- next-waiting ----

    @Test
    void nextWaiting_memoryFree_admitsAtOnce() {
        Trial trial = run(under(new Admission.NextWaiting()), ONE_FETCH.formatted(5));

        assertThat(trial.lane(5)).isEqualTo("work 1, slot 3, work 1");
    }

    @Test
    void nextWaiting_beforeTheFirstAdmission_startsWithCore0() {
        Trial trial = run(under(new Admission.NextWaiting()), ONE_FETCH.formatted("0..2"));

        assertThat(trial.waits(0)).containsOnlyKeys(0L);
        assertThat(trial.waits(1)).containsOnlyKeys(3L);
        assertThat(trial.waits(2)).containsOnlyKeys(6L);
    }

    @Test
    void nextWaiting_afterCore1_looksUpwardsAndWrapsRound() {
        // Core 1 holds 1..3. Cores 0 and 2 are up at 2: core 2 is next above 1, core 0 follows.
        Trial trial = run(under(new Admission.NextWaiting()), """
                core 1
                        fetch r1, [0]
                        halt
                core 0, 2
                        nop
                        fetch r1, [0]
                        halt
                """);

        assertThat(trial.waits(2)).containsOnlyKeys(2L);
        assertThat(trial.waits(0)).containsOnlyKeys(5L);
    }

    @Test
    void nextWaiting_coreAskingAgain_comesAfterTheOthers() {
        // Core 0 holds 1..3 and is up again at 5; core 1 was up at 1. Free at 4: core 1. Free at 7: core 2. Then core
        // 0.
        Trial trial = run(under(new Admission.NextWaiting()), """
                core 0
                        fetch r1, [0]
                        fetch r1, [0]
                        halt
                core 1, 2
                        fetch r1, [0]
                        halt
                """);

        assertThat(trial.waits(0)).containsExactly(entry(0L, 1L), entry(5L, 1L));
    }

    @Test
    void nextWaiting_coreAskingAgainAlone_isAdmittedAgain() {
        Trial trial = run(under(new Admission.NextWaiting()), """
                core 3
                        fetch r1, [0]
                        fetch r1, [0]
                        halt
                """);

        assertThat(trial.waits(3)).containsExactly(entry(0L, 2L));
    }

    @Test
    void nextWaiting_afterTheHighestOf32Cores_startsAgainAtTheLowest() {
        // Core 31 holds 1..3; cores 0 and 30 are up at 2. After 31 comes 0.
        Trial trial = run(under(new Admission.NextWaiting()).cores(32), """
                core 31
                        fetch r1, [0]
                        halt
                core 0, 30
                        nop
                        fetch r1, [0]
                        halt
                """);

        assertThat(trial.waits(0)).containsOnlyKeys(2L);
        assertThat(trial.waits(30)).containsOnlyKeys(5L);
    }

    // ---- priority ----

    @Test
    void priority_allAtOnce_admitsInItsOrder() {
        Trial trial = run(under(new Admission.Priority(List.of(2, 0, 1))).cores(3), ONE_FETCH.formatted("all"));

        assertThat(trial.waits(2)).containsOnlyKeys(0L);
        assertThat(trial.waits(0)).containsOnlyKeys(3L);
        assertThat(trial.waits(1)).containsOnlyKeys(6L);
    }

    @Test
    void priority_requestRaisedWhenTheMemoryIsFree_takesPartInTheChoice() {
        // Core 0 holds 1..3. Core 1 waits from 2; core 2 comes up at 4, when the memory is free, and stands before it.
        Trial trial = run(under(new Admission.Priority(List.of(2, 1, 0))).cores(3), """
                core 0
                        fetch r1, [0]
                        halt
                core 1
                        nop
                        fetch r1, [0]
                        halt
                core 2
                        pause 3
                        fetch r1, [0]
                        halt
                """);

        assertThat(trial.waits(2)).containsOnlyKeys(0L);
        assertThat(trial.waits(1)).containsOnlyKeys(5L);
    }

    @Test
    void priority_accessUnderWay_isNotInterrupted() {
        // Core 1 holds 1..3; core 0, the most urgent, is up at 2 and waits for the end.
        Trial trial = run(under(new Admission.Priority(List.of(0, 1))).cores(2), """
                core 0
                        nop
                        fetch r1, [0]
                        halt
                core 1
                        fetch r1, [0]
                        halt
                """);

        assertThat(trial.waits(1)).containsOnlyKeys(0L);
        assertThat(trial.waits(0)).containsOnlyKeys(2L);
    }

    @Test
    void priority_twoUrgentCoresInALoop_starveTheThird() {
        // A turn of the loop is 3 cycles of slot, 2 of jump, 1 of work: two cores keep the memory busy without a gap.
        Trial trial = run(under(new Admission.Priority(List.of(0, 1, 2))).cores(3), limit(1000), """
                core 0, 1
                more:   fetch r1, [0]
                        jump  more
                core 2
                        fetch r1, [0]
                        halt
                """);

        assertThat(trial.lane(2)).isEqualTo("work 1, wait 999");
        assertThat(trial.report().busyCycles()).isEqualTo(999);
    }

    // ---- first-come ----

    @Test
    void firstCome_memoryFree_goesToTheOldestRequest() {
        // Core 0 holds 1..3 and is up again at 5. Core 2 is up at 2, core 1 at 3. Free at 4, 7, 10.
        Trial trial = run(under(new Admission.FirstCome()).cores(3), """
                core 0
                        fetch r1, [0]
                        fetch r1, [0]
                        halt
                core 1
                        pause 2
                        fetch r1, [0]
                        halt
                core 2
                        nop
                        fetch r1, [0]
                        halt
                """);

        assertThat(trial.waits(2)).containsOnlyKeys(2L);
        assertThat(trial.waits(1)).containsOnlyKeys(4L);
        assertThat(trial.waits(0)).containsExactly(entry(0L, 1L), entry(5L, 1L));
    }

    @Test
    void firstCome_equallyOld_goesToTheLowestNumber() {
        Trial trial = run(under(new Admission.FirstCome()), ONE_FETCH.formatted("4..6"));

        assertThat(trial.waits(4)).containsOnlyKeys(0L);
        assertThat(trial.waits(5)).containsOnlyKeys(3L);
        assertThat(trial.waits(6)).containsOnlyKeys(6L);
    }

    // ---- lottery ----

    /**
     * The numbers drawn from seed 2463534242 are 723471715, 2497366906, 2064144800, 2008045182, 3532304609 (Marsaglia
     * 2003).
     */
    @Test
    void lottery_equalWeights_followsTheGenerator() {
        Trial trial =
                run(lottery(List.of(1, 1, 1), Admission.Lottery.DEFAULT_SEED).cores(3), """
                core all
                        fetch r1, [0]
                        fetch r1, [0]
                        halt
                """);

        // At 1 all three: 723471715 mod 3 = 1, core 1. At 4 cores 0 and 2: 2497366906 mod 2 = 0, core 0.
        // At 7 cores 1 (up at 5) and 2: 2064144800 mod 2 = 0, core 1. At 10 cores 0 (up at 8) and 2: even, core 0.
        // At 13 core 2 alone, and again at 17.
        assertThat(trial.waits(1)).containsExactly(entry(0L, 1L), entry(2L, 1L));
        assertThat(trial.waits(0)).containsExactly(entry(2L, 1L), entry(3L, 1L));
        assertThat(trial.waits(2)).containsExactly(entry(0L, 1L), entry(12L, 1L));
    }

    @Test
    void lottery_oneRequester_drawsAllTheSame() {
        // Core 0 alone takes the first number. At 9 both are up: the second number is even: core 0.
        // Were the first number still to come, 723471715 mod 2 = 1 would admit core 1.
        Trial trial = run(lottery(List.of(1, 1), Admission.Lottery.DEFAULT_SEED).cores(2), """
                core 0
                        fetch r1, [0]
                        pause 4
                        fetch r1, [0]
                        halt
                core 1
                        pause 8
                        fetch r1, [0]
                        halt
                """);

        assertThat(trial.waits(0)).containsExactly(entry(0L, 2L));
        assertThat(trial.waits(1)).containsExactly(entry(3L, 1L));
    }

    @Test
    void lottery_weights_areSharesOfTheDraw() {
        // 723471715 mod (1 + 660 + 341) = 661: less the 1 of core 0 it is 660, which core 1's 660 does not cover: core
        // 2.
        Trial trial = run(
                lottery(List.of(1, 660, 341), Admission.Lottery.DEFAULT_SEED).cores(3), ONE_FETCH.formatted("all"));

        assertThat(trial.waits(2)).containsOnlyKeys(0L);

        // With 661 for core 1 it does.
        trial = run(
                lottery(List.of(1, 661, 340), Admission.Lottery.DEFAULT_SEED).cores(3), ONE_FETCH.formatted("all"));

        assertThat(trial.waits(1)).containsOnlyKeys(0L);
    }

    @Test
    void lottery_seed_decidesTheDraw() {
        // Seed 1 gives 270369 first (Marsaglia 2003's generator): odd, core 1 of two.
        Trial trial = run(lottery(List.of(1, 1), 1).cores(2), ONE_FETCH.formatted("all"));

        assertThat(trial.waits(1)).containsOnlyKeys(0L);
        assertThat(trial.waits(0)).containsOnlyKeys(3L);
    }

    @Test
    void lottery_highestSeed_isAnUnsignedNumber() {
        // By hand from seed 4294967295, all ones: x ^ x << 13 leaves the low 13 bits, 00001FFF; >>> 17 adds nothing;
        // << 5 gives 0003FFE0, and with it 0003E01F = 253983, odd: core 1 of two.
        Trial trial = run(lottery(List.of(1, 1), 4294967295L).cores(2), ONE_FETCH.formatted("all"));

        assertThat(trial.waits(1)).containsOnlyKeys(0L);
    }

    private static TestDesign lottery(List<Integer> weights, long seed) {
        return under(new Admission.Lottery(weights, seed));
    }

    // ---- own-port ----

    @Test
    void ownPort_allAtOnce_nobodyWaits() {
        Trial trial = run(ownPort(), ONE_FETCH.formatted("all"));

        for (int core = 0; core < 8; core++) {
            assertThat(trial.lane(core)).isEqualTo("work 1, slot 3, work 1");
        }
        // All eight hold the memory in 1..3.
        assertThat(trial.report().busyCycles()).isEqualTo(3);
    }

    @Test
    void ownPort_overlappingAccesses_countEachBusyCycleOnce() {
        // Core 0 holds 1..3, core 1 holds 2..4.
        Trial trial = run(ownPort(), """
                core 0
                        fetch r1, [0]
                        halt
                core 1
                        nop
                        fetch r1, [0]
                        halt
                """);

        assertThat(trial.report().busyCycles()).isEqualTo(4);
    }

    @Test
    void ownPort_accessesEndingTogether_takeEffectInAscendingCoreNumber() {
        Trial trial = run(ownPort(), """
                core 0..2
                        set  r1, 1
                        bump r1, [total]
                        halt
                shared
                total:  word 10
                """);

        assertThat(trial.register(0, 1)).isEqualTo(10);
        assertThat(trial.register(1, 1)).isEqualTo(11);
        assertThat(trial.register(2, 1)).isEqualTo(12);
        assertThat(trial.shared(0)).isEqualTo(13);
    }

    @Test
    void ownPort_fetchAndPostEndingTogether_onlyHigherCoresSeeTheNewWord() {
        Trial trial = run(ownPort(), """
                core 0, 2
                        nop
                        fetch r1, [cell]
                        halt
                core 1
                        set   r2, 9
                        post  r2, [cell]
                        halt
                shared
                cell:   word 5
                """);

        assertThat(trial.register(0, 1)).isEqualTo(5);
        assertThat(trial.register(2, 1)).isEqualTo(9);
    }

    @Test
    void ownPort_wordPostedDuringAFetch_isSeenByIt() {
        // The post ends at 4; the fetch holds 3..5 and reads at its end.
        Trial trial = run(ownPort(), """
                core 0
                        pause 2
                        fetch r1, [cell]
                        halt
                core 1
                        set   r2, 9
                        post  r2, [cell]
                        halt
                shared
                cell:   word 5
                """);

        assertThat(trial.register(0, 1)).isEqualTo(9);
    }
}
