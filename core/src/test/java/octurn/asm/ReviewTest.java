package octurn.asm;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import octurn.design.Admission;
import octurn.design.Clock;
import octurn.design.Cost;
import octurn.design.Design;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Warnings: about what is allowed and cannot be meant, and about nothing else. */
class ReviewTest {

    private static final String END = " -- end with halt, or a jump";

    private static List<String> warnings(String... lines) {
        return Asm.warnings(Design.DEFAULT, lines);
    }

    private static Design turns(Integer... order) {
        return new Design("t", 4, 64, 64, 3, new Admission.Rotation(List.of(order)), Cost.DEFAULT, 16, Clock.DEFAULT);
    }

    @Test
    void program_asItShouldBe_hasNoWarning() {
        assertThat(warnings(
                        "core 0..3",
                        "main: fetch r1, [cell]",
                        "jump main if r1 == 0",
                        "call log",
                        "far code",
                        "log: post r1, [r2]",
                        "ret",
                        "data: word 0",
                        "core 5",
                        "halt",
                        "text \"x\"",
                        "image work",
                        "halt",
                        "shared",
                        "cell: word 0",
                        "code: near r13"))
                .isEmpty();
    }

    @Test
    void sections_noneForACore_isAWarning() {
        assertThat(warnings("shared", "word 1"))
                .containsExactly(
                        "0:0+0 no core has a section: nothing runs -- a section for core 0 begins with: core 0");
        assertThat(warnings("goal = 1")).hasSize(1);
    }

    @Test
    void section_empty_isAWarning() {
        assertThat(warnings("core 0", "halt", "core 1", "end:"))
                .containsExactly("3:1+4 the section is empty: its cores fault at once -- halt makes a core idle");
    }

    @Test
    void section_thatBeginsWithData_isAWarning() {
        assertThat(warnings("core 0", "", "x: word 5", "halt"))
                .containsExactly("3:0+0 the section begins with data: its cores start here, and 5 is no instruction"
                        + " -- put the data behind the code");
    }

    @Test
    void section_thatBeginsWithAnInstructionWrittenAsData_isFine() {
        assertThat(warnings("core 0", "word 0xC8000000")).isEmpty();
    }

    // Turns.

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "fetch r1, [0] | fetch",
                "post r1, [r2] | post",
                "swap r1, [0] | swap",
                "bump r1, [0] | bump",
                "start r1, r2, r3 | start",
                "stop r1 | stop",
                "far 5 | far",
                "far r1 | far"
            })
    void access_ofACoreWithoutASlot_isAWarning(String line, String mnemonic) {
        assertThat(Asm.warnings(turns(0, 1), "core 0..3", "nop", line, "fetch r1, [r2]", "halt"))
                .containsExactly("3:0+0 core 2 has no slot in the rotation: this " + mnemonic
                        + " waits for ever -- give it a turn in admission.order");
    }

    @Test
    void access_ofACoreWithASlot_isFine() {
        assertThat(Asm.warnings(turns(0, 1), "core 0, 1", "fetch r1, [r2]", "halt"))
                .isEmpty();
    }

    @ParameterizedTest
    @ValueSource(strings = {"load r1, [0]", "near 0", "jump r1", "word 0x68460000"})
    void otherLines_ofACoreWithoutASlot_areFine(String line) {
        assertThat(Asm.warnings(turns(0, 1), "core 3", "x: jump y", line, "y: halt"))
                .isEmpty();
    }

    // Addresses.

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "fetch r1, [64] | shared word 64: fetch | shared memory",
                "post r1, [131071] | shared word 131071: post | shared memory",
                "swap r1, [64] | shared word 64: swap | shared memory",
                "bump r1, [64] | shared word 64: bump | shared memory",
                "load r1, [16] | private word 16: load | private RAM",
                "store r1, [16] | private word 16: store | private RAM",
                "far 64 | shared word 64: far | shared memory",
                "near 16 | private word 16: near | private RAM"
            })
    void address_outsideOfItsMemory_isAWarning(String line, String what, String memory) {
        assertThat(Asm.warnings(Asm.design(2, 16, 64), "core 0", line, "halt"))
                .containsExactly("2:0+0 there is no " + what + " faults here -- " + memory + " is 0.."
                        + (memory.equals("private RAM") ? 15 : 63));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "fetch r1, [63]",
                "load r1, [15]",
                "fetch r1, [r1+1000]",
                "load r1, [r15-1]",
                "far 63",
                "near 15",
                "far r15",
                "near r15",
                "set r1, 2097151",
                "pause 65535",
                "jump x + 100"
            })
    void address_thatMayBeRight_isFine(String line) {
        assertThat(Asm.warnings(Asm.design(2, 16, 64), "core 0", "x:", line, "halt"))
                .isEmpty();
    }

    @Test
    void near_toASharedLabel_isAWarning() {
        assertThat(warnings("core 0", "halt", "shared at 7", "here: near here"))
                .containsExactly("4:12+4 near goes to private word 7, \"here\" is a label of shared memory"
                        + " -- jump stays in shared memory");
    }

    // What comes after the last instruction.

    @ParameterizedTest
    @ValueSource(
            strings = {
                "nop",
                "add r1, r1, 1",
                "jump x if r1 == r2",
                "again r1, x",
                "call x",
                "pause 5",
                "until r1",
                "await r1, r1",
                "start r1, r2, r3",
                "write out, r1"
            })
    void section_withoutAnEnd_isAWarning(String line) {
        assertThat(warnings("core 0", "x:", line))
                .containsExactly("3:0+0 the core runs on behind the end of its section" + END);
        assertThat(warnings("core 0", "halt", "image i", "x:", line))
                .containsExactly("5:0+0 the core runs on behind the end of its section" + END);
        assertThat(warnings("core 0", "halt", "shared", "x:", line))
                .containsExactly("5:0+0 the core runs on behind the end of the section" + END);
    }

    @ParameterizedTest
    @ValueSource(strings = {"halt", "jump x", "jump r1", "ret", "far 5", "near 5", "stop r1"})
    void section_withAnEnd_isFine(String line) {
        assertThat(warnings("core 0", "x:", line)).isEmpty();
        assertThat(warnings("core 0", "x:", line, "word 1, 2")).isEmpty();
    }

    @Test
    void code_thatRunsIntoData_isAWarning() {
        assertThat(warnings("core 0", "nop", "x: nop", "data: word 5", "word 6"))
                .containsExactly("3:0+0 the core runs on into data: 5 is no instruction" + END);
    }

    @Test
    void code_thatRunsIntoTwoWordsOfData_isAWarningEvenAmidCode() {
        assertThat(warnings("core 0", "nop", "word 0, 5", "halt"))
                .containsExactly("2:0+0 the core runs on into data: 0 is no instruction" + END);
    }

    @Test
    void code_thatRunsIntoASingleWordToFillIn_isFine() {
        assertThat(warnings("core 0", "load r1, [x]", "store r1, [spot]", "spot: word 0", "x: halt"))
                .isEmpty();
    }

    @Test
    void call_withDataBehindIt_isFine() {
        assertThat(warnings("core 0", "call print", "text \"hi\"", "word 0", "halt", "print: ret"))
                .isEmpty();
    }

    @Test
    void code_thatRunsIntoAnInstructionWrittenAsData_isFine() {
        assertThat(warnings("core 0", "nop", "word 0xC8000000, 5")).isEmpty();
    }

    @Test
    void sharedCode_thatGoesOnInTheNextSection_isFine() {
        assertThat(warnings("core 0", "halt", "shared", "nop", "shared", "halt"))
                .isEmpty();
        assertThat(warnings("core 0", "halt", "shared at 5", "halt", "shared at 4", "nop"))
                .isEmpty();
    }

    @Test
    void sharedCode_thatRunsIntoTheDataOfTheNextSection_isAWarning() {
        assertThat(warnings("core 0", "halt", "shared at 5", "halt", "nop", "shared", "word 5"))
                .containsExactly("5:0+0 the core runs on behind the end of the section" + END);
    }

    @Test
    void warnings_moreThan100_areCounted() {
        List<String> warnings = warnings("core 0", "near 5000\n".repeat(150) + "halt");

        assertThat(warnings).hasSize(101).last().isEqualTo("0:0+0 and 50 more warnings");
    }
}
