package octurn.machine;

import static octurn.machine.TestDesign.design;
import static octurn.machine.TestDesign.ownPort;
import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The instructions that let a core sleep. */
class PauseUntilAwaitTest extends ChipTest {

    // ---- pause ----

    @ParameterizedTest
    @ValueSource(strings = {"-5", "0", "1", "2", "3", "-65536", "r1"})
    void pause_ofNoMoreThanThePlainTime_takesThePlainTime(String cycles) {
        Trial trial = run(design().plain(3), """
                core 0
                        pause %s
                        halt
                """.formatted(cycles));

        assertThat(trial.lane(0)).isEqualTo("work 6");
    }

    @Test
    void pause_ofMore_sleepsForTheRest() {
        Trial trial = run(design().plain(3), """
                core 0
                        pause 10
                        halt
                """);

        assertThat(trial.lane(0)).isEqualTo("work 3, sleep 7, work 3");
    }

    @Test
    void pause_of1MoreThanPlain_sleeps1Cycle() {
        Trial trial = run("""
                core 0
                        pause 2
                        halt
                """);

        assertThat(trial.lane(0)).isEqualTo("work 1, sleep 1, work 1");
    }

    @Test
    void pause_ofARegister_isSigned() {
        // 2^32 - 1 is -1: no pause.
        Trial trial = run("""
                core 0
                        set   r1, -1
                        pause r1
                        set   r1, 4
                        pause r1
                        halt
                """);

        assertThat(trial.lane(0)).isEqualTo("work 4, sleep 3, work 1");
    }

    @Test
    void pause_ofTheGreatestNumber_sleepsThatLong() {
        Trial trial = run(design(), limit(1L << 32), """
                core 0
                        big   r1, 0x7FFFFFFF
                        pause r1
                        halt
                """);

        assertThat(trial.cycles()).isEqualTo(2 + 0x7FFFFFFFL + 1);
        assertThat(trial.core(0).states()).containsEntry(State.SLEEP, 0x7FFFFFFEL);
    }

    // ---- until ----

    @Test
    void until_aLaterTime_theNextInstructionStartsThen() {
        // Work in 0, asleep from 1 to 9, halt in 10.
        Trial trial = run("""
                core 0
                        until 10
                        halt
                """);

        assertThat(trial.lane(0)).isEqualTo("work 1, sleep 9, work 1");
    }

    @ParameterizedTest
    @CsvSource({"5, 1", "4, 0", "3, 0", "0, 0", "-1, 0", "7, 3"})
    void until_aTimeNotAfterItsWork_goesOnAtOnce(int time, int sleep) {
        // nop 0..1, until works in 2..3, u = 4, halt.
        Trial trial = run(design().plain(2), """
                core 0
                        nop
                        until %d
                        halt
                """.formatted(time));

        assertThat(trial.core(0).states()).containsEntry(State.SLEEP, (long) sleep);
        assertThat(trial.cycles()).isEqualTo(6 + sleep);
    }

    @Test
    void until_aRegister_isReadAtItsStart() {
        Trial trial = run("""
                core 0
                        set   r1, 20
                        until r1
                        read  r2, time
                        halt
                """);

        assertThat(trial.register(0, 2)).isEqualTo(20);
    }

    @Test
    void until_atATime2To31Ahead_isThePast() {
        // u = 3, b - u = 2^31 as a signed number is negative: no sleep.
        Trial trial = run("""
                core 0
                        big   r1, 0x80000003
                        until r1
                        halt
                """);

        assertThat(trial.cycles()).isEqualTo(4);
    }

    @Test
    void until_atATime2To31Less1Ahead_sleepsSoLong() {
        // u = 3, b - u = 2^31 - 1.
        Trial trial = run(design(), limit(1L << 33), """
                core 0
                        big   r1, 0x80000002
                        until r1
                        read  r2, time
                        halt
                """);

        assertThat(trial.register(0, 2)).isEqualTo(0x80000002);
        assertThat(trial.cycles()).isEqualTo(0x80000002L + 2);
    }

    @Test
    void until_acrossTheWrapOfTime_sleepsToTheNextRound() {
        // At 2^32 the clock starts again; until 100 then means 2^32 + 100.
        Trial trial = run(design(), limit(1L << 33), """
                core 0
                        big   r1, 0x7FFFFFFF
                        until r1
                        big   r1, 0xFFFFFFF0
                        until r1
                        until 100
                        read  r2, time
                        halt
                """);

        assertThat(trial.register(0, 2)).isEqualTo(100);
        assertThat(trial.cycles()).isEqualTo((1L << 32) + 102);
    }

    @Test
    void until_inALoop_keepsAnExactBeat() {
        // Every 50 cycles, whatever the loop itself costs.
        Trial trial = run("""
                core 0
                        set   r1, 50
                        set   r2, 4
                beat:   until r1
                        read  r3, time
                        add   r1, r1, 50
                        mul   r4, r4, r4
                        again r2, beat
                        halt
                """);

        assertThat(trial.register(0, 3)).isEqualTo(200);
    }

    // ---- await ----

    @Test
    void await_conditionTrueAfterItsWork_doesNotSleep() {
        Trial trial = run(design().plain(2), """
                core 0
                        await r1, 0
                        halt
                """);

        assertThat(trial.lane(0)).isEqualTo("work 4");
    }

    @Test
    void await_conditionFalse_sleepsToTheFirstCycleAtWhichItHolds() {
        // set in 0, work in 1, asleep from 2; the pin rises at 7: halt in 7.
        Trial trial = run(design(), inputs(input(2, 7, 1)), """
                core 0
                        set   r1, 4
                        await r1, 4
                        halt
                """);

        assertThat(trial.lane(0)).isEqualTo("work 2, sleep 5, work 1");
    }

    @Test
    void await_conditionTrueOnlyDuringItsWork_isMissed() {
        // The pin is high in 1 alone, while the await works (1..2); then from 8 on.
        Trial trial = run(design().plain(2), inputs(input(0, 3, 1, 4, 0, 12, 1)), """
                core 0
                        set   r1, 1
                        await r1, 1
                        halt
                """);

        // set 0..1, work 2..3, looks from 4 on.
        assertThat(trial.lane(0)).isEqualTo("work 4, sleep 8, work 2");
    }

    @Test
    void await_conditionTrueExactlyAfterItsWork_isSeen() {
        Trial trial = run(design().plain(2), inputs(input(0, 4, 1, 5, 0)), """
                core 0
                        set   r1, 1
                        await r1, 1
                        halt
                """);

        assertThat(trial.lane(0)).isEqualTo("work 6");
    }

    @Test
    void await_oneCycleOfTruth_isEnough() {
        Trial trial = run(design(), inputs(input(0, 9, 1, 10, 0)), """
                core 0
                        set   r1, 1
                        await r1, 1
                        read  r2, pins
                        read  r3, pins
                        halt
                """);

        assertThat(trial.register(0, 2)).isEqualTo(1);
        assertThat(trial.register(0, 3)).isZero();
    }

    @Test
    void await_maskAndValue_lookAtTheseBitsAlone() {
        // Of pins 0..2 pin 1 does not matter: 101 or 111 at 9, not 001 at 3.
        Trial trial = run(design(), inputs(input(0, 3, 1), input(1, 5, 1), input(2, 9, 1)), """
                core 0
                        set   r1, 0b101
                        set   r2, 0b101
                        await r1, r2
                        read  r3, pins
                        halt
                """);

        assertThat(trial.core(0).states()).containsEntry(State.SLEEP, 6L);
        assertThat(trial.register(0, 3)).isEqualTo(0b111);
    }

    @Test
    void await_aPinThatAnotherCoreDrives_wakesWhenItShows() {
        // Core 1: set 0, drive 1, nop 2, out works in 3 and shows from 4.
        Trial trial = run("""
                core 0
                        set   r1, 1
                        await r1, 1
                        halt
                core 1
                        set   r1, 1
                        write drive, r1
                        nop
                        write out, r1
                        pause 3
                        halt
                """);

        assertThat(trial.lane(0)).isEqualTo("work 2, sleep 2, work 1, idle 3");
    }

    @Test
    void await_aPulse_wakesAtItsEdge() {
        // Core 1's pulse train (span 8, level 2) is in force from 9; core 0 waits for high, then for low.
        Trial trial = run("""
                core 0
                        set   r1, 1
                        await r1, 1
                        read  r2, time
                        await r1, 0
                        read  r3, time
                        await r1, 1
                        read  r4, time
                        halt
                core 1
                        set   r1, 1
                        write drive, r1
                        set   r2, 8
                        write span0, r2
                        set   r2, 2
                        write level0, r2
                        set   r2, 6
                        nop
                        write mode0, r2
                        pause 30
                        halt
                """);

        assertThat(trial.core(0).registers().subList(2, 5)).containsExactly(9, 11, 17);
    }

    @Test
    void await_stoppedJustBeforeItsConditionHolds_hasNotFinished() {
        // The stop: set 0, work 1, slot 2..4: core 1 is idle from 5, when the pin rises.
        Trial trial = run(ownPort(), inputs(input(0, 5, 1)), """
                core 0
                        set   r1, 1
                        stop  r1
                        halt
                core 1
                        set   r1, 1
                        await r1, 1
                        halt
                """);

        assertThat(trial.core(1).pc()).isEqualTo(1);
        assertThat(trial.core(1).instructions()).isEqualTo(1);
    }

    @Test
    void await_stoppedOneCycleAfterItsConditionHeld_hasFinished() {
        Trial trial = run(ownPort(), inputs(input(0, 4, 1)), """
                core 0
                        set   r1, 1
                        stop  r1
                        halt
                core 1
                        set   r1, 1
                        await r1, 1
                        pause 9
                """);

        assertThat(trial.core(1).pc()).isEqualTo(2);
        assertThat(trial.core(1).instructions()).isEqualTo(2);
    }

    @Test
    void await_inSharedCode_fetchesTheNextInstructionAfterwards() {
        // far 0..1, slot 2..4, work 5, asleep to 9, code of halt 10..12, halt 13.
        Trial trial = run(ownPort(), inputs(input(0, 0, 1, 10, 0)), """
                core 0
                        set   r1, 1
                        far   there
                shared
                there:  await r1, 0
                        halt
                """);

        assertThat(trial.lane(0)).isEqualTo("work 3, codeSlot 3, work 1, sleep 3, codeSlot 3, work 1");
    }
}
