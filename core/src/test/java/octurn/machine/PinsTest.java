package octurn.machine;

import static octurn.machine.TestDesign.design;
import static octurn.machine.TestDesign.ownPort;
import static org.assertj.core.api.Assertions.assertThat;

import octurn.design.Input;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Who drives a pin, what level it has, and where outputs fight. */
class PinsTest extends ChipTest {

    // ---- levels ----

    @Test
    void write_endingInCycleT_showsFromTPlus1() {
        // set in 0, drive in 1, out in 2: driven low from 2, high from 3; set in 3, out in 4: low from 5; halt in 5.
        Trial trial = run("""
                core 0
                        set   r1, 1
                        write drive, r1
                        write out, r1
                        set   r1, 0
                        write out, r1
                        halt
                """);

        assertThat(trial.pin(0)).isEqualTo("000110");
    }

    @Test
    void write_ofCost3_showsAfterIts3Cycles() {
        Trial trial = run(design().plain(3), """
                core 0
                        set   r1, 1
                        write drive, r1
                        write out, r1
                        halt
                """);

        // set 0..2, drive 3..5, out 6..8, halt 9..11.
        assertThat(trial.pin(0)).isEqualTo("000000000" + "111");
    }

    @Test
    void latchWithoutDrive_doesNotShow() {
        Trial trial = run("""
                core 0
                        set   r1, 1
                        write out, r1
                        pause 5
                        halt
                """);

        assertThat(trial.pin(0)).doesNotContain("1");
    }

    @Test
    void eachPin_followsItsOwnBit() {
        Trial trial = run("""
                core 0
                        set   r1, 0b1100
                        write drive, r1
                        set   r1, 0b0110
                        write out, r1
                        nop
                        halt
                """);

        // out from 4 on: pin 1 is not driven, 2 is high, 3 driven low.
        assertThat(trial.pin(1)).isEqualTo("000000");
        assertThat(trial.pin(2)).isEqualTo("000011");
        assertThat(trial.pin(3)).isEqualTo("000000");
    }

    @Test
    void everyCore_readsAllPins() {
        Trial trial = run("""
                core 0
                        set   r1, 0x81
                        write drive, r1
                        write out, r1
                        pause 5
                        halt
                core 5
                        pause 4
                        read  r2, pins
                        halt
                """);

        assertThat(trial.register(5, 2)).isEqualTo(0x81);
    }

    @Test
    void readPins_samplesAtItsFirstCycle() {
        // The level rises at 4. Reads at 0..2, 3..5, 6..8.
        Trial trial = run(design().plain(3), inputs(input(2, 4, 1)), """
                core 0
                        read  r1, pins
                        read  r2, pins
                        read  r3, pins
                        halt
                """);

        assertThat(trial.core(0).registers().subList(1, 4)).containsExactly(0, 0, 4);
    }

    @ParameterizedTest
    @CsvSource({"0, 0", "1, 1", "4, 15", "16, 65535", "31, 2147483647", "32, -1"})
    void latchBits_atAndAboveTheNumberOfPins_areDropped(int pins, int kept) {
        Trial trial = run(design().pins(pins), """
                core 0
                        set   r1, -1
                        write out, r1
                        write drive, r1
                        read  r2, out
                        read  r3, drive
                        read  r4, pins
                        halt
                """);

        assertThat(trial.core(0).registers().subList(2, 5)).containsExactly(kept, kept, kept);
    }

    // ---- from outside ----

    @Test
    void undrivenPin_hasTheLevelFromOutside() {
        Trial trial = run(design(), inputs(input(3, 2, 1, 5, 0, 6, 1)), """
                core 0
                        pause 8
                        halt
                """);

        assertThat(trial.pin(3)).isEqualTo("001110111");
        assertThat(trial.pin(2)).isEqualTo("000000000");
    }

    @Test
    void squareAndSerialInputs_reachTheirPins() {
        Trial trial =
                run(design(), inputs(new Input.Square(0, 1, 4, 1, Input.NEVER), new Input.Serial(1, 2, 1, "S")), """
                core 0
                        pause 13
                        halt
                """);

        assertThat(trial.pin(0)).isEqualTo("01000100010001");
        // High, start bit, 0x53 from its lowest bit, stop bit, high.
        assertThat(trial.pin(1)).isEqualTo("11" + "0" + "11001010" + "1" + "11");
    }

    @Test
    void drivenPin_hasTheDrivenLevelWhateverTheOutsideGives() {
        // Driven low from 2 on, though the outside says high.
        Trial trial = run(design(), inputs(input(0, 0, 1)), """
                core 0
                        set   r1, 1
                        write drive, r1
                        nop
                        halt
                """);

        assertThat(trial.pin(0)).isEqualTo("1100");
    }

    // ---- clashes ----

    @Test
    void twoCoresDrivingDifferentValues_clashAndReadHigh() {
        // Core 0 drives pin 0 low from 2 on; core 1 high from 4 on, until it lets go after 5.
        Trial trial = run("""
                core 0
                        set   r1, 1
                        write drive, r1
                        pause 6
                        halt
                core 1
                        set   r1, 1
                        write out, r1
                        nop
                        write drive, r1
                        nop
                        halt
                """);

        assertThat(trial.pin(0)).isEqualTo("000011000");
        assertThat(trial.clash(0)).isEqualTo("000011000");
        assertThat(trial.core(0).clashes()).isEqualTo(2);
        assertThat(trial.core(1).clashes()).isEqualTo(2);
        assertThat(trial.core(2).clashes()).isZero();
        assertThat(trial.report().clashCycles()).isEqualTo(2);
    }

    @Test
    void twoCoresDrivingTheSameValue_doNotClash() {
        Trial trial = run("""
                core 0, 1
                        set   r1, 1
                        write out, r1
                        write drive, r1
                        nop
                        halt
                """);

        assertThat(trial.pin(0)).isEqualTo("00011");
        assertThat(trial.report().clashCycles()).isZero();
    }

    @Test
    void drivenValueUnlikeTheOutside_clashes() {
        // Driven low from 2 to 7; the outside gives nothing before 4, high in 4..5, low from 6.
        Trial trial = run(design(), inputs(input(0, 4, 1, 6, 0)), """
                core 0
                        set   r1, 1
                        write drive, r1
                        pause 5
                        halt
                """);

        assertThat(trial.clash(0)).isEqualTo("00001100");
        assertThat(trial.core(0).clashes()).isEqualTo(2);
    }

    @Test
    void drivenHighWhileTheOutsideGivesLow_clashes_andHighWhileItGivesNothingDoesNot() {
        // Driven high from 3 to 6; the outside gives low from 5 on.
        Trial trial = run(design(), inputs(input(0, 5, 0)), """
                core 0
                        set   r1, 1
                        write out, r1
                        write drive, r1
                        pause 3
                        halt
                """);

        assertThat(trial.pin(0)).isEqualTo("0001111");
        assertThat(trial.clash(0)).isEqualTo("0000011");
    }

    @Test
    void undrivenPin_neverClashes() {
        Trial trial = run(design(), inputs(input(0, 1, 1, 2, 0)), """
                core 0
                        set   r1, 2
                        write drive, r1
                        pause 3
                        halt
                """);

        assertThat(trial.report().clashCycles()).isZero();
    }

    @Test
    void clashesOfACore_areThoseOfThePinsThatItDrives() {
        // Core 0 drives pins 0 and 1 low against the outside: two pins, but one cycle counts once. Core 1 drives pin 2.
        Trial trial = run(design(), inputs(input(0, 0, 1), input(1, 0, 1), input(2, 0, 0)), """
                core 0
                        set   r1, 3
                        write drive, r1
                        pause 4
                        halt
                core 1
                        set   r1, 4
                        write drive, r1
                        pause 4
                        halt
                """);

        // 2..6.
        assertThat(trial.core(0).clashes()).isEqualTo(5);
        assertThat(trial.core(1).clashes()).isZero();
        assertThat(trial.report().clashCycles()).isEqualTo(5);
    }

    @Test
    void clashCycles_countCyclesInWhichAnyPinClashed() {
        // Core 0 clashes on pin 0 in 2..4 (halt in 4), core 1 on pin 1 in 3..6: together 2..6.
        Trial trial = run(design(), inputs(input(0, 0, 1), input(1, 0, 1)), """
                core 0
                        set   r1, 1
                        write drive, r1
                        pause 2
                        halt
                core 1
                        set   r1, 2
                        nop
                        write drive, r1
                        pause 3
                        halt
                """);

        assertThat(trial.core(0).clashes()).isEqualTo(3);
        assertThat(trial.core(1).clashes()).isEqualTo(4);
        assertThat(trial.report().clashCycles()).isEqualTo(5);
    }

    @Test
    void clash_betweenCores_isBlamedOnAllWhoDriveThePin() {
        // Three cores drive pin 0 from 3 on: 0 and 1 low, 2 high.
        Trial trial = run("""
                core 0, 1
                        set   r1, 1
                        nop
                        write drive, r1
                        pause 4
                        halt
                core 2
                        set   r1, 1
                        write out, r1
                        write drive, r1
                        pause 4
                        halt
                """);

        assertThat(trial.report().cores())
                .extracting(core -> core.clashes())
                .containsExactly(5L, 5L, 5L, 0L, 0L, 0L, 0L, 0L);
    }

    // ---- letting go ----

    @Test
    void haltedCore_letsGoOfItsPins() {
        // High from 3; halt in 3; the other goes on to 9.
        Trial trial = run("""
                core 0
                        set   r1, 1
                        write out, r1
                        write drive, r1
                        halt
                core 1
                        pause 9
                        halt
                """);

        assertThat(trial.pin(0)).isEqualTo("0001000000");
    }

    @Test
    void stoppedCore_letsGoOfItsPins() {
        // The stop: set 0, pause 1..3, work 4, slot 5..7: idle from 8.
        Trial trial = run(ownPort(), """
                core 0
                        set   r1, 1
                        pause 3
                        stop  r1
                        nop
                        halt
                core 1
                        set   r1, 1
                        write out, r1
                        write drive, r1
                        pause 100
                """);

        assertThat(trial.pin(0)).isEqualTo("0001111100");
    }

    @Test
    void coreWhoseInstructionFaults_letsGoBeforeTheFirstCycleOfTheFault() {
        // The division works in 3; in fault from 4.
        Trial trial = run("""
                core 0
                        set   r1, 1
                        write out, r1
                        write drive, r1
                        div   r1, r1, 0
                core 1
                        pause 6
                        halt
                """);

        assertThat(trial.pin(0)).isEqualTo("0001000");
    }

    @Test
    void coreAtNoInstruction_letsGoAtTheEndOfTheFirstCycleOfTheFault() {
        // In fault from 3, the pins are driven through 3.
        Trial trial = run("""
                core 0
                        set   r1, 1
                        write out, r1
                        write drive, r1
                        word  5
                core 1
                        pause 6
                        halt
                """);

        assertThat(trial.fault(0).cycle()).isEqualTo(3);
        assertThat(trial.pin(0)).isEqualTo("0001000");
    }

    @Test
    void coreOffTheEnd_letsGoAtTheEndOfTheFirstCycleOfTheFault() {
        // near in 3..4, in fault from 5.
        Trial trial = run("""
                core 0
                        set   r1, 1
                        write out, r1
                        write drive, r1
                        near  5000
                core 1
                        pause 8
                        halt
                """);

        assertThat(trial.fault(0).cycle()).isEqualTo(5);
        assertThat(trial.pin(0)).isEqualTo("000111000");
    }

    @Test
    void coreStoppedInTheFirstCycleOfItsFault_letsGoAsWell() {
        // The stop: set 0, work 1, slot 2..4. Core 1 is in fault from 4.
        Trial trial = run(ownPort(), """
                core 0
                        set   r1, 1
                        stop  r1
                        nop
                        halt
                core 1
                        set   r1, 1
                        write out, r1
                        write drive, r1
                        nop
                        word  5
                """);

        assertThat(trial.lane(1)).isEqualTo("work 4, fault 1, idle 2");
        assertThat(trial.pin(0)).isEqualTo("0001100");
    }

    @Test
    void loadingCoreThatFaults_drivesNothing() {
        // A core that is started has let go long before; a bad image changes nothing of that.
        Trial trial = run(ownPort(), """
                core 0
                        set   r1, -1
                        set   r2, 500
                        start r1, r2, r3
                        pause 20
                        halt
                """);

        assertThat(trial.fault(1).kind()).isEqualTo(Fault.Kind.BAD_IMAGE);
        assertThat(trial.pin(0)).doesNotContain("1");
    }
}
