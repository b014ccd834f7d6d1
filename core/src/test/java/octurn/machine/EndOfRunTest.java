package octurn.machine;

import static octurn.machine.TestDesign.design;
import static octurn.machine.TestDesign.ownPort;
import static octurn.machine.TestDesign.rotation;
import static octurn.machine.TestDesign.under;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import java.util.OptionalLong;
import octurn.design.Admission;
import octurn.design.Input;
import octurn.design.Scenario;
import octurn.run.Run;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** When a run ends, why, and what the report shows of its last moment. */
class EndOfRunTest extends ChipTest {

    private static void assertEnd(Trial trial, End reason, long cycles) {
        assertThat(trial.ended()).isEqualTo(reason);
        assertThat(trial.cycles()).isEqualTo(cycles);
    }

    // ---- all-idle ----

    @Test
    void allCoresIdle_endsAtTheFirstSuchCycle() {
        // halt in 3: idle from 4.
        assertEnd(run("""
                core 0
                        pause 3
                        halt
                """), End.ALL_IDLE, 4);
    }

    @Test
    void programWithoutCores_endsAtOnce() {
        Trial trial = run("""
                shared
                        word 5
                """);

        assertEnd(trial, End.ALL_IDLE, 0);
        assertThat(trial.core(0).states().values()).containsOnly(0L);
        assertThat(trial.report().shared()).containsEntry(0, 5);
    }

    @Test
    void allCoresIdleOrInFault_endAllIdle() {
        // halt in 0; in fault from 2.
        assertEnd(run("""
                core 0
                        halt
                core 1
                        nop
                        div   r1, r1, 0
                """), End.ALL_IDLE, 2);
    }

    @Test
    void lateFaultOfTheLastCore_endsInItsFirstCycle() {
        Trial trial = run("""
                core 0
                        nop
                        word  5
                """);

        assertEnd(trial, End.ALL_IDLE, 1);
        assertThat(trial.fault(0).cycle()).isEqualTo(1);
        assertThat(trial.core(0).states()).containsEntry(State.FAULT, 0L);
        assertThat(trial.core(0).state()).isEqualTo(State.FAULT);
    }

    @Test
    void everyCoreInFaultAt0_endsAtOnce() {
        assertEnd(run("""
                core 0
                        word  5
                """), End.ALL_IDLE, 0);
    }

    @Test
    void coreStartedByTheLastOne_keepsTheRunGoing() {
        // start: set, set, work 2, slot 3..5; core 0's halt in 6. Core 1: count 6..8, word 9..11, halt in 12.
        assertEnd(run(ownPort(), """
                core 0
                        set   r1, 1
                        set   r2, helper
                        start r1, r2, r3
                        halt
                image helper
                        halt
                """), End.ALL_IDLE, 13);
    }

    @Test
    void inputsStillToCome_doNotKeepIdleCoresGoing() {
        assertEnd(run(design(), inputs(input(0, 500, 1)), """
                core 0
                        halt
                """), End.ALL_IDLE, 1);
    }

    // ---- stuck ----

    @Test
    void awaitThatNothingCanEnd_isStuckFromItsFirstLook() {
        // set in 0, work in 1, looks at 2.
        Trial trial = run("""
                core 0
                        set   r1, 1
                        await r1, 1
                        halt
                """);

        assertEnd(trial, End.STUCK, 2);
        assertThat(trial.core(0).state()).isEqualTo(State.SLEEP);
        assertThat(trial.core(0).states()).containsEntry(State.SLEEP, 0L);
        assertThat(trial.core(0).pc()).isEqualTo(1);
    }

    @Test
    void awaitOfAnImpossibleValue_isStuck() {
        // (pins AND 1) is never 2.
        assertEnd(run("""
                core 0
                        set   r1, 1
                        await r1, 2
                        halt
                """), End.STUCK, 2);
    }

    @Test
    void awaitWhoseConditionHolds_isNotStuck() {
        assertEnd(run("""
                core 0
                        set   r1, 1
                        await r1, 0
                        halt
                """), End.ALL_IDLE, 3);
    }

    @Test
    void stuck_waitsForTheLastCoreThatWorks() {
        // Core 1 halts in 9.
        Trial trial = run("""
                core 0
                        set   r1, 1
                        await r1, 1
                        halt
                core 1
                        pause 9
                        halt
                """);

        assertEnd(trial, End.STUCK, 10);
        assertThat(trial.lane(0)).isEqualTo("work 2, sleep 8");
    }

    @Test
    void stuck_waitsForTheLastChangeFromOutside() {
        // Changes at 20 and 30, neither of them the awaited one: stuck at 30, for none comes after it.
        assertEnd(run(design(), inputs(input(3, 20, 1, 30, 0)), """
                core 0
                        set   r1, 1
                        await r1, 1
                        halt
                """), End.STUCK, 30);
    }

    @Test
    void stuck_levelGivenAnewWithoutChange_isNoChange() {
        // Nothing, then 0 at 20: what is given differs, though the level does not. At 30 it is given again.
        assertEnd(run(design(), inputs(input(3, 20, 0, 30, 0)), """
                core 0
                        set   r1, 1
                        await r1, 1
                        halt
                """), End.STUCK, 20);
    }

    @Test
    void stuck_endOfASquareWave_isItsLastChange() {
        // High 10 of 20 from 0 on, to 65: changes at 10, 20 .. 60 (rise), 65 (low by the end).
        assertEnd(run(design(), inputs(new Input.Square(3, 0, 20, 10, 65)), """
                core 0
                        set   r1, 1
                        await r1, 1
                        halt
                """), End.STUCK, 65);
        // To 55: the last change is the fall at 50.
        assertEnd(run(design(), inputs(new Input.Square(3, 0, 20, 10, 55)), """
                core 0
                        set   r1, 1
                        await r1, 1
                        halt
                """), End.STUCK, 50);
    }

    @Test
    void stuck_endlessSquareWave_neverIs() {
        assertEnd(run(design(), with(500, new Input.Square(3, 0, 20, 10, Input.NEVER)), """
                core 0
                        set   r1, 1
                        await r1, 1
                        halt
                """), End.LIMIT, 500);
    }

    @Test
    void stuck_endlessSquareWaveWithoutEdges_changesOnceAtItsBeginning() {
        assertEnd(run(design(), with(500, new Input.Square(3, 40, 20, 20, Input.NEVER)), """
                core 0
                        set   r1, 1
                        await r1, 1
                        halt
                """), End.STUCK, 40);
    }

    @Test
    void stuck_endOfASerialLine_isItsLastEdge() {
        // 'U' is 01010101 from its lowest bit: 1 0 1 0 1 0 1 0, then the stop bit rises at 100 + 9 * 10.
        assertEnd(run(design(), inputs(new Input.Serial(3, 100, 10, "U")), """
                core 0
                        set   r1, 1
                        await r1, 1
                        halt
                """), End.STUCK, 190);
    }

    @Test
    void stuck_pulsingTally_neverIs() {
        // Core 1 pulses and awaits too. Even a pulse that never changes counts as one that may.
        assertEnd(run(design(), limit(300), """
                core 0
                        set   r1, 1
                        await r1, 1
                        halt
                core 1
                        set   r1, 6
                        write mode1, r1
                        set   r1, 1
                        await r1, 1
                """), End.LIMIT, 300);
    }

    @Test
    void stuck_countingTally_doesNotMatter() {
        assertEnd(run(design(), limit(300), """
                core 0
                        set   r1, 1
                        write mode0, r1
                        await r1, 1
                        halt
                """), End.STUCK, 3);
    }

    @Test
    void stuck_coreInALateFaultStillDriving_delaysItByACycle() {
        // Core 1 drives from 2, in fault from 4 and drives through 4; core 0 has been asleep since 2.
        assertEnd(run("""
                core 0
                        set   r1, 2
                        await r1, 2
                        halt
                core 1
                        set   r1, 1
                        write drive, r1
                        nop
                        nop
                        word  5
                """), End.STUCK, 5);
    }

    @Test
    void stuck_coreInALateFaultThatDrivesNothing_doesNotDelayIt() {
        assertEnd(run("""
                core 0
                        set   r1, 2
                        await r1, 2
                        halt
                core 1
                        pause 4
                        word  5
                """), End.STUCK, 4);
    }

    @Test
    void awaitEndedByAFaultingCoreLettingGo_isNotStuck() {
        // Core 1 drives pin 0 high from 3, is in fault from 4, lets go at the end of 4: low at 5, and core 0 goes on.
        Trial trial = run("""
                core 0
                        pause 3
                        set   r1, 1
                        await r1, 0
                        halt
                core 1
                        set   r1, 1
                        write out, r1
                        write drive, r1
                        nop
                        word  5
                """);

        assertThat(trial.fault(1).cycle()).isEqualTo(4);
        // set in 3, work in 4, the look at 5 finds it low: halt in 5.
        assertEnd(trial, End.ALL_IDLE, 6);
    }

    @Test
    void coreWithoutASlotInTheRotation_isStuckWhenItAsks() {
        // Core 1 is up at 1; core 0 halts in 7.
        Trial trial = run(rotation(0).cores(2), """
                core 0
                        pause 7
                        halt
                core 1
                        fetch r1, [0]
                        halt
                """);

        assertEnd(trial, End.STUCK, 8);
        assertThat(trial.lane(1)).isEqualTo("work 1, wait 7");
        assertThat(trial.core(1).turnsOffered()).isZero();
        assertThat(trial.core(1).accesses()).isZero();
        assertThat(trial.waits(1)).isEmpty();
    }

    @Test
    void coreWithoutASlot_waitingForCodeOrAnImage_isStuckToo() {
        assertEnd(run(rotation(0).cores(2), """
                core 1
                        far   there
                shared
                there:  halt
                """), End.STUCK, 2);
        // Order of core 0 alone: the start is up at 3 and in at once, to 5; core 1 loads from 6; core 0 halts in 6.
        Trial trial = run(rotation(0).cores(2), """
                core 0
                        set   r1, 1
                        set   r2, helper
                        start r1, r2, r3
                        halt
                image helper
                        halt
                """);
        assertEnd(trial, End.STUCK, 7);
        assertThat(trial.lane(1)).isEqualTo("idle 6, loadWait 1");
    }

    @Test
    void coreWithoutASlotAndACoreAsleep_areStuckTogether() {
        assertEnd(run(rotation(0, 2).cores(3), """
                core 0
                        set   r1, 1
                        await r1, 1
                core 1
                        pause 5
                        fetch r1, [0]
                        halt
                """), End.STUCK, 6);
    }

    @Test
    void coreThatWaitsForItsSlot_isNotStuck() {
        assertEnd(run("""
                core 0
                        fetch r1, [0]
                        halt
                core 1
                        set   r1, 1
                        await r1, 1
                """), End.STUCK, 28);
    }

    @Test
    void coreAsleepInAPauseOrUntil_isNotStuck() {
        assertEnd(run("""
                core 0
                        pause 100
                        until 200
                        halt
                core 1
                        set   r1, 1
                        await r1, 1
                """), End.STUCK, 201);
    }

    @Test
    void coreInFaultAndACoreAsleep_areStuck() {
        Trial trial = run("""
                core 0
                        div   r1, r1, 0
                core 1
                        set   r1, 1
                        await r1, 1
                """);

        assertEnd(trial, End.STUCK, 2);
        assertThat(trial.fault(0)).isNotNull();
    }

    @Test
    void levelFromOutsideOnADrivenPin_stillCountsAsAChange() {
        // The pin is driven low by core 1, so the change at 40 does not show; it is a change all the same.
        assertEnd(run(design(), inputs(input(0, 40, 1)), """
                core 1
                        set   r1, 1
                        write drive, r1
                        await r1, 1
                """), End.STUCK, 40);
    }

    // ---- limit ----

    @Test
    void limit_endsAnEndlessProgram() {
        Trial trial = run(design(), limit(100), """
                core 0
                more:   jump  more
                """);

        assertEnd(trial, End.LIMIT, 100);
        assertThat(trial.core(0).instructions()).isEqualTo(50);
    }

    @ParameterizedTest
    @ValueSource(longs = {4, 5, 1000})
    void limit_atOrAfterTheEnd_isNotReached(long limit) {
        assertEnd(run(design(), limit(limit), """
                core 0
                        pause 3
                        halt
                """), End.ALL_IDLE, 4);
    }

    @Test
    void limit_beforeTheEnd_isReached() {
        Trial trial = run(design(), limit(3), """
                core 0
                        pause 3
                        halt
                """);

        assertEnd(trial, End.LIMIT, 3);
        // It would halt in 3.
        assertThat(trial.core(0).state()).isEqualTo(State.WORK);
        assertThat(trial.core(0).pc()).isEqualTo(1);
        assertThat(trial.core(0).instructions()).isEqualTo(1);
    }

    @Test
    void stuckAtTheLimit_isStuck() {
        assertEnd(run(design(), limit(2), """
                core 0
                        set   r1, 1
                        await r1, 1
                """), End.STUCK, 2);
        assertEnd(run(design(), limit(1), """
                core 0
                        set   r1, 1
                        await r1, 1
                """), End.LIMIT, 1);
    }

    @Test
    void lastCoreInFaultAtTheLimit_isAllIdle() {
        Trial trial = run(design(), limit(2), """
                core 0
                        pause 2
                        word  5
                """);

        assertEnd(trial, End.ALL_IDLE, 2);
        assertThat(trial.fault(0).cycle()).isEqualTo(2);
    }

    @Test
    void oneCoreInFaultAtTheLimit_isShown() {
        Trial trial = run(design(), limit(2), """
                core 0
                        pause 2
                        word  5
                core 1
                        pause 9
                        halt
                """);

        assertEnd(trial, End.LIMIT, 2);
        assertThat(trial.core(0).state()).isEqualTo(State.FAULT);
        assertThat(trial.fault(0).cycle()).isEqualTo(2);
        assertThat(trial.core(0).states()).containsEntry(State.FAULT, 0L);
    }

    @Test
    void admissionAtTheLimit_isShownButNotCounted() {
        // Core 1 is up at 1 and in at 3, which is the limit.
        Trial trial = run(design(), limit(3), """
                core 1
                        fetch r1, [0]
                        halt
                """);

        assertEnd(trial, End.LIMIT, 3);
        assertThat(trial.core(1).state()).isEqualTo(State.SLOT);
        assertThat(trial.lane(1)).isEqualTo("work 1, wait 2");
        assertThat(trial.core(1).accesses()).isZero();
        assertThat(trial.core(1).waits().histogram()).isEmpty();
        assertThat(trial.core(1).waits().min()).isEqualTo(-1);
        assertThat(trial.core(1).turnsUsed()).isZero();
        assertThat(trial.core(1).turnsOffered()).isZero();
        assertThat(trial.report().hotSpots()).isEmpty();
        assertThat(trial.report().busyCycles()).isZero();
    }

    @Test
    void admissionInTheLastCycle_isCounted() {
        Trial trial = run(design(), limit(4), """
                core 1
                        fetch r1, [0]
                        halt
                """);

        assertThat(trial.core(1).accesses()).isEqualTo(1);
        assertThat(trial.core(1).waits().total()).isEqualTo(2);
        assertThat(trial.core(1).turnsUsed()).isEqualTo(1);
        assertThat(trial.core(1).turnsOffered()).isEqualTo(1);
        assertThat(trial.report().busyCycles()).isEqualTo(1);
        assertThat(trial.core(1).instructions()).isZero();
    }

    @Test
    void requestRaisedAndAdmittedAtTheLimit_isShownAsASlot() {
        Trial trial = run(under(new Admission.NextWaiting()), limit(1), """
                core 0, 1
                        fetch r1, [0]
                        halt
                """);

        assertThat(trial.core(0).state()).isEqualTo(State.SLOT);
        assertThat(trial.core(1).state()).isEqualTo(State.WAIT);
        assertThat(trial.core(0).accesses()).isZero();
    }

    @Test
    void codeAdmittedAtTheLimit_isShownAsACodeSlot() {
        Trial trial = run(ownPort(), limit(2), """
                core 0
                        far   there
                shared
                there:  halt
                """);

        assertThat(trial.core(0).state()).isEqualTo(State.CODE_SLOT);
        assertThat(trial.core(0).pcInShared()).isTrue();
        assertThat(trial.core(0).instructions()).isEqualTo(1);
    }

    @Test
    void awaitWhoseConditionComesTrueAtTheLimit_hasFinished() {
        Trial trial = run(design(), with(8, input(0, 8, 1)), """
                core 0
                        set   r1, 1
                        await r1, 1
                        halt
                """);

        assertEnd(trial, End.LIMIT, 8);
        assertThat(trial.core(0).pc()).isEqualTo(2);
        assertThat(trial.core(0).instructions()).isEqualTo(2);
        assertThat(trial.core(0).state()).isEqualTo(State.WORK);
        assertThat(trial.lane(0)).isEqualTo("work 2, sleep 6");
    }

    @Test
    void awaitInSharedCode_comingTrueAtTheLimit_showsTheCodeRequest() {
        // far 0..1 after set: code 3..5, work 6, asleep from 7; at 9 the condition holds.
        Trial trial =
                run(design().cores(1).admission(new Admission.Rotation(List.of(0))), with(9, input(0, 9, 1)), """
                core 0
                        set   r1, 1
                        far   there
                shared
                there:  await r1, 1
                        halt
                """);

        // The slot of the only core starts at 9: shown as admitted.
        assertThat(trial.core(0).state()).isEqualTo(State.CODE_SLOT);
        assertThat(trial.core(0).pc()).isEqualTo(1);
        assertThat(trial.core(0).turnsUsed()).isEqualTo(1);
    }

    @ParameterizedTest
    @ValueSource(longs = {0, -1, (1L << 53)})
    void limit_outOfRange_isRefused(long limit) {
        Trial trial = run("core 0\n halt\n");

        assertThatThrownBy(() -> Run.of(trial.program(), Scenario.QUIET, limit))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("limit: " + limit + ", not 1..9007199254740991");
    }

    @Test
    void limit_atItsGreatest_isTaken() {
        assertThat(Run.of(run("core 0\n halt\n").program(), Scenario.QUIET, (1L << 53) - 1)
                        .limit())
                .isEqualTo((1L << 53) - 1);
    }

    // ---- after the end ----

    @Test
    void runBeyondTheEnd_changesNothing() {
        Trial trial = run("core 0\n pause 3\n halt\n");
        Run run = trial.start();
        run.runTo(1000);
        assertThat(run.isOver()).isTrue();
        assertThat(run.chip().cycle()).isEqualTo(4);
        run.runTo(2000);
        run.finish();

        assertThat(run.chip().cycle()).isEqualTo(4);
        assertThat(run.chip().ended()).isEqualTo(End.ALL_IDLE);
    }

    @Test
    void runTo_aCycleThatIsPast_changesNothing() {
        Run run = run("core 0\n pause 30\n halt\n").start();
        run.runTo(20);
        run.runTo(10);

        assertThat(run.chip().cycle()).isEqualTo(20);
        assertThat(run.isOver()).isFalse();
        assertThat(run.chip().ended()).isNull();
    }

    private static Scenario with(long limit, Input... inputs) {
        return new Scenario(OptionalLong.of(limit), List.of(inputs));
    }
}
