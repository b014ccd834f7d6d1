package octurn.asm;

import static java.util.Map.entry;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.List;
import octurn.asm.Block.Kind;
import octurn.design.Design;
import octurn.isa.Word;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SectionsTest {

    @Test
    void program_ofThePage_isCodeForTwoCoresAndASharedWord() {
        Program program = Asm.program(
                "; Two cores count to 300 together, without losing a count.",
                "goal = 300",
                "",
                "core 0, 1",
                "        set   r1, 1",
                "        set   r2, goal / 2",
                "more:   copy  r3, r1",
                "        bump  r3, [count]       ; adds 1 in one slot, nobody can slip between",
                "        again r2, more",
                "        halt",
                "",
                "shared",
                "count:  word 0");

        assertThat(program.name()).isEqualTo("p.turn");
        assertThat(program.design()).isEqualTo(Design.DEFAULT);
        assertThat(program.constants()).containsExactly(entry("goal", 300L));
        assertThat(program.blocks()).hasSize(2);
        Block code = program.blocks().get(0);
        assertThat(code.kind()).isEqualTo(Kind.CORE);
        assertThat(code.name()).isEmpty();
        assertThat(code.cores()).containsExactly(0, 1);
        assertThat(code.address()).isZero();
        assertThat(code.words())
                .containsExactly(0x04400001, 0x04800096, 0x20C60000, 0x74C00000, 0x8CBFFFFE, 0xC8000000);
        assertThat(code.lines()).containsExactly(5, 6, 7, 8, 9, 10);
        assertThat(code.code()).containsOnly(true);
        assertThat(code.labels()).containsExactly(entry("more", 2));
        Block count = program.blocks().get(1);
        assertThat(count.kind()).isEqualTo(Kind.SHARED);
        assertThat(count.cores()).isEmpty();
        assertThat(count.address()).isZero();
        assertThat(count.words()).containsExactly(0);
        assertThat(count.lines()).containsExactly(13);
        assertThat(count.code()).containsExactly(false);
        assertThat(count.labels()).containsExactly(entry("count", 0));
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "0 | 0",
                "0, 2 | 0 2",
                "1..3 | 1 2 3",
                "1..3, 6 | 1 2 3 6",
                "6, 1..3 | 1 2 3 6",
                "all | 0 1 2 3 4 5 6 7",
                "ALL | 0 1 2 3 4 5 6 7",
                "5..5 | 5",
                "n | 2",
                "n..n+2 | 2 3 4",
                "cores-1 | 7",
                "0..cores-1 | 0 1 2 3 4 5 6 7",
                "(1)..(2) | 1 2"
            })
    void core_list_namesItsCores(String list, String cores) {
        Program program = Asm.program("core " + list, "halt", "n = 2");

        assertThat(program.blocks().get(0).cores())
                .containsExactlyElementsOf(
                        Arrays.stream(cores.split(" ")).map(Integer::valueOf).toList());
        for (int core = 0; core < 8; core++) {
            assertThat(program.core(core))
                    .isSameAs(
                            List.of(cores.split(" ")).contains("" + core)
                                    ? program.blocks().get(0)
                                    : null);
        }
    }

    @Test
    void shared_withoutAddress_followsTheHighestWordUsed() {
        Program program = Asm.program(
                "shared",
                "a: word 1, 2",
                "shared at 700",
                "b: word 3",
                "shared",
                "c: word 4",
                "shared at 40",
                "d: word 5, 6, 7",
                "shared",
                "e: word a, b, c, d, e",
                "shared at 9000",
                "shared",
                "f: word 8");

        assertThat(program.blocks()).extracting(Block::address).containsExactly(0, 700, 701, 40, 702, 9000, 707);
        assertThat(program.blocks().get(4).words()).containsExactly(0, 700, 701, 40, 702);
        assertThat(program.blocks().get(5).words()).isEmpty();
    }

    @Test
    void image_words_followTheirCountInSharedMemory() {
        Program program = Asm.program(
                "core 0",
                "set r1, work",
                "halt",
                "shared at 20",
                "word 1",
                "image work",
                "main: set r1, main",
                "jump main",
                "tail: word tail, work",
                "image next",
                "halt",
                "shared",
                "last: word last, next");
        Block work = program.blocks().get(2);

        assertThat(work.kind()).isEqualTo(Kind.IMAGE);
        assertThat(work.name()).isEqualTo("work");
        assertThat(work.cores()).isEmpty();
        assertThat(work.address()).isEqualTo(21);
        assertThat(work.words()).containsExactly(4, 0x04400000, 0x87FFFFFF, 2, 21);
        assertThat(work.lines()).containsExactly(6, 7, 8, 9, 9);
        assertThat(work.code()).containsExactly(false, true, true, false, false);
        assertThat(work.labels()).containsExactly(entry("main", 0), entry("tail", 2));
        assertThat(program.blocks().get(3).address()).isEqualTo(26);
        assertThat(program.blocks().get(4).words()).containsExactly(28, 26);
        assertThat(Word.wide(program.core(0).words()[0])).isEqualTo(21);
    }

    @Test
    void image_afterSharedAtALowAddress_followsTheHighestWord() {
        Program program = Asm.program("shared at 100", "word 1", "shared at 5", "word 1", "image work", "halt");

        assertThat(program.blocks().get(2).address()).isEqualTo(101);
    }

    @Test
    void label_atTheEnd_namesTheNextFreeAddress() {
        Program program = Asm.program("core 0", "a:", "b: nop", "word 1", "c:", "d:", "shared at 10", "space 3", "e:");

        assertThat(program.blocks().get(0).labels())
                .containsExactly(entry("a", 0), entry("b", 0), entry("c", 2), entry("d", 2));
        assertThat(program.blocks().get(1).labels()).containsExactly(entry("e", 13));
    }

    @Test
    void label_ofASection_mayBeUsedAgainInAnother() {
        Program program = Asm.program(
                "core 0",
                "data: word data",
                "core 1",
                "nop",
                "data: word data",
                "image w",
                "nop",
                "nop",
                "data: word data");

        assertThat(program.core(0).words()).containsExactly(0);
        assertThat(program.core(1).words()[1]).isEqualTo(1);
        assertThat(program.blocks().get(2).words()[3]).isEqualTo(2);
    }

    @Test
    void data_ofEveryKind_becomesWords() {
        assertThat(Asm.core0(
                        "core 0",
                        "word 1, -1, 4294967295",
                        "TEXT \"a\\n;\\\"é\\0'\uD83C\uDF31\" ; note",
                        "Space 2",
                        "space 0",
                        "text \"\"",
                        "WORD 'z'"))
                .containsExactly(1, -1, -1, 'a', 10, ';', '"', 'é', 0, '\'', 0x1F331, 0, 0, 'z');
    }

    @Test
    void space_expression_mayUseLabelsAbove() {
        Program program = Asm.program(
                "core cores - 8",
                "a: word 1, 2, 3",
                "b: space b - a",
                "len = b - a",
                "space len - 1",
                "end:",
                "shared at 30",
                "c: word 1",
                "shared at c + two * 5",
                "d: word d",
                "core d - c - 5",
                "halt",
                "two = 2");

        assertThat(program.core(0).labels()).containsEntry("end", 8);
        assertThat(program.blocks().get(2).words()).containsExactly(40);
        assertThat(program.core(5)).isNotNull();
    }

    /** A constant is worked out as soon as its last label is placed, whatever the order of the constants. */
    @Test
    void space_constantBehindOneOfALaterLabel_isKnown() {
        Program program = Asm.program(
                "last = z + early",
                "early = a + 1",
                "shared at 10",
                "a: word 1",
                "space early - a",
                "b: word b, last",
                "z:");

        assertThat(program.blocks().get(0).words()).containsExactly(1, 0, 12, 25);
    }

    @Test
    void lines_ofWords_areThoseOfTheFile() {
        Block block = Asm.program("core 0", "big r1, 5", "", "text \"ab\"", "x: space 2", "x2:", "word 1, 2")
                .core(0);

        assertThat(block.lines()).containsExactly(2, 2, 4, 4, 5, 5, 7, 7);
        assertThat(block.code()).containsExactly(true, true, false, false, false, false, false, false);
    }

    @Test
    void section_thatFillsTheMemory_fits() {
        Design design = Asm.design(2, 16, 32);
        Program program =
                Asm.program(design, "core 0", "space 16", "core 1", "shared", "space 15", "image i", "space 16");

        assertThat(program.core(0).words()).hasSize(16);
        assertThat(program.core(1).words()).isEmpty();
        assertThat(program.blocks().get(3).words()).hasSize(17);
    }

    @Test
    void section_ofTheLargestMemories_fits() {
        Program program = Asm.program(
                Asm.largest(), "core 31", "space 65535", "end: halt", "shared", "space 131071", "last: word last");

        assertThat(program.core(31).labels()).containsExactly(entry("end", 65535));
        assertThat(program.blocks().get(1).words()[131071]).isEqualTo(131071);
    }
}
