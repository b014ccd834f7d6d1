package octurn.isa;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class DisassemblerTest {

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "0x057FFFFE | set r5, -2",
                "0x08C003FF | upper r3, 1023",
                "0x20020000 | add r0, r0, 0",
                "0x20480003 | add r1, r2, r3",
                "0x414BFFFF | xor r5, r2, -1",
                "0x604A0000 | load r1, [r2]",
                "0x604BFFFF | load r1, [r2-1]",
                "0x644A0005 | store r1, [r2+5]",
                "0x6841FFFF | fetch r1, [131071]",
                "0x824B0100 | jump 744 if r2 u>= -128",
                "0x80481EFF | jump 1255 if r2 != r15",
                "0x87FFFFFF | jump 999",
                "0x8400000F | jump r15",
                "0x8A000010 | call 1016",
                "0x8CBFFFFF | again r2, 999",
                "0x93FFFFFF | far 33554431",
                "0x90000003 | far r3",
                "0x96000007 | near 7",
                "0xA100000F | read r4, level1",
                "0xA5000001 | write out, r4",
                "0xA802FFFF | pause 65535",
                "0xAC000004 | until r4",
                "0xB00FFFFF | await r3, -1",
                "0xC0480003 | start r1, r2, r3",
                "0xC5C00000 | stop r7",
                "0xC8000000 | halt"
            })
    void text_word_isTheInstruction(String word, String text) {
        assertThat(Disassembler.text(Long.decode(word).intValue(), 1000)).isEqualTo(text);
    }

    @ParameterizedTest
    @CsvSource({"0x00000000", "0xFFFFFFFF", "0xC8000001", "0x0000ABCD"})
    void text_noInstruction_isData(String word) {
        assertThat(Disassembler.text(Long.decode(word).intValue(), 0)).isEqualTo("word " + word);
    }

    @Test
    void text_targetBelowZero_wraps() {
        assertThat(Disassembler.text(0x87FFFFFF, 0)).isEqualTo("jump 4294967295");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "0x87FFFFFF | jump here",
                "0x8BFFFFFF | call here",
                "0x8CBFFFFF | again r2, here",
                "0x80001FFF | jump here if r0 == r15",
                "0x960003E7 | near 999"
            })
    void text_targetWithLabel_isTheLabel(String word, String text) {
        int bits = Long.decode(word).intValue();

        assertThat(Disassembler.text(bits, 1000, address -> address == 999 ? "here" : null))
                .isEqualTo(text);
        assertThat(Disassembler.text(bits, 1001, address -> address == 999 ? "here" : null))
                .isEqualTo(text.startsWith("near") ? text : text.replace("here", "1000"));
    }
}
