package octurn.machine;

import static octurn.machine.TestDesign.ownPort;
import static octurn.machine.TestDesign.under;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import octurn.design.Admission;
import octurn.report.RunReport.HotSpot;
import org.junit.jupiter.api.Test;

/** Cores that run from shared memory. Slots of core 0 start at 0, 24, 48 .. on the default design. */
class SharedCodeTest extends ChipTest {

    @Test
    void far_toSharedCode_fetchesEachInstructionInASlotOfItsOwn() {
        // far in 0..1, code request at 2, slot 24..26; set in 27; request at 28, slot 48..50; halt in 51.
        Trial trial = run("""
                core 0
                        far  there
                shared
                there:  set  r1, 5
                        halt
                """);

        assertThat(trial.lane(0)).isEqualTo("work 2, codeWait 22, codeSlot 3, work 1, codeWait 20, codeSlot 3, work 1");
        assertThat(trial.register(0, 1)).isEqualTo(5);
        assertThat(trial.cycles()).isEqualTo(52);
    }

    @Test
    void codeRequest_isRaisedWithNoWorkCycle() {
        // far in 0..1, the request at 2 and with it the slot.
        Trial trial = run(ownPort(), """
                core 0
                        far  there
                shared
                there:  halt
                """);

        assertThat(trial.lane(0)).isEqualTo("work 2, codeSlot 3, work 1");
    }

    @Test
    void sharedCode_instructionTakesItsUsualTimeAfterItsSlot() {
        Trial trial = run(ownPort(), """
                core 0
                        far  there
                shared
                there:  mul  r1, r2, r3
                        pause 3
                        halt
                """);

        assertThat(trial.lane(0))
                .isEqualTo("work 2, codeSlot 3, work 4, codeSlot 3, work 1, sleep 2, codeSlot 3, work 1");
    }

    @Test
    void sharedCode_accessInstruction_takesTwoSlots() {
        // Code slot 24..26; the fetch works in 27, is up at 28, in at 48..50; code of halt at 51, slot 72..74.
        Trial trial = run("""
                core 0
                        far   there
                shared
                there:  fetch r1, [cell]
                        halt
                cell:   word  7
                """);

        assertThat(trial.lane(0))
                .isEqualTo("work 2, codeWait 22, codeSlot 3, work 1, wait 20, slot 3, codeWait 21, codeSlot 3, work 1");
        assertThat(trial.register(0, 1)).isEqualTo(7);
    }

    @Test
    void sharedCode_onlyDataCountsAsAccesses_allCountsAsTurnsUsed() {
        Trial trial = run("""
                core 0
                        far   there
                shared
                there:  fetch r1, [cell]
                        halt
                cell:   word  7
                """);

        assertThat(trial.core(0).accesses()).isEqualTo(1);
        assertThat(trial.core(0).waits().total()).isEqualTo(20);
        assertThat(trial.core(0).turnsUsed()).isEqualTo(3);
        // 0, 24, 48 and 72; the run ends at 76.
        assertThat(trial.core(0).turnsOffered()).isEqualTo(4);
        assertThat(trial.report().busyCycles()).isEqualTo(9);
        assertThat(trial.report().hotSpots()).containsExactly(new HotSpot(0, true, 0, 4, 1, 20, 20, 20));
    }

    @Test
    void near_bringsTheCoreBack() {
        Trial trial = run(ownPort(), """
                core 0
                        set   r13, back
                        far   there
                back:   set   r2, 2
                        halt
                shared
                there:  near  r13
                """);

        assertThat(trial.lane(0)).isEqualTo("work 3, codeSlot 3, work 4");
        assertThat(trial.register(0, 2)).isEqualTo(2);
        assertThat(trial.core(0).pcInShared()).isFalse();
        assertThat(trial.core(0).pc()).isEqualTo(3);
    }

    @Test
    void nearWithAnAddress_inSharedCode_goesToThatPrivateWord() {
        Trial trial = run(ownPort(), """
                core 0
                        far   there
                        set   r2, 2
                        halt
                shared
                there:  near  1
                """);

        assertThat(trial.register(0, 2)).isEqualTo(2);
    }

    @Test
    void farThroughARegister_goesToThatSharedWord() {
        Trial trial = run(ownPort(), """
                core 0
                        set   r3, there
                        far   r3
                shared at 50
                there:  set   r2, 2
                        halt
                """);

        assertThat(trial.register(0, 2)).isEqualTo(2);
        assertThat(trial.core(0).pc()).isEqualTo(51);
        assertThat(trial.core(0).pcInShared()).isTrue();
    }

    @Test
    void jumpAgainAndCall_stayInSharedMemory() {
        Trial trial = run(ownPort(), """
                core 0
                        far   there
                shared at 8
                there:  set   r1, 3
                more:   add   r2, r2, 5
                        again r1, more
                        call  part
                        jump  out2
                        halt
                out2:   jump  done if r2 == 15
                        halt
                part:   copy  r3, r15
                        ret
                done:   set   r4, 4
                        halt
                """);

        assertThat(trial.register(0, 2)).isEqualTo(15);
        // The shared address after the call.
        assertThat(trial.register(0, 3)).isEqualTo(12);
        assertThat(trial.register(0, 4)).isEqualTo(4);
        assertThat(trial.core(0).pcInShared()).isTrue();
    }

    @Test
    void far_inSharedCode_isAPlainJump() {
        Trial trial = run(ownPort(), """
                core 0
                        far   there
                shared
                there:  far   over
                        halt
                over:   set   r1, 1
                        halt
                """);

        assertThat(trial.lane(0)).isEqualTo("work 2, codeSlot 3, work 2, codeSlot 3, work 1, codeSlot 3, work 1");
        assertThat(trial.register(0, 1)).isEqualTo(1);
    }

    @Test
    void codeWord_isReadAtTheEndOfItsSlot() {
        // Core 1: load 0..1, post works in 2, holds 3..5. Core 0's slot is 2..4: the old word. Core 2's slot is 3..5,
        // and
        // core 1 comes before it: the new word.
        Trial trial = run(ownPort(), """
                core 0
                        far   there
                core 1
                        load  r1, [new]
                        post  r1, [there]
                        halt
                new:    set   r2, 2
                core 2
                        nop
                        far   there
                shared
                there:  set   r2, 1
                        halt
                """);

        assertThat(trial.register(0, 2)).isEqualTo(1);
        assertThat(trial.register(2, 2)).isEqualTo(2);
    }

    @Test
    void codeAndDataRequests_areAdmittedAlike() {
        // First come: core 0 asks for code at 2, core 1 for data at 1, so core 0 waits for 4.
        Trial trial = run(under(new Admission.FirstCome()), """
                core 0
                        far   there
                core 1
                        fetch r1, [there]
                        halt
                shared
                there:  halt
                """);

        assertThat(trial.lane(0)).isEqualTo("work 2, codeWait 2, codeSlot 3, work 1");
    }

    @Test
    void farBeyondSharedMemory_faultsWithNoRequest() {
        // set in 0, far in 1..2, in fault from 3.
        Trial trial = run("""
                core 0
                        set   r1, 16384
                        far   r1
                core 1
                        pause 5
                        halt
                """);

        assertThat(trial.lane(0)).isEqualTo("work 3, fault 3");
        assertThat(trial.fault(0).kind()).isEqualTo(Fault.Kind.OFF_THE_END);
        assertThat(trial.fault(0).cycle()).isEqualTo(3);
        assertThat(trial.fault(0).address()).isEqualTo(16384);
        assertThat(trial.fault(0).inShared()).isTrue();
        assertThat(trial.fault(0).line()).isZero();
        assertThat(trial.core(0).turnsUsed()).isZero();
    }

    @Test
    void sharedCodeRunningOffTheEnd_faultsAtTheFirstAddressBeyond() {
        Trial trial = run(ownPort().sharedWords(16), """
                core 0
                        far   there
                shared at 15
                there:  nop
                """);

        // far 0..1, slot 2..4, nop 5, in fault from 6.
        assertThat(trial.fault(0).kind()).isEqualTo(Fault.Kind.OFF_THE_END);
        assertThat(trial.fault(0).cycle()).isEqualTo(6);
        assertThat(trial.fault(0).address()).isEqualTo(16);
    }

    @Test
    void sharedWordThatIsNoInstruction_faultsAfterItsSlot() {
        // far 0..1, slot 2..4, in fault from 5.
        Trial trial = run(ownPort(), """
                core 0
                        far   there
                core 1
                        pause 7
                        halt
                shared at 20
                there:  word  3
                """);

        assertThat(trial.lane(0)).isEqualTo("work 2, codeSlot 3, fault 3");
        assertThat(trial.fault(0).kind()).isEqualTo(Fault.Kind.NOT_AN_INSTRUCTION);
        assertThat(trial.fault(0).cycle()).isEqualTo(5);
        assertThat(trial.fault(0).address()).isEqualTo(20);
        assertThat(trial.fault(0).inShared()).isTrue();
        assertThat(trial.fault(0).line()).isEqualTo(7);
    }

    @Test
    void faultInSharedCode_carriesItsSharedAddress() {
        Trial trial = run(ownPort(), """
                core 0
                        far   there
                shared at 20
                there:  div   r1, r2, 0
                """);

        // far 0..1, slot 2..4, plain work 5, in fault from 6.
        assertThat(trial.fault(0).cycle()).isEqualTo(6);
        assertThat(trial.fault(0).address()).isEqualTo(20);
        assertThat(trial.fault(0).inShared()).isTrue();
    }

    @Test
    void twoCoresOnTheSameCode_runItEachForItself() {
        Trial trial = run("""
                core 2, 6
                        far   there
                shared
                there:  read  r1, core
                        halt
                """);

        assertThat(List.of(trial.register(2, 1), trial.register(6, 1))).containsExactly(2, 6);
        // Slots of core 2 at 6, 30; far 0..1, wait 2..5; halt's request at 10, wait 20.
        assertThat(trial.lane(2)).startsWith("work 2, codeWait 4, codeSlot 3, work 1, codeWait 20, codeSlot 3, work 1");
    }
}
