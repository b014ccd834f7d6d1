package octurn.machine;

import static octurn.machine.TestDesign.design;
import static octurn.machine.TestDesign.ownPort;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.List;
import octurn.design.Input;
import octurn.design.Scenario;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The tallies, cycle by cycle. A list starts with the value at cycle 0. */
class TallyTest extends ChipTest {

    /** Pin 3: high in 4..6, low in 7..8, high from 9. */
    private static final Scenario ACTIVITY = inputs(input(3, 4, 1, 7, 0, 9, 1));

    /** The mode is in force from 2 on. */
    private static final String COUNT = """
            core 0
                    set   r1, %s
                    write mode0, r1
                    pause 9
                    halt
            """;

    // ---- counting ----

    @Test
    void off_keepsItsValue() {
        Trial trial = run("""
                core 0
                        set   r1, 7
                        write tally0, r1
                        pause 3
                        halt
                """);

        assertThat(trial.tally(0, 0)).containsExactly(0, 0, 7, 7, 7, 7);
    }

    @Test
    void cycles_countsEveryCycleFromTheOneAfterTheWrite() {
        Trial trial = run(COUNT.formatted("1"));

        assertThat(trial.tally(0, 0)).containsExactly(0, 0, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9);
    }

    @Test
    void rising_countsInTheCycleAfterEachRise() {
        // Rises at 4 and 9.
        Trial trial = run(design(), ACTIVITY, COUNT.formatted("0x302"));

        assertThat(trial.tally(0, 0)).containsExactly(0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 2, 2);
    }

    @Test
    void falling_countsInTheCycleAfterEachFall() {
        // Falls at 7.
        Trial trial = run(design(), ACTIVITY, COUNT.formatted("0x303"));

        assertThat(trial.tally(0, 0)).containsExactly(0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1);
    }

    @Test
    void high_countsTheCyclesAtWhichThePinIsHigh() {
        Trial trial = run(design(), ACTIVITY, COUNT.formatted("0x304"));

        assertThat(trial.tally(0, 0)).containsExactly(0, 0, 0, 0, 0, 1, 2, 3, 3, 3, 4, 5);
    }

    @Test
    void low_countsTheCyclesAtWhichThePinIsLow() {
        Trial trial = run(design(), ACTIVITY, COUNT.formatted("0x305"));

        assertThat(trial.tally(0, 0)).containsExactly(0, 0, 0, 1, 2, 2, 2, 2, 3, 4, 4, 4);
    }

    @Test
    void twoTallies_countEachForItself() {
        Trial trial = run(design(), ACTIVITY, """
                core 0
                        set   r1, 0x304
                        write mode0, r1
                        set   r1, 0x305
                        write mode1, r1
                        pause 7
                        halt
                """);

        assertThat(trial.tally(0, 0)).containsExactly(0, 0, 0, 0, 0, 1, 2, 3, 3, 3, 4, 5);
        // In force from 4 on.
        assertThat(trial.tally(0, 1)).containsExactly(0, 0, 0, 0, 0, 0, 0, 0, 1, 2, 2, 2);
    }

    @Test
    void pinThatItsOwnCoreDrives_isCountedLikeAnyOther() {
        // High in 5 (out written in 4), low from 7 (out written in 6).
        Trial trial = run("""
                core 0
                        set   r1, 0x002
                        write mode0, r1
                        set   r1, 1
                        write drive, r1
                        write out, r1
                        set   r1, 0
                        write out, r1
                        pause 2
                        halt
                """);

        assertThat(trial.pin(0)).isEqualTo("0000011000");
        assertThat(trial.tally(0, 0)).containsExactly(0, 0, 0, 0, 0, 0, 1, 1, 1, 1);
    }

    // ---- edges and the cycle of the write ----

    @Test
    void riseInTheFirstCycleOfTheMode_counts() {
        // The mode is in force from 2; the pin is high at 2 and was low at 1.
        Trial trial = run(design(), inputs(input(3, 2, 1)), COUNT.formatted("0x302"));

        assertThat(trial.tally(0, 0).subList(0, 5)).containsExactly(0, 0, 0, 1, 1);
    }

    @Test
    void riseInTheLastCycleBeforeTheMode_doesNotCount() {
        Trial trial = run(design(), inputs(input(3, 1, 1)), COUNT.formatted("0x302"));

        assertThat(trial.tally(0, 0)).containsOnly(0);
    }

    @Test
    void riseInTheLastCycleOfTheMode_countsStill() {
        // Rising until 3; off from 4 on, written in 3. The pin rises at 3: with the mode of cycle 3 the value at 4 is
        // 1.
        Trial trial = run(design(), inputs(input(3, 3, 1)), """
                core 0
                        set   r1, 0x302
                        write mode0, r1
                        set   r1, 0
                        write mode0, r1
                        pause 3
                        halt
                """);

        assertThat(trial.tally(0, 0)).containsExactly(0, 0, 0, 0, 1, 1, 1, 1);
    }

    @Test
    void valueWrittenInTheCycleOfAnEdge_decidesTheNextValue() {
        // The pin rises at 3; the write to tally0 ends in 3.
        Trial trial = run(design(), inputs(input(3, 3, 1)), """
                core 0
                        set   r1, 0x302
                        write mode0, r1
                        set   r1, 50
                        write tally0, r1
                        pause 3
                        halt
                """);

        assertThat(trial.tally(0, 0)).containsExactly(0, 0, 0, 0, 50, 50, 50, 50);
    }

    @Test
    void valueWrittenInTheCycleBeforeAnEdge_countsIt() {
        Trial trial = run(design(), inputs(input(3, 4, 1)), """
                core 0
                        set   r1, 0x302
                        write mode0, r1
                        set   r1, 50
                        write tally0, r1
                        pause 3
                        halt
                """);

        assertThat(trial.tally(0, 0)).containsExactly(0, 0, 0, 0, 50, 51, 51, 51);
    }

    @Test
    void valueWrittenWhileCounting_goesOnFromThere() {
        // Written in 3: 100 at 4, 101 at 5.
        Trial trial = run("""
                core 0
                        set   r1, 1
                        write mode0, r1
                        set   r1, 100
                        write tally0, r1
                        pause 3
                        halt
                """);

        assertThat(trial.tally(0, 0)).containsExactly(0, 0, 0, 1, 100, 101, 102, 103);
    }

    @Test
    void spanAndLevelWritten_leaveACountAlone() {
        Trial trial = run("""
                core 0
                        set   r1, 1
                        write mode0, r1
                        write span0, r1
                        write level0, r1
                        pause 2
                        halt
                """);

        assertThat(trial.tally(0, 0)).containsExactly(0, 0, 0, 1, 2, 3, 4);
    }

    @Test
    void modeChanged_keepsTheValueReached() {
        // cycles from 2 to 4 (values 0, 1, 2), then off from 5: 3.
        Trial trial = run("""
                core 0
                        set   r1, 1
                        write mode0, r1
                        nop
                        set   r1, 0
                        write mode0, r1
                        pause 2
                        halt
                """);

        assertThat(trial.tally(0, 0)).containsExactly(0, 0, 0, 1, 2, 3, 3, 3);
    }

    @Test
    void highChangedToLow_inTheMiddleOfALevel_countsEachToItsEnd() {
        // High in force in 2..4 with the pin high from 0: 1, 2, 3 at 3, 4, 5; then low: no more, until the pin falls at
        // 7.
        Trial trial = run(design(), inputs(input(3, 0, 1, 7, 0)), """
                core 0
                        set   r1, 0x304
                        write mode0, r1
                        nop
                        set   r1, 0x305
                        write mode0, r1
                        pause 4
                        halt
                """);

        assertThat(trial.tally(0, 0)).containsExactly(0, 0, 0, 1, 2, 3, 3, 3, 4, 5);
    }

    @Test
    void edgesInEveryCycle_areAllCounted() {
        // High in every other cycle from 3 on: rises at 3, 5, 7, 9.
        Trial trial = run(design(), inputs(new Input.Square(3, 3, 2, 1, Input.NEVER)), COUNT.formatted("0x302"));

        assertThat(trial.tally(0, 0)).containsExactly(0, 0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4);
    }

    @Test
    void squareWave_overALongRun_countsItsPeriods() {
        // Rises at 10, 1010, 2010 .. below 1000002.
        Trial trial = run(design(), inputs(new Input.Square(3, 10, 1000, 400, Input.NEVER)), """
                core 0
                        set   r1, 0x302
                        write mode0, r1
                        set   r1, 0x304
                        write mode1, r1
                        until 65000
                        read  r2, tally0
                        read  r3, tally1
                        halt
                """);

        // Up to 65000: rises at 10 + 1000 k with k = 0 .. 64, all 65 of them counted by then; high 400 cycles each.
        assertThat(trial.register(0, 2)).isEqualTo(65);
        assertThat(trial.register(0, 3)).isEqualTo(65 * 400);
    }

    @Test
    void count_beyond32Bits_wraps() {
        Trial trial = run("""
                core 0
                        set   r1, -2
                        write tally0, r1
                        set   r1, 1
                        write mode0, r1
                        pause 3
                        halt
                """);

        assertThat(trial.tally(0, 0)).containsExactly(0, 0, -2, -2, -2, -1, 0, 1);
    }

    @Test
    void readTally_givesTheValueAtItsFirstCycle() {
        // In force from 2 * 3; reads start at 6 and 9, values 0 and 3.
        Trial trial = run(design().plain(3), """
                core 0
                        set   r1, 1
                        write mode0, r1
                        read  r2, tally0
                        read  r3, tally0
                        halt
                """);

        assertThat(trial.register(0, 2)).isZero();
        assertThat(trial.register(0, 3)).isEqualTo(3);
    }

    // ---- pulses ----

    /** Drives pin 0 and is in pulse mode, with this value, span and level, from 13 on. */
    private static final String PULSE = """
            core 0
                    big   r1, %d
                    write tally0, r1
                    big   r1, %d
                    write span0, r1
                    big   r1, %d
                    write level0, r1
                    set   r1, 1
                    write drive, r1
                    set   r1, 6
                    write mode0, r1
                    pause %d
                    halt
            """;

    private Trial pulse(int value, int span, int level, int cycles) {
        // big 2, write, big 2, write, big 2, write, set, write, set, write: the mode is in force from 13.
        return run(PULSE.formatted(value, span, level, cycles - 1));
    }

    private static String from13(String wave) {
        return wave.substring(13);
    }

    @Test
    void pulse_highWhileBelowTheLevel_overAndOver() {
        Trial trial = pulse(0, 4, 1, 10);

        assertThat(trial.tally(0, 0).subList(13, 23)).containsExactly(0, 1, 2, 3, 0, 1, 2, 3, 0, 1);
        assertThat(from13(trial.pin(0))).isEqualTo("1000100010");
    }

    @Test
    void pulse_level3OfSpan5_isHighFor3Of5() {
        assertThat(from13(pulse(0, 5, 3, 12).pin(0))).isEqualTo("111001110011");
    }

    @ParameterizedTest
    @ValueSource(ints = {0, 1})
    void pulse_ofSpan0Or1_staysAt0(int span) {
        Trial trial = pulse(0, span, 1, 5);

        assertThat(trial.tally(0, 0)).containsOnly(0);
        assertThat(from13(trial.pin(0))).isEqualTo("11111");
    }

    @Test
    void pulse_ofLevel0_isNeverHigh() {
        assertThat(from13(pulse(0, 4, 0, 9).pin(0))).isEqualTo("000000000");
    }

    @ParameterizedTest
    @ValueSource(ints = {4, 5, -1})
    void pulse_ofALevelNotBelowTheSpan_isAlwaysHigh(int level) {
        assertThat(from13(pulse(0, 4, level, 9).pin(0))).isEqualTo("111111111");
    }

    @ParameterizedTest
    @CsvSource({
        // The value at 13, 14, 15, 16 of a span of 3.
        "2, 2 0 1 2",
        "3, 3 0 1 2",
        "4, 4 0 1 2",
        "-1, -1 0 1 2",
        "-2, -2 0 1 2",
        "1, 1 2 0 1",
    })
    void pulse_fromAValueNotBelowTheSpan_isAt0OneCycleLater(int value, String then) {
        List<Integer> seen = pulse(value, 3, 1, 4).tally(0, 0).subList(13, 17);

        assertThat(seen)
                .containsExactlyElementsOf(
                        Arrays.stream(then.split(" ")).map(Integer::valueOf).toList());
    }

    @Test
    void pulse_fromAValueAboveTheSpan_comparesItWithTheLevelAllTheSame() {
        // 7 is below the level 9: high; then 0, 1, 2 are.
        assertThat(from13(pulse(7, 3, 9, 4).pin(0))).isEqualTo("1111");
        // 7 is not below 2: low; then 0 and 1 are.
        assertThat(from13(pulse(7, 3, 2, 4).pin(0))).isEqualTo("0110");
    }

    @Test
    void pulse_spanAndLevel_areUnsigned() {
        // Span 2^32 - 1: from 2^32 - 3 it goes to 2^32 - 2 and then, v + 1 being the span, to 0.
        Trial trial = pulse(-3, -1, -2, 4);

        assertThat(trial.tally(0, 0).subList(13, 17)).containsExactly(-3, -2, 0, 1);
        // 2^32 - 3 is below the level 2^32 - 2; 2^32 - 2 is not.
        assertThat(from13(trial.pin(0))).isEqualTo("1011");
    }

    @Test
    void pulse_onAPinThatItsCoreDoesNotDrive_doesNotShow() {
        Trial trial = run("""
                core 0
                        set   r1, 4
                        write span0, r1
                        set   r1, 2
                        write level0, r1
                        set   r1, 0x106
                        write mode0, r1
                        set   r1, 1
                        write drive, r1
                        pause 6
                        halt
                """);

        assertThat(trial.pin(1)).doesNotContain("1");
        assertThat(trial.pin(0)).doesNotContain("1");
        // It runs all the same, from 6 on.
        assertThat(trial.tally(0, 0).subList(6, 12)).containsExactly(0, 1, 2, 3, 0, 1);
    }

    @Test
    void pulse_andTheLatch_areOneDrivingValue() {
        // The latch holds 1: with a pulse at 0 the pin is high still, and nothing clashes.
        Trial trial = run("""
                core 0
                        set   r1, 1
                        write out, r1
                        write drive, r1
                        write level0, r1
                        set   r1, 3
                        write span0, r1
                        set   r1, 6
                        write mode0, r1
                        pause 7
                        halt
                """);

        assertThat(trial.pin(0)).isEqualTo("000" + "1111111111111");
        assertThat(trial.report().clashCycles()).isZero();
    }

    @Test
    void pulsesOfBothTallies_onOnePin_add() {
        // Span 4: tally 0 is high at values 0; tally 1 starts 2 cycles later, high at its 0.
        Trial trial = run("""
                core 0
                        set   r1, 1
                        write drive, r1
                        write level0, r1
                        write level1, r1
                        set   r1, 4
                        write span0, r1
                        write span1, r1
                        set   r1, 6
                        write mode0, r1
                        nop
                        write mode1, r1
                        pause 8
                        halt
                """);

        // In force from 9 and from 11.
        assertThat(trial.pin(0).substring(9)).isEqualTo("10101010" + "101");
        assertThat(trial.report().clashCycles()).isZero();
    }

    @Test
    void pulsesOfTwoCores_thatDiffer_clash() {
        Trial trial = run("""
                core 0, 1
                        set   r1, 1
                        write drive, r1
                        read  r2, core
                        add   r2, r2, 1
                        write level0, r2
                        set   r1, 3
                        write span0, r1
                        set   r1, 6
                        write mode0, r1
                        pause 5
                        halt
                """);

        // In force from 9: core 0 puts out 100100, core 1 110110.
        assertThat(trial.pin(0).substring(9)).isEqualTo("110110");
        assertThat(trial.clash(0).substring(9)).isEqualTo("010010");
        assertThat(trial.core(0).clashes()).isEqualTo(2);
    }

    @Test
    void pulse_againstTheOutside_clashesWhereTheyDiffer() {
        Trial trial = run(design(), inputs(input(0, 0, 1)), PULSE.formatted(0, 3, 1, 5));

        // Driven low from 11 on, pulses from 13: 100100 against high.
        assertThat(trial.clash(0)).isEqualTo("0000000000011" + "011011");
    }

    @Test
    void pulse_levelWrittenMeanwhile_holdsFromTheNextCycle() {
        // Span 8, level 2, from 9 on; the level becomes 6 with the write in 12: value 4 at 13 is below it.
        Trial trial = run("""
                core 0
                        set   r1, 1
                        write drive, r1
                        set   r1, 8
                        write span0, r1
                        set   r1, 2
                        write level0, r1
                        nop
                        set   r1, 6
                        write mode0, r1
                        nop
                        nop
                        nop
                        write level0, r1
                        pause 8
                        halt
                """);

        // Values from 9: 0 1 2 3, then with the new level 4 5 6 7 0 1 2 3 4.
        assertThat(trial.pin(0).substring(9)).isEqualTo("1100" + "110011111");
    }

    @Test
    void pulse_valueWrittenMeanwhile_goesOnFromThere() {
        // Mode from 8 on with span 8 and level 2; the value becomes 7 at 10.
        Trial trial = run("""
                core 0
                        set   r1, 1
                        write drive, r1
                        set   r1, 8
                        write span0, r1
                        set   r1, 2
                        write level0, r1
                        set   r1, 6
                        write mode0, r1
                        set   r1, 7
                        write tally0, r1
                        pause 4
                        halt
                """);

        assertThat(trial.tally(0, 0).subList(8, 15)).containsExactly(0, 1, 7, 0, 1, 2, 3);
        assertThat(trial.pin(0).substring(8)).isEqualTo("1101100");
    }

    @Test
    void pulse_turnedOff_leavesThePinToTheLatch() {
        Trial trial = run("""
                core 0
                        set   r1, 1
                        write drive, r1
                        write level0, r1
                        write span0, r1
                        set   r1, 6
                        write mode0, r1
                        nop
                        set   r1, 0
                        write mode0, r1
                        pause 2
                        halt
                """);

        // High from 6 to 8.
        assertThat(trial.pin(0)).isEqualTo("000000" + "111" + "000");
    }

    // ---- the end of a core ----

    @Test
    void haltedCore_itsTalliesAre0() {
        Trial trial = run("""
                core 0
                        set   r1, 1
                        write mode0, r1
                        set   r1, 9
                        write tally1, r1
                        write span1, r1
                        write level1, r1
                        halt
                core 1
                        pause 9
                        halt
                """);

        // halt in 6; idle from 7.
        assertThat(trial.tally(0, 0)).containsExactly(0, 0, 0, 1, 2, 3, 4, 0, 0, 0);
        assertThat(trial.tally(0, 1)).containsExactly(0, 0, 0, 0, 9, 9, 9, 0, 0, 0);
    }

    @Test
    void restartedCore_itsTalliesAreOff() {
        Trial trial = run(ownPort(), """
                core 0
                        set   r1, 1
                        pause 20
                        set   r2, helper
                        start r1, r2, r3
                        halt
                core 1
                        set   r1, 6
                        write mode0, r1
                        write span0, r1
                        write level0, r1
                        halt
                image helper
                        read  r4, mode0
                        read  r5, span0
                        read  r6, level0
                        read  r7, tally0
                        halt
                """);

        assertThat(trial.core(1).registers().subList(4, 8)).containsExactly(0, 0, 0, 0);
    }

    @Test
    void coreInALateFault_pulsesThroughItsFirstCycle() {
        // Pulses from 6 on, in fault from 8: the pin is high through 8.
        Trial trial = run("""
                core 0
                        set   r1, 1
                        write drive, r1
                        write level0, r1
                        write span0, r1
                        set   r1, 6
                        write mode0, r1
                        nop
                        nop
                        word  5
                core 1
                        pause 10
                        halt
                """);

        assertThat(trial.fault(0).cycle()).isEqualTo(8);
        assertThat(trial.pin(0)).isEqualTo("000000" + "111" + "00");
    }
}
