package octurn.asm;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.Set;
import java.util.stream.Stream;
import octurn.isa.Disassembler;
import octurn.isa.Instruction;
import octurn.isa.Op;
import octurn.isa.Word;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** One line of code, and the words that it becomes. */
class InstructionLinesTest {

    static List<String> goldenWords() throws IOException {
        try (InputStream in = InstructionLinesTest.class.getResourceAsStream("/octurn/isa/words.txt")) {
            return new String(in.readAllBytes(), StandardCharsets.UTF_8)
                    .lines()
                    .filter(line -> !line.startsWith(";"))
                    .toList();
        }
    }

    private static int goldenWord(String golden) {
        String bits = golden.substring(golden.indexOf('|') + 1).replace(" ", "");
        assertThat(bits).hasSize(32);
        return Integer.parseUnsignedInt(bits, 2);
    }

    @ParameterizedTest
    @MethodSource("goldenWords")
    void line_instruction_isTheWordOfTheEncodingTable(String golden) {
        int word = goldenWord(golden);
        String line = golden.substring(0, golden.indexOf('|')).strip();

        assertThat(Asm.line(line)).containsExactly(word);
        assertThat(Word.isInstruction(word)).isTrue();
    }

    @ParameterizedTest
    @MethodSource("goldenWords")
    void line_inCapitals_isTheSame(String golden) {
        String line = golden.substring(0, golden.indexOf('|')).strip().toUpperCase(Locale.ROOT);

        assertThat(Asm.core0("CORE 0", "BASE:" + line)).containsExactly(goldenWord(golden));
    }

    @Test
    void goldenWords_allTogether_coverEveryInstruction() throws IOException {
        Set<Op> covered = EnumSet.noneOf(Op.class);
        goldenWords().forEach(golden -> covered.add(Op.of(Word.op(goldenWord(golden)))));

        assertThat(covered).containsExactlyInAnyOrder(Op.values());
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "copy r3, r1 | add r3, r1, 0",
                "not r4, r5 | xor r4, r5, -1",
                "nop | add r0, r0, 0",
                "ret | jump r15"
            })
    void line_shortForm_isTheInstructionThatItStandsFor(String line, String instruction) {
        assertThat(Asm.line(line)).containsExactly(Asm.line(instruction));
    }

    @Test
    void nop_word_isTheOneOfTheTable() {
        assertThat(Asm.line("nop")).containsExactly(0x20020000);
    }

    @ParameterizedTest
    @CsvSource({
        "0, 0, 0",
        "1, 1, 0",
        "-1, -1, 1023",
        "2097151, 2097151, 0",
        "2097152, -2097152, 0",
        "4194303, -1, 0",
        "4194304, 0, 1",
        "-2147483648, 0, 512",
        "2147483647, -1, 511",
        "4294967295, -1, 1023",
        "0x12345678, -764296, 72",
        "0xDEADBEEF, -1196305, 890"
    })
    void big_constant_isSetOfTheLow22BitsAndUpperOfTheRest(String constant, int low, int high) {
        assertThat(Asm.line("big r6, " + constant))
                .containsExactly(Asm.core0("core 0", "set r6, " + low, "upper r6, " + high));
    }

    @Test
    void big_constant_putTogetherAgainIsTheConstant() {
        Random random = new Random(5);
        for (int i = 0; i < 1000; i++) {
            int constant = random.nextInt();
            int[] words = Asm.line("big r1, " + (i % 2 == 0 ? constant : constant & 0xFFFF_FFFFL));
            assertThat((Word.wide(words[0]) & 0x3FFFFF) | Word.upper(words[1]) << 22)
                    .isEqualTo(constant);
        }
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "[r1-2+3] | [r1+1]",
                "[r1 - 2 + 3] | [r1+1]",
                "[r1-(2+3)] | [r1-5]",
                "[r1+2*3-1] | [r1+5]",
                "[r1-2*3] | [r1-6]",
                "[r1+1<<4] | [r1+16]",
                "[r1+6&3] | [r1+2]",
                "[r1+0] | [r1]",
                "[r1-0] | [r1]",
                "[r1- -5] | [r1+5]",
                "[r1+~0] | [r1-1]",
                "[ R1 + 0x10 ] | [r1+16]",
                "[2*3] | [6]",
                "['A'] | [65]",
                "[cores] | [8]",
                "[base+7] | [7]",
                "[r1+base+7] | [r1+7]"
            })
    void memory_expressionBehindTheRegister_beginsWith0(String written, String same) {
        assertThat(Asm.line("fetch r2, " + written)).containsExactly(Asm.line("fetch r2, " + same));
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "jump base if r1 U< r2 | jump base if r1 u< r2",
                "jump base IF r1>=r2 | jump base if r1 >= r2",
                "jump base if r1<-3 | jump base if r1 < -3",
                "jump base if r1<=~3 | jump base if r1 <= -4",
                "jump base if r1 u<=(3) | jump base if r1 u<= 3",
                "jump (base) if r1==3 | jump base if r1 == 3",
                "jump base+1-1 if r1==3 | jump base if r1 == 3",
                "again r1,base | again r1, base"
            })
    void line_writtenTightly_isTheSame(String written, String same) {
        assertThat(Asm.line(written)).containsExactly(Asm.line(same));
    }

    /** {@code u} is a name like others, but before a comparison it makes it unsigned. */
    @Test
    void condition_uThatIsAConstantToo_isUnsigned() {
        assertThat(Asm.core0("u = 2", "core 0", "x: jump x if r1 u<u", "set r1, u<<u"))
                .containsExactly(Asm.core0("core 0", "x: jump x if r1 u< 2", "set r1, 8"));
    }

    @Test
    void target_plusOrMinusConstant_isCountedFromTheInstruction() {
        int[] words = Asm.core0(
                "core 0",
                "nop",
                "here: jump there",
                "jump here",
                "jump here + 1",
                "jump 2 + here",
                "jump here - 1 if r1 == 1",
                "again r3, there + (there - here)",
                "call there - 2",
                "there: nop");

        assertThat(Word.distance(words[1])).isEqualTo(7);
        assertThat(Word.distance(words[2])).isEqualTo(-1);
        assertThat(Word.distance(words[3])).isEqualTo(-1);
        assertThat(Word.distance(words[4])).isEqualTo(-1);
        assertThat(Word.branchOffset(words[5])).isEqualTo(-5);
        assertThat(Word.wide(words[6])).isEqualTo(9);
        assertThat(Word.distance(words[7])).isEqualTo(-1);
    }

    @Test
    void target_namedByAConstant_isTheLabel() {
        int[] words = Asm.core0("core 0", "loop: nop", "back = loop + 1", "jump back", "nop");

        assertThat(Word.distance(words[1])).isEqualTo(0);
    }

    @Test
    void target_inSharedMemory_isCountedThere() {
        Program program = Asm.program(
                "shared at 100",
                "first: jump second",
                "far second",
                "near 5",
                "again r1, first",
                "shared at 300",
                "second: jump first if r1 == r2",
                "call first");
        int[] first = program.blocks().get(0).words();
        int[] second = program.blocks().get(1).words();

        assertThat(Word.distance(first[0])).isEqualTo(200);
        assertThat(Word.crossAddress(first[1])).isEqualTo(300);
        assertThat(Word.crossAddress(first[2])).isEqualTo(5);
        assertThat(Word.wide(first[3])).isEqualTo(-3);
        assertThat(Word.branchOffset(second[0])).isEqualTo(-200);
        assertThat(Word.distance(second[1])).isEqualTo(-201);
    }

    @Test
    void target_inAnImage_isAPrivateAddress() {
        Program program =
                Asm.program("shared at 50", "image work", "a: nop", "b: near a", "near b", "jump a", "set r1, b");
        int[] words = program.blocks().get(1).words();

        assertThat(Word.crossAddress(words[2])).isEqualTo(0);
        assertThat(Word.crossAddress(words[3])).isEqualTo(1);
        assertThat(Word.distance(words[4])).isEqualTo(-3);
        assertThat(Word.wide(words[5])).isEqualTo(1);
    }

    /** In text and back: targets are written as the label base, at address 0, and a distance from it. */
    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4})
    void disassembly_ofAnyInstruction_assemblesToItsWord(long seed) {
        Random random = new Random(seed);
        List<Integer> words = new ArrayList<>();
        while (words.size() < 5000) {
            int word = random.nextInt() & (random.nextBoolean() ? -1 : random.nextInt());
            if (Word.isInstruction(word)) {
                words.add(word);
            }
        }
        List<String> lines = new ArrayList<>(List.of("core 0", "base:"));
        for (int i = 0; i < words.size(); i++) {
            lines.add(Disassembler.text(words.get(i), i, target -> "base%+d".formatted(target)));
        }

        int[] assembled =
                Asm.program(Asm.largest(), lines.toArray(String[]::new)).core(0).words();

        assertThat(assembled)
                .containsExactly(words.stream().mapToInt(Integer::intValue).toArray());
    }

    static Stream<Op> operations() {
        return Stream.of(Op.values());
    }

    @ParameterizedTest
    @MethodSource("operations")
    void operands_ofTheTable_areEnoughForTheInstruction(Op op) {
        String operands = op.form()
                .operands()
                .replace("[m]", "[r3+4]")
                .replace("COND", "<")
                .replace("PORT", "out")
                .replaceAll("\\b(rd|ra|rb|rs|rc)\\b", "r2")
                .replaceAll("\\bb\\b", "r1")
                .replaceAll("\\bc\\b", "7")
                .replaceAll("\\bx\\b", op == Op.FAR ? "5" : "base");

        assertThat(Instruction.decode(Asm.line(op.mnemonic() + " " + operands)[0])
                        .op())
                .isEqualTo(op);
    }
}
