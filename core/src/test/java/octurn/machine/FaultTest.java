package octurn.machine;

import static octurn.machine.TestDesign.design;
import static octurn.machine.TestDesign.ownPort;
import static org.assertj.core.api.Assertions.assertThat;

import octurn.design.Admission;
import octurn.machine.Fault.Kind;
import octurn.report.RunReport.FaultReport;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Each kind of fault: when the core is in it, and what it leaves behind. Plain work takes 5 cycles. */
class FaultTest extends ChipTest {

    private static final TestDesign SLOW = design().cost(5, 6, 7, 8, 9);

    /** Goes on while others fault. */
    private static final String BYSTANDER = """
            core 7
                    pause 40
                    halt
            """;

    private void assertFault(Trial trial, Kind kind, long cycle, int address) {
        FaultReport fault = trial.fault(0);
        assertThat(fault).isNotNull();
        assertThat(fault.kind()).isEqualTo(kind);
        assertThat(fault.cycle()).isEqualTo(cycle);
        assertThat(fault.address()).isEqualTo(address);
        assertThat(fault.inShared()).isFalse();
        assertThat(trial.core(0).state()).isEqualTo(State.FAULT);
        assertThat(trial.core(0).pc()).isEqualTo(address);
    }

    // ---- not-an-instruction ----

    @Test
    void wordThatIsNoInstruction_faultsInTheCycleInWhichItWouldStart() {
        Trial trial = run(SLOW, """
                core 0
                        set   r1, 1
                        word  0x00000005
                """ + BYSTANDER);

        assertFault(trial, Kind.NOT_AN_INSTRUCTION, 5, 1);
        // The other pauses for 40 cycles and halts in 5.
        assertThat(trial.lane(0)).isEqualTo("work 5, fault 40");
        assertThat(trial.core(0).instructions()).isEqualTo(1);
        assertThat(trial.fault(0).line()).isEqualTo(3);
    }

    @Test
    void firstWordThatIsNoInstruction_faultsAtCycle0() {
        Trial trial = run("""
                core 0
                        word  0
                """ + BYSTANDER);

        assertFault(trial, Kind.NOT_AN_INSTRUCTION, 0, 0);
        assertThat(trial.lane(0)).isEqualTo("fault 41");
    }

    // ---- off-the-end ----

    @Test
    void privateCodeRunningOffTheEnd_faultsAtTheAddressBeyond() {
        Trial trial = run(SLOW.privateWords(16), """
                core 0
                        jump  last
                        space 14
                last:   nop
                """ + BYSTANDER);

        // jump 7, nop 5.
        assertFault(trial, Kind.OFF_THE_END, 12, 16);
        assertThat(trial.fault(0).line()).isZero();
    }

    @ParameterizedTest
    @CsvSource({"1024, jump", "1024, near", "-1, jump", "-2147483648, near", "70000, call"})
    void registerJumpOutsidePrivateRam_faultsAtTheTarget(int target, String jump) {
        // big 2, jump 2.
        Trial trial = run("""
                core 0
                        big   r1, %d
                        %s    r1
                """.formatted(target, jump) + BYSTANDER);

        assertFault(trial, Kind.OFF_THE_END, 4, target);
        assertThat(trial.core(0).instructions()).isEqualTo(3);
    }

    @Test
    void nearToAnAddressOutsidePrivateRam_faultsAtTheTarget() {
        Trial trial = run("""
                core 0
                        near  33554431
                """ + BYSTANDER);

        assertFault(trial, Kind.OFF_THE_END, 2, 33554431);
    }

    @Test
    void relativeJumpBelowAddress0_wrapsAndFaults() {
        // The jump's own address is 0; 2^32 - 1 is where it leads.
        Trial trial = run("""
                core 0
                here:   jump  here - 1
                """ + BYSTANDER);

        assertFault(trial, Kind.OFF_THE_END, 2, -1);
    }

    @Test
    void callOutsidePrivateRam_hasDoneItsWork() {
        Trial trial = run("""
                core 0
                        big   r1, 5000
                        call  r1
                """ + BYSTANDER);

        assertThat(trial.register(0, 15)).isEqualTo(3);
    }

    // ---- faults of an instruction at work: plain cycles, no effect, no request ----

    @ParameterizedTest
    @ValueSource(strings = {"[1024]", "[r3]", "[r3-1]", "[r4]"})
    void loadOutsidePrivateRam_faultsAfterThePlainTime(String place) {
        // set 5, big 10, big 10, then plain 5.
        Trial trial = run(SLOW, """
                core 0
                        set   r1, 9
                        big   r3, 1025
                        big   r4, -1
                        load  r1, %s
                """.formatted(place) + BYSTANDER);

        assertFault(trial, Kind.PRIVATE_ADDRESS, 30, 5);
        assertThat(trial.register(0, 1)).isEqualTo(9);
        assertThat(trial.lane(0)).startsWith("work 30, fault ");
        assertThat(trial.fault(0).line()).isEqualTo(5);
    }

    @Test
    void loadOfTheLastPrivateWord_isFine() {
        Trial trial = run("""
                core 0
                        load  r1, [1023]
                        halt
                """);

        assertThat(trial.fault(0)).isNull();
    }

    @Test
    void storeOutsidePrivateRam_faults() {
        Trial trial = run(SLOW, """
                core 0
                        store r1, [2000]
                """ + BYSTANDER);

        assertFault(trial, Kind.PRIVATE_ADDRESS, 5, 0);
    }

    @ParameterizedTest
    @ValueSource(strings = {"fetch", "post", "swap", "bump"})
    void accessOutsideSharedMemory_faultsWithoutARequest(String name) {
        Trial trial = run(SLOW.admission(new Admission.OwnPort()), """
                core 0
                        set   r1, 9
                        %s    r1, [16384]
                """.formatted(name) + BYSTANDER);

        assertFault(trial, Kind.SHARED_ADDRESS, 10, 1);
        assertThat(trial.lane(0)).isEqualTo("work 10, fault 35");
        assertThat(trial.core(0).accesses()).isZero();
        assertThat(trial.register(0, 1)).isEqualTo(9);
        assertThat(trial.core(0).instructions()).isEqualTo(1);
    }

    @Test
    void accessAtAnAddressFarOutside_faults() {
        Trial trial = run("""
                core 0
                        fetch r1, [r2-1]
                """ + BYSTANDER);

        assertFault(trial, Kind.SHARED_ADDRESS, 1, 0);
    }

    @Test
    void accessOfTheLastSharedWord_isFine() {
        Trial trial = run(ownPort(), """
                core 0
                        fetch r1, [16383]
                        halt
                """);

        assertThat(trial.fault(0)).isNull();
    }

    @ParameterizedTest
    @ValueSource(strings = {"div r1, r1, 0", "rem r1, r1, 0", "div r1, r1, r2", "rem r1, r1, r2"})
    void divisionBy0_faultsAfterThePlainTime(String division) {
        Trial trial = run(SLOW, """
                core 0
                        set   r1, 9
                        %s
                """.formatted(division) + BYSTANDER);

        assertFault(trial, Kind.DIVIDE_BY_ZERO, 10, 1);
        assertThat(trial.register(0, 1)).isEqualTo(9);
    }

    @ParameterizedTest
    @CsvSource({
        "start, -2",
        "start, 8",
        "start, 100",
        "start, -2147483648",
        "stop, -1",
        "stop, -2",
        "stop, 8",
        "stop, 2147483647"
    })
    void startOrStopOfNoCore_faultsAfterThePlainTime(String name, int target) {
        // big 10, plain 5.
        Trial trial = run(
                SLOW.admission(new Admission.OwnPort()),
                """
                core 0
                        big   r1, %d
                        %s
                """.formatted(target, name.equals("start") ? "start r1, r2, r3" : "stop r1") + BYSTANDER);

        assertFault(trial, Kind.NO_SUCH_CORE, 15, 2);
        assertThat(trial.register(0, 1)).isEqualTo(target);
        assertThat(trial.core(0).accesses()).isZero();
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "7", // no such mode
                "0xFF",
                "0x100", // off, with a pin
                "0x101", // cycles, with a pin
                "0x1002", // rising on pin 16 of 0..15
                "0x1F06",
                "0x2002", // a bit above the pin
                "0x80000001"
            })
    void modeWordThatIsNotLegal_faultsAfterThePlainTime(String word) {
        for (String port : new String[] {"mode0", "mode1"}) {
            Trial trial = run(SLOW, """
                    core 0
                            big   r1, %s
                            write %s, r1
                    """.formatted(word, port) + BYSTANDER);

            assertFault(trial, Kind.BAD_TALLY, 15, 2);
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"0", "1", "2", "3", "4", "5", "6", "0xF02", "0xF06"})
    void modeWordThatIsLegal_isTaken(String word) {
        for (String port : new String[] {"mode0", "mode1"}) {
            Trial trial = run("""
                    core 0
                            set   r1, %s
                            write %s, r1
                            halt
                    """.formatted(word, port));

            assertThat(trial.fault(0)).isNull();
        }
    }

    @Test
    void pinModes_onAChipWithoutPins_areNotLegal() {
        Trial trial = run(design().pins(0), """
                core 0
                        set   r1, 2
                        write mode0, r1
                """ + BYSTANDER);

        assertFault(trial, Kind.BAD_TALLY, 2, 1);
    }

    @Test
    void modeOnPin31_ofAChipWith32_isLegal() {
        Trial trial = run(design().pins(32), """
                core 0
                        set   r1, 0x1F02
                        write mode0, r1
                        halt
                """);

        assertThat(trial.fault(0)).isNull();
    }

    @Test
    void otherTallyPorts_takeAnyWord() {
        Trial trial = run("""
                core 0
                        set   r1, -1
                        write tally0, r1
                        write span0, r1
                        write level1, r1
                        halt
                """);

        assertThat(trial.fault(0)).isNull();
    }

    // ---- what a fault leaves ----

    @Test
    void fault_endsItsCoreAlone() {
        Trial trial = run("""
                core 0, 1
                        read  r1, core
                        div   r2, r1, r1
                        halt
                """);

        // Core 0 divides by 0, core 1 does not: 1 + 16 + 1 cycles.
        assertThat(trial.fault(0)).isNotNull();
        assertThat(trial.fault(1)).isNull();
        assertThat(trial.register(1, 2)).isEqualTo(1);
        assertThat(trial.cycles()).isEqualTo(18);
        assertThat(trial.ended()).isEqualTo(End.ALL_IDLE);
    }

    @Test
    void fault_leavesRegistersAndPrivateRamToBeLookedAt() {
        Trial trial = run("""
                core 0
                        set   r1, 9
                        store r1, [100]
                        div   r1, r1, 0
                """);

        assertThat(trial.register(0, 1)).isEqualTo(9);
        assertThat(trial.privateWord(0, 100)).isEqualTo(9);
    }

    @Test
    void faultUnderWay_ofACoreStoppedBefore_doesNotHappen() {
        // Plain work takes 3. Core 0: set 0..2, stop works in 3..5, holds 6..8.
        // Core 1: pause 0..6, the division works in 7..9 and would fault from 10.
        Trial trial = run(ownPort().plain(3), """
                core 0
                        set   r1, 1
                        stop  r1
                        halt
                core 1
                        pause 7
                        div   r1, r1, 0
                """);

        assertThat(trial.lane(1)).isEqualTo("work 3, sleep 4, work 2, idle 3");
        assertThat(trial.fault(1)).isNull();
    }

    @Test
    void faultThatBeginsWithAStop_isForgottenAtOnce() {
        // As above, but the division works in 6..8: in fault by step 1, idle by step 2.
        Trial trial = run(ownPort().plain(3), """
                core 0
                        set   r1, 1
                        stop  r1
                        halt
                core 1
                        pause 6
                        div   r1, r1, 0
                """);

        assertThat(trial.lane(1)).isEqualTo("work 3, sleep 3, work 3, idle 3");
        assertThat(trial.fault(1)).isNull();
        assertThat(trial.core(1).pc()).isEqualTo(1);
    }
}
