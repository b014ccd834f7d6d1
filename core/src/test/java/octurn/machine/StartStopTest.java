package octurn.machine;

import static octurn.machine.TestDesign.design;
import static octurn.machine.TestDesign.ownPort;
import static octurn.machine.TestDesign.under;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import octurn.design.Admission;
import org.junit.jupiter.api.Test;

/** Starting and stopping cores. Without contention unless a test says otherwise: an access takes 1 + 3 cycles. */
class StartStopTest extends ChipTest {

    // ---- start ----

    @Test
    void start_minus1_choosesTheLowestIdleCore() {
        // Cores 0 and 1 are busy, 2 is the first idle one.
        Trial trial = run(ownPort(), """
                core 0
                        set   r1, -1
                        set   r2, helper
                        start r1, r2, r3
                        halt
                core 1
                        pause 30
                        halt
                image helper
                        set   r4, 4
                        halt
                """);

        assertThat(trial.register(0, 1)).isEqualTo(2);
        assertThat(trial.register(2, 4)).isEqualTo(4);
        assertThat(trial.register(3, 4)).isZero();
    }

    @Test
    void start_namedIdleCore_isChosen() {
        Trial trial = run(ownPort(), """
                core 0
                        set   r1, 5
                        set   r2, helper
                        start r1, r2, r3
                        halt
                image helper
                        set   r4, 4
                        halt
                """);

        assertThat(trial.register(0, 1)).isEqualTo(5);
        assertThat(trial.register(5, 4)).isEqualTo(4);
    }

    @Test
    void start_namedBusyCore_givesMinus1AndDoesNothing() {
        Trial trial = run(ownPort(), """
                core 0
                        set   r1, 1
                        set   r2, helper
                        start r1, r2, r3
                        halt
                core 1
                        set   r4, 1
                        pause 30
                        halt
                image helper
                        set   r4, 4
                        halt
                """);

        assertThat(trial.register(0, 1)).isEqualTo(-1);
        assertThat(trial.register(1, 4)).isEqualTo(1);
        assertThat(trial.lane(1)).isEqualTo("work 2, sleep 29, work 1");
    }

    @Test
    void start_itsOwnCore_givesMinus1() {
        Trial trial = run(ownPort(), """
                core 0
                        start r0, r1, r2
                        halt
                """);

        assertThat(trial.register(0, 0)).isEqualTo(-1);
    }

    @Test
    void start_minus1WithNoneIdle_givesMinus1() {
        Trial trial = run(ownPort().cores(2), """
                core 0
                        set   r1, -1
                        start r1, r2, r3
                        halt
                core 1
                        pause 30
                        halt
                """);

        assertThat(trial.register(0, 1)).isEqualTo(-1);
        assertThat(trial.lane(0)).startsWith("work 2, slot 3, work 1");
    }

    @Test
    void start_coreInFault_isNotIdle() {
        Trial trial = run(ownPort().cores(2), """
                core 0
                        set   r1, -1
                        set   r2, helper
                        start r1, r2, r3
                        halt
                core 1
                        div   r1, r2, 0
                image helper
                        halt
                """);

        assertThat(trial.register(0, 1)).isEqualTo(-1);
        assertThat(trial.core(1).state()).isEqualTo(State.FAULT);
    }

    @Test
    void start_withOneRegisterForAll_readsItBeforeItWritesIt() {
        // r1 is the core (2), the image's address (2) and the word handed over.
        Trial trial = run(ownPort(), """
                core 0
                        set   r1, 2
                        start r1, r1, r1
                        halt
                shared at 2
                        word  1
                        halt
                """);

        assertThat(trial.register(2, 1)).isEqualTo(2);
        assertThat(trial.fault(2)).isNull();
        assertThat(trial.core(2).state()).isEqualTo(State.IDLE);
    }

    @Test
    void start_coreThatHaltsInThisVeryCycle_qualifies() {
        // The start: set, set, work in 2, slot 3..5. Core 1: pause 0..4, halt in 5.
        Trial trial = run(ownPort(), """
                core 0
                        set   r1, 1
                        set   r2, helper
                        start r1, r2, r3
                        halt
                core 1
                        pause 5
                        halt
                image helper
                        set   r4, 4
                        halt
                """);

        assertThat(trial.register(0, 1)).isEqualTo(1);
        assertThat(trial.register(1, 4)).isEqualTo(4);
        assertThat(trial.lane(1)).isEqualTo("work 1, sleep 4, work 1, loadSlot 9, work 2");
    }

    @Test
    void start_coreThatHaltsOneCycleLater_doesNotQualify() {
        Trial trial = run(ownPort(), """
                core 0
                        set   r1, 1
                        set   r2, helper
                        start r1, r2, r3
                        halt
                core 1
                        pause 6
                        halt
                image helper
                        set   r4, 4
                        halt
                """);

        assertThat(trial.register(0, 1)).isEqualTo(-1);
    }

    @Test
    void start_isAnAccess_withItsOwnRow() {
        Trial trial = run(design(), """
                core 0
                        set   r1, 1
                        set   r2, helper
                        start r1, r2, r3
                        halt
                image helper
                        halt
                """);

        // Work in 2, up at 3, in at 24: 21 cycles.
        assertThat(trial.core(0).accesses()).isEqualTo(1);
        assertThat(trial.hotSpots(0)).singleElement().satisfies(spot -> {
            assertThat(spot.address()).isEqualTo(2);
            assertThat(spot.line()).isEqualTo(4);
            assertThat(spot.total()).isEqualTo(21);
        });
    }

    @Test
    void twoStartsEndingTogether_chooseInAscendingNumberOfTheirIssuers() {
        Trial trial = run(ownPort(), """
                core 3, 1
                        set   r1, -1
                        set   r2, helper
                        read  r3, core
                        start r1, r2, r3
                        halt
                image helper
                        halt
                """);

        // Cores 0, 2, 4 .. are idle: core 1 chooses first.
        assertThat(trial.register(1, 1)).isZero();
        assertThat(trial.register(3, 1)).isEqualTo(2);
        assertThat(trial.register(0, 1)).isEqualTo(1);
        assertThat(trial.register(2, 1)).isEqualTo(3);
    }

    // ---- stop ----

    @Test
    void stop_runningCore_makesItIdle() {
        // set in 0, stop works in 1, holds 2..4: core 1 is idle from 5.
        Trial trial = run(ownPort(), """
                core 0
                        set   r1, 1
                        stop  r1
                        nop
                        halt
                core 1
                        pause 100
                        halt
                """);

        assertThat(trial.lane(1)).isEqualTo("work 1, sleep 4, idle 2");
        assertThat(trial.core(1).pc()).isZero();
        assertThat(trial.core(1).instructions()).isZero();
        assertThat(trial.core(0).instructions()).isEqualTo(4);
    }

    @Test
    void stop_coreWhoseInstructionEndsInThatCycle_showsTheNextOne() {
        // Core 1's pause ends with cycle 4, the last of the stop.
        Trial trial = run(ownPort(), """
                core 0
                        set   r1, 1
                        stop  r1
                        halt
                core 1
                        pause 5
                        set   r2, 2
                        halt
                """);

        assertThat(trial.core(1).pc()).isEqualTo(1);
        assertThat(trial.core(1).instructions()).isEqualTo(1);
        assertThat(trial.register(1, 2)).isZero();
    }

    @Test
    void stop_idleCore_doesNothing() {
        Trial trial = run(ownPort(), """
                core 0
                        set   r1, 1
                        stop  r1
                        set   r2, 2
                        halt
                """);

        assertThat(trial.lane(1)).isEqualTo("idle 7");
        assertThat(trial.register(0, 2)).isEqualTo(2);
    }

    @Test
    void stop_coreInFault_makesItIdleAndItsFaultForgotten() {
        Trial trial = run(ownPort(), """
                core 0
                        set   r1, 1
                        stop  r1
                        halt
                core 1
                        set   r3, 3
                        div   r1, r2, 0
                """);

        assertThat(trial.lane(1)).isEqualTo("work 2, fault 3, idle 1");
        assertThat(trial.core(1).state()).isEqualTo(State.IDLE);
        assertThat(trial.fault(1)).isNull();
        // Registers stay, and so does the place.
        assertThat(trial.register(1, 3)).isEqualTo(3);
        assertThat(trial.core(1).pc()).isEqualTo(1);
    }

    @Test
    void stop_ofItself_endsTheCoreAtItsStop() {
        Trial trial = run(ownPort(), """
                core 2
                        read  r1, core
                        stop  r1
                        halt
                """);

        assertThat(trial.lane(2)).isEqualTo("work 2, slot 3");
        assertThat(trial.core(2).pc()).isEqualTo(1);
        assertThat(trial.core(2).state()).isEqualTo(State.IDLE);
        // The stop itself has finished.
        assertThat(trial.core(2).instructions()).isEqualTo(2);
        assertThat(trial.cycles()).isEqualTo(5);
    }

    @Test
    void stop_waitingCore_withdrawsItsRequest() {
        // Priority 0, 1, 2: core 0's stop holds 2..4 (set in 0, work in 1); core 1 is up at 3, stopped at the end of 4.
        Trial trial = run(under(new Admission.Priority(List.of(0, 1, 2))).cores(3), """
                core 0
                        set   r1, 1
                        stop  r1
                        halt
                core 1
                        nop
                        nop
                        fetch r1, [0]
                        halt
                core 2
                        pause 6
                        fetch r1, [0]
                        halt
                """);

        assertThat(trial.lane(1)).isEqualTo("work 3, wait 2, idle 6");
        assertThat(trial.core(1).accesses()).isZero();
        assertThat(trial.core(1).waits().total()).isZero();
        // Nobody else is kept waiting.
        assertThat(trial.waits(2)).containsOnlyKeys(0L);
        assertThat(trial.core(1).pc()).isEqualTo(2);
    }

    @Test
    void stop_waitingCoreUnderRotation_leavesItsSlotUnused() {
        // Order 0 1, slots of 3: core 0's at 0, 6; core 1's at 3, 9. The stop: up at 2, in at 6, ends with 8.
        // Core 1 is up at 4 and would be in at 9.
        Trial trial = run(design().cores(2), """
                core 0
                        set   r1, 1
                        stop  r1
                        halt
                core 1
                        nop
                        nop
                        nop
                        fetch r1, [0]
                        halt
                """);

        assertThat(trial.lane(1)).isEqualTo("work 4, wait 5, idle 1");
        assertThat(trial.core(1).turnsUsed()).isZero();
        assertThat(trial.core(1).turnsOffered()).isEqualTo(2);
    }

    @Test
    void stop_accessUnderWay_isGivenUpWithoutEffect() {
        // Core 1's post holds 3..5, the stop ends with 4.
        Trial trial = run(ownPort(), """
                core 0
                        set   r1, 1
                        stop  r1
                        halt
                core 1
                        set   r1, 9
                        nop
                        post  r1, [0]
                        halt
                """);

        assertThat(trial.lane(1)).isEqualTo("work 3, slot 2, idle 1");
        assertThat(trial.shared(0)).isZero();
        // It was admitted all the same.
        assertThat(trial.core(1).accesses()).isEqualTo(1);
        // The stop held 2..4.
        assertThat(trial.report().busyCycles()).isEqualTo(3);
    }

    @Test
    void stop_accessThatEndsWithIt_hasTakenEffect() {
        // Core 1's post holds 2..4 like the stop: step 1 comes before step 2.
        Trial trial = run(ownPort(), """
                core 0
                        set   r1, 1
                        stop  r1
                        halt
                core 1
                        set   r1, 9
                        post  r1, [0]
                        halt
                """);

        assertThat(trial.shared(0)).isEqualTo(9);
        assertThat(trial.core(1).pc()).isEqualTo(2);
        assertThat(trial.core(1).instructions()).isEqualTo(2);
    }

    @Test
    void stoppedCore_canBeStartedAgain() {
        Trial trial = run(ownPort(), """
                core 0
                        set   r1, 1
                        stop  r1
                        set   r2, helper
                        start r1, r2, r3
                        halt
                core 1
                        pause 1000
                        halt
                image helper
                        set   r4, 4
                        halt
                """);

        assertThat(trial.register(0, 1)).isEqualTo(1);
        assertThat(trial.register(1, 4)).isEqualTo(4);
    }

    @Test
    void stop_coreWaitingForCode_keepsItsSharedPlace() {
        // Core 1: far 0..1, code request at 2 for the slot at 3; core 0 of order 0 0 0 1: up at 2, in at 3.
        Trial trial = run(TestDesign.rotation(0, 0, 0, 1).cores(2), """
                core 0
                        set   r1, 1
                        stop  r1
                        halt
                core 1
                        far   there
                shared at 7
                there:  halt
                """);

        assertThat(trial.lane(1)).isEqualTo("work 2, codeWait 4, idle 1");
        assertThat(trial.core(1).pc()).isEqualTo(7);
        assertThat(trial.core(1).pcInShared()).isTrue();
    }

    // ---- several in one cycle, under own-port ----

    @Test
    void stopThenStartInOneCycle_findTheCoreIdle() {
        Trial trial = run(ownPort(), """
                core 0
                        set   r1, 2
                        nop
                        stop  r1
                        halt
                core 1
                        set   r1, 2
                        set   r2, helper
                        start r1, r2, r3
                        halt
                core 2
                        pause 1000
                        halt
                image helper
                        set   r4, 4
                        halt
                """);

        assertThat(trial.register(1, 1)).isEqualTo(2);
        assertThat(trial.register(2, 4)).isEqualTo(4);
        assertThat(trial.lane(2)).isEqualTo("work 1, sleep 5, loadSlot 9, work 2");
    }

    @Test
    void startThenStopInOneCycle_findTheCoreBusy() {
        // The start of core 0 comes first and finds core 2 busy; then core 1 stops it.
        Trial trial = run(ownPort(), """
                core 0
                        set   r1, 2
                        set   r2, helper
                        start r1, r2, r3
                        halt
                core 1
                        set   r1, 2
                        nop
                        stop  r1
                        halt
                core 2
                        pause 1000
                        halt
                image helper
                        halt
                """);

        assertThat(trial.register(0, 1)).isEqualTo(-1);
        assertThat(trial.lane(2)).isEqualTo("work 1, sleep 5, idle 1");
    }

    @Test
    void startThenStopOfAnIdleCoreInOneCycle_leavesItClearedAndIdle() {
        Trial trial = run(ownPort(), """
                core 0
                        set   r1, 2
                        set   r2, helper
                        set   r3, 33
                        start r1, r2, r3
                        halt
                core 1
                        set   r1, 2
                        pause 2
                        stop  r1
                        halt
                core 2
                        set   r5, 5
                        halt
                image helper
                        halt
                """);

        assertThat(trial.register(0, 1)).isEqualTo(2);
        assertThat(trial.lane(2)).isEqualTo("work 2, idle 6");
        assertThat(trial.register(2, 5)).isZero();
        assertThat(trial.register(2, 1)).isEqualTo(33);
    }

    @Test
    void twoCoresStoppingEachOther_theLowerWins() {
        // Core 1's stop is given up: its issuer was made idle earlier in the step.
        Trial trial = run(ownPort(), """
                core 0
                        set   r1, 1
                        stop  r1
                        set   r2, 2
                        halt
                core 1
                        set   r1, 0
                        stop  r1
                        halt
                """);

        assertThat(trial.register(0, 2)).isEqualTo(2);
        assertThat(trial.lane(1)).isEqualTo("work 2, slot 3, idle 2");
        assertThat(trial.core(1).pc()).isEqualTo(1);
        assertThat(trial.core(1).instructions()).isEqualTo(1);
        assertThat(trial.core(1).accesses()).isEqualTo(1);
        assertThat(trial.report().busyCycles()).isEqualTo(3);
    }

    @Test
    void startOfACoreStoppedEarlierInTheStep_isGivenUp() {
        Trial trial = run(ownPort(), """
                core 0
                        set   r1, 1
                        nop
                        stop  r1
                        halt
                core 1
                        set   r1, -1
                        set   r2, helper
                        start r1, r2, r3
                        halt
                image helper
                        halt
                """);

        // rd is not written, and no core loads.
        assertThat(trial.register(1, 1)).isEqualTo(-1);
        assertThat(trial.core(1).instructions()).isEqualTo(2);
        assertThat(trial.lane(2)).isEqualTo("idle 7");
    }

    @Test
    void stopOfAHigherIssuerWhoseStopTargetsTheLower_afterTheLowerStoppedItself_findsItIdle() {
        // Core 0 stops itself, core 1 stops core 0 in the same cycle: idle already, nothing happens.
        Trial trial = run(ownPort(), """
                core 0
                        nop
                        stop  r0
                        halt
                core 1
                        nop
                        stop  r0
                        set   r2, 2
                        halt
                """);

        assertThat(trial.core(0).instructions()).isEqualTo(2);
        assertThat(trial.core(0).pc()).isEqualTo(1);
        assertThat(trial.register(1, 2)).isEqualTo(2);
    }
}
