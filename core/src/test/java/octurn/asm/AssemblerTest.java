package octurn.asm;

import static java.util.Map.entry;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Map;
import octurn.asm.Assembly.Assembled;
import octurn.asm.Assembly.Rejected;
import octurn.design.Design;
import octurn.diag.Diagnostic;
import octurn.diag.Span;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class AssemblerTest {

    @Test
    void error_inAFile_carriesNamePlaceAndLine() {
        Assembly assembly =
                Assembler.assemble("lab/fan.turn", "core 0\r\n  fech r1, [2] ; fan\r\nhalt\r\n", Design.DEFAULT);

        assertThat(((Rejected) assembly).errors())
                .containsExactly(Diagnostic.error(
                        new Span("lab/fan.turn", 2, 3, 4),
                        "unknown instruction \"fech\"",
                        "did you mean fetch?",
                        "  fech r1, [2] ; fan"));
    }

    @ParameterizedTest
    @CsvSource({"fan.turn, fan.turn", "lab/fan.turn, fan.turn", "/a/b/fan.turn, fan.turn", "C:\\lab\\fan.turn, fan.turn"
    })
    void program_name_isTheFilesWithoutItsFolder(String file, String name) {
        Assembled assembled = (Assembled) Assembler.assemble(file, "core 0\nhalt", Design.DEFAULT);

        assertThat(assembled.program().name()).isEqualTo(name);
    }

    @Test
    void rejected_withoutErrors_isImpossible() {
        List<Diagnostic> none = List.of();

        assertThatThrownBy(() -> new Rejected(none)).isInstanceOf(IllegalArgumentException.class);
    }

    @Test
    void assemble_twice_isTheSame() {
        String text = "core 0\nx: add r1, y, z\njump nowhere\nset r1, 99999999\n";

        assertThat(Assembler.assemble("p", text, Design.DEFAULT))
                .isEqualTo(Assembler.assemble("p", text, Design.DEFAULT));
    }

    // Overridden constants.

    @Test
    void override_constant_replacesItsDefinition() {
        Program program = Asm.program(
                Map.of("goal", 100L, "odd", -1L),
                "goal = 300",
                "half = goal / 2",
                "odd = even",
                "even = odd",
                "core 0",
                "word goal, half, odd, even");

        assertThat(program.core(0).words()).containsExactly(100, 50, -1, -1);
        assertThat(program.constants())
                .containsExactly(entry("goal", 100L), entry("half", 50L), entry("odd", -1L), entry("even", -1L));
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "gaol | the program defines no constant \"gaol\" to set -- did you mean goal?",
                "GOAL | the program defines no constant \"GOAL\" to set -- did you mean goal?",
                "clock | the program defines no constant \"clock\" to set",
                "loop | the program defines no constant \"loop\" to set",
                "cell | the program defines no constant \"cell\" to set",
                "work | the program defines no constant \"work\" to set",
                "r1 | the program defines no constant \"r1\" to set"
            })
    void override_nameThatIsNoConstantOfTheFile_isAnError(String name, String message) {
        byte[] text = Asm.bytes("goal = 1", "core 0", "loop: halt", "shared", "cell: word 1", "image work", "halt");

        assertThat(Asm.told(Assembler.assemble(Asm.FILE, text, Design.DEFAULT, Map.of(name, 5L))))
                .containsExactly("0:0+0 " + message);
    }

    @Test
    void override_constantWithAMistake_leavesTheMistake() {
        byte[] text = Asm.bytes("goal = 1 +", "core 0", "word goal");

        assertThat(Asm.told(Assembler.assemble(Asm.FILE, text, Design.DEFAULT, Map.of("goal", 5L))))
                .containsExactly("1:11+1 expected a number or a name, found the end of the line");
    }

    @Test
    void override_valueThatDoesNotFit_isToldWhereItIsUsed() {
        byte[] text = Asm.bytes("goal = 1", "core 0", "set r1, goal");

        assertThat(Asm.told(Assembler.assemble(Asm.FILE, text, Design.DEFAULT, Map.of("goal", 5_000_000L))))
                .containsExactly("3:9+4 \"goal\" is 5000000 and does not fit: set takes -2097152..2097151"
                        + " -- big takes any 32-bit constant");
    }

    // The text as such.

    @Test
    void lines_endInLfOrCrlf() {
        Program program =
                ((Assembled) Assembler.assemble("p", "core 0\r\n\r\n\thalt\n;end\n\n", Design.DEFAULT)).program();

        assertThat(program.source()).containsExactly("core 0", "", "\thalt", ";end", "");
        assertThat(program.sourceLine(3)).isEqualTo("\thalt");
        assertThat(program.core(0).lines()).containsExactly(3);
    }

    @Test
    void text_withByteOrderMark_isRead() {
        Program program = ((Assembled) Assembler.assemble("p", "\uFEFFcore 0\nhalt", Design.DEFAULT)).program();

        assertThat(program.source()).containsExactly("core 0", "halt");
        assertThat(Asm.errors("\uFEFFcor 0", "halt"))
                .containsExactly("1:1+3 unknown instruction \"cor\" -- did you mean core?");
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "\n", "; a comment\n\n   \t ; another", "\uFEFF", "\r\n\r\n"})
    void text_withoutAProgram_isAnError(String text) {
        assertThat(Asm.errors(text))
                .containsExactly("0:0+0 there is no program in this file -- a section for core 0 begins with: core 0");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "63 6F 72 65 FF | 1:5+1 this is no UTF-8 text: byte 0xFF",
                "0A 0A C3 A9 C0 80 | 3:2+1 this is no UTF-8 text: byte 0xC0",
                "EF BB BF 3B 80 | 1:2+1 this is no UTF-8 text: byte 0x80",
                "3B F0 9F 8C B1 0D 0A 3B E2 82 | 2:2+1 this is no UTF-8 text: byte 0xE2",
                "FF FE 63 00 | 1:1+1 this is no UTF-8 text: byte 0xFF",
                "ED A0 80 | 1:1+1 this is no UTF-8 text: byte 0xED"
            })
    void text_notUtf8_isOneError(String hex, String message) {
        String[] digits = hex.split(" ", -1);
        byte[] bytes = new byte[digits.length];
        for (int i = 0; i < bytes.length; i++) {
            bytes[i] = (byte) Integer.parseInt(digits[i], 16);
        }

        assertThat(Asm.told(Assembler.assemble(Asm.FILE, bytes, Design.DEFAULT)))
                .containsExactly(message + " -- save the file as UTF-8");
    }

    @Test
    void text_withNul_isOneError() {
        assertThat(Asm.errors("core 0", "fech", "halt\0 \0", "fech"))
                .containsExactly(
                        "3:5+1 this is no text: it holds the character \\u0000 -- a program file is plain UTF-8 text");
    }

    @Test
    void file_of1MiB_isRead() {
        String text = ";" + "x".repeat(98) + "\n";
        text = text.repeat((1 << 20) / 100);
        text += "\n".repeat((1 << 20) - text.length() - 11) + "core 0\nhalt";

        assertThat(text.getBytes(StandardCharsets.UTF_8)).hasSize(1 << 20);
        assertThat(Asm.errors(text)).isEmpty();
        assertThat(Asm.errors(text + "\n"))
                .containsExactly("0:0+0 the file has 1048577 bytes, a program at most 1048576");
    }

    @Test
    void line_above1000Characters_isRefusedAndDefinesItsNamesAllTheSame() {
        String plants = "\uD83C\uDF31".repeat(987);

        assertThat(Asm.errors(
                        "core 0",
                        "jump there",
                        "long: word " + "1, ".repeat(330) + "1,",
                        ";" + "x".repeat(999),
                        "text \"" + plants + "\" ; 45",
                        ";" + "x".repeat(1000),
                        "there: jump long" + " ".repeat(1000) + "@",
                        "many = " + "1+".repeat(600) + "\"",
                        "set r1, many",
                        "fech"))
                .containsExactly(
                        "3:0+0 the line has 1003 characters, a line at most 1000",
                        "6:0+0 the line has 1001 characters, a line at most 1000",
                        "7:0+0 the line has 1017 characters, a line at most 1000",
                        "8:0+0 the line has 1208 characters, a line at most 1000",
                        "10:1+4 unknown instruction \"fech\" -- did you mean fetch?");
    }

    @Test
    void line_tooLong_isNotShown() {
        Rejected rejected = (Rejected) Assembler.assemble("p", "core 0\n;" + "x".repeat(1000), Design.DEFAULT);

        assertThat(rejected.errors())
                .singleElement()
                .satisfies(error -> assertThat(error.sourceLine()).isNull());
    }

    // Many errors.

    @Test
    void errors_moreThan100_areCounted() {
        String text = "core 0\n" + "fech\n".repeat(150) + "jump x\n".repeat(3);

        List<String> errors = Asm.errors(text);

        assertThat(errors).hasSize(101);
        assertThat(errors.get(0)).startsWith("2:1+4 unknown instruction");
        assertThat(errors.get(99)).startsWith("101:1+4 unknown instruction");
        assertThat(errors.get(100)).isEqualTo("0:0+0 and 53 more errors");
    }

    @Test
    void errors_exactly100_areAllTold() {
        assertThat(Asm.errors("core 0\n" + "fech\n".repeat(100)))
                .hasSize(100)
                .noneMatch(error -> error.contains("more"));
    }

    /** Names are looked up after all lines were read, and yet the first errors of the file are those told. */
    @Test
    void errors_ofDifferentKinds_areInTheOrderOfTheFile() {
        String text = "core 0\n" + "jump x\nfech\n".repeat(100);

        assertThat(Asm.errors(text).subList(0, 4))
                .containsExactly(
                        "2:6+1 unknown name \"x\" -- define it as a label or as a constant",
                        "3:1+4 unknown instruction \"fech\" -- did you mean fetch?",
                        "4:6+1 unknown name \"x\" -- define it as a label or as a constant",
                        "5:1+4 unknown instruction \"fech\" -- did you mean fetch?");
    }

    // Texts made to be a burden: each ends soon, and in little memory.

    @ParameterizedTest
    @ValueSource(
            strings = {
                "core 1\n",
                "shared\nspace 131072\n",
                "shared at 5\nword 1\n",
                "space 131072\n",
                "x\n",
                "x: jump y\n",
                "image x\n",
                "\u0001",
                "c = c\n",
                "word ((((((((((((1\n",
                "text \"\n",
                "'\n",
                "\uD83C\uDF31",
                ":"
            })
    void text_ofOnePieceOverAndOver_isRejectedWithAtMost101Errors(String piece) {
        int size = piece.getBytes(StandardCharsets.UTF_8).length;
        String text = piece.repeat((1 << 18) / size);

        List<String> errors = Asm.errors(text);

        assertThat(errors).hasSizeBetween(1, 101);
    }

    @Test
    void constants_aCircleOfThousands_isOneError() {
        StringBuilder text = new StringBuilder();
        for (int i = 0; i < 30_000; i++) {
            text.append("c%d = c%d\n".formatted(i, (i + 1) % 30_000));
        }

        assertThat(Asm.errors(text.toString()))
                .containsExactly("1:1+2 \"c0\" is defined by itself"
                        + " -- break the circle c0 -> c1 -> c2 -> c3 -> c4 -> c5 -> c6 -> c7 -> .. -> c0");
    }
}
