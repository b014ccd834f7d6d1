package octurn.lessons.mark;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.Map;
import octurn.design.Design;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class StructureTest {

    private static final String START = "core 0\n set r1, 3\n halt\n";
    private static final String PROGRAM = """
            drips = 300             ; in all
            core 0
                    set   r1, 1
                    set   r2, drips / 2
            more:   bump  r1, [count]
                    again r2, more
                    halt
            core 1
                    set   r1, 0x2A
                    halt
            shared
            count:  word 0
            """;

    private static Structure structure(String text) {
        return Structure.ofProgram(text.getBytes(UTF_8), START.getBytes(UTF_8), Design.DEFAULT, Map.of());
    }

    @Test
    void structure_withNamesCommentsAndLayoutChanged_isTheSame() {
        String other = "SHARED\nn: word 0\nCORE 1\nset r1,42\nhalt\ncore 0 ; mine\nset r1, 1\nset r2, 150\nloop:\n\n"
                + "bump r1, [n]\nagain r2, loop\nhalt\nunused = 7";
        assertThat(structure(other)).isEqualTo(structure(PROGRAM));
    }

    @ParameterizedTest
    @CsvSource({
        "'set   r1, 1', 'set   r3, 1'",
        "300, 302",
        "bump, swap",
        "word 0, word 1",
        "core 1, core 2",
        "halt, 'nop\n halt'",
        "word 0, space 2"
    })
    void structure_withRegisterNumberOrInstructionChanged_differs(String from, String to) {
        assertThat(PROGRAM).contains(from);
        assertThat(structure(PROGRAM.replace(from, to)).print())
                .isNotEqualTo(structure(PROGRAM).print());
    }

    /** An instruction and a number can be the same word; halt is 0xC8000000. */
    @Test
    void structure_ofDataForCode_differs() {
        assertThat(structure("core 0\n halt").print())
                .isNotEqualTo(structure("core 0\n word 0xC8000000").print());
    }

    @Test
    void structure_ofAProgramWithMistakes_seesThroughNamesToo() {
        Structure broken = structure(PROGRAM.replace("again r2, more", "agian r2, more"));
        assertThat(structure(
                        PROGRAM.replace("again r2, more", "agian r2 , next").replace("more:", "next:  ")))
                .isEqualTo(broken);
        assertThat(broken.print()).isNotEqualTo(structure(PROGRAM).print());
        assertThat(broken.isThere()).isTrue();
    }

    /** Of the program's seven instructions one, a halt, is in the starting program, and there once. */
    @Test
    void own_countsInstructionsThatAreNotInTheStartingProgram() {
        assertThat(structure(PROGRAM).own()).isEqualTo(6);
        assertThat(structure(START).own()).isZero();
    }

    @Test
    void structure_withTheStudentsOwnNumberInAConstantOfTheTask_isTheSame() {
        Map<String, Long> task = Map.of("drips", 100L);
        byte[] mine = PROGRAM.getBytes(UTF_8);
        byte[] yours = PROGRAM.replace("300", "420").getBytes(UTF_8);
        byte[] without = PROGRAM.replace("drips", "many").getBytes(UTF_8);
        Structure structure = Structure.ofProgram(mine, mine, Design.DEFAULT, task);
        assertThat(Structure.ofProgram(yours, mine, Design.DEFAULT, task)).isEqualTo(structure);
        assertThat(Structure.ofProgram(without, mine, Design.DEFAULT, task).isThere())
                .isTrue();
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "\n\n ; nothing\n"})
    void structure_ofNothing_isNone(String text) {
        assertThat(structure(text).isThere()).isFalse();
    }

    @Test
    void structureOfADesign_doesNotSeeItsName() {
        byte[] start = "{}".getBytes(UTF_8);
        Structure one = Structure.ofDesign("{\"name\": \"mine\", \"cores\": 4}".getBytes(UTF_8), start);
        assertThat(Structure.ofDesign("{\"cores\":4,\"name\":\"x\"}".getBytes(UTF_8), start))
                .isEqualTo(one);
        assertThat(Structure.ofDesign("{\"cores\": 5}".getBytes(UTF_8), start).print())
                .isNotEqualTo(one.print());
        assertThat(one.own()).isEqualTo(1);
    }
}
