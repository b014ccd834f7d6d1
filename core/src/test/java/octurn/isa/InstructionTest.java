package octurn.isa;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

class InstructionTest {

    static List<LegalWords> patterns() {
        return LegalWords.ALL;
    }

    @ParameterizedTest
    @MethodSource("patterns")
    void decode_legalWord_encodesToTheSameWord(LegalWords legal) {
        Random random = new Random(1);
        for (int i = 0; i < 20_000; i++) {
            int word = legal.any(random);
            Instruction instruction = Instruction.decode(word);
            if (instruction == null || instruction.op() != legal.op() || instruction.encode() != word) {
                throw new AssertionError("%08X is %s".formatted(word, instruction));
            }
        }
    }

    @ParameterizedTest
    @MethodSource("patterns")
    void decode_wordWithOneGivenBitTurned_isWhatTheTableSays(LegalWords legal) {
        Random random = new Random(2);
        for (int i = 0; i < 500; i++) {
            int word = legal.any(random);
            for (int bit = 0; bit < 32; bit++) {
                if ((legal.free() >>> bit & 1) == 0) {
                    checkAgainstTable(word ^ (1 << bit));
                }
            }
        }
    }

    @ParameterizedTest
    @ValueSource(longs = {11, 12, 13, 14})
    void decode_anyWord_isWhatTheTableSays(long seed) {
        Random random = new Random(seed);
        for (int i = 0; i < 1_000_000; i++) {
            checkAgainstTable(random.nextInt());
        }
    }

    /** Most random words have a field that must be 0; those with few bits set come closer to the border. */
    @ParameterizedTest
    @ValueSource(longs = {21, 22})
    void decode_wordWithFewBits_isWhatTheTableSays(long seed) {
        Random random = new Random(seed);
        for (int i = 0; i < 1_000_000; i++) {
            int word = random.nextInt();
            for (int j = 0; j < 2; j++) {
                word &= random.nextInt();
            }
            checkAgainstTable(word);
        }
    }

    private static void checkAgainstTable(int word) {
        Op expected = LegalWords.of(word);
        Instruction instruction = Instruction.decode(word);
        boolean agrees = expected == null
                ? instruction == null && !Word.isInstruction(word)
                : instruction != null
                        && Word.isInstruction(word)
                        && instruction.op() == expected
                        && instruction.encode() == word;
        if (!agrees) {
            throw new AssertionError("%08X: %s, but %s".formatted(word, expected, instruction));
        }
    }

    @Test
    void decode_0_isNoInstruction() {
        assertThat(Instruction.decode(0)).isNull();
        assertThat(Word.isInstruction(0)).isFalse();
    }

    @ParameterizedTest
    @CsvSource({
        // op, rd, ra, constant, value, offset
        "SET, 5, 0, true, -2, 0, 0x057FFFFE",
        "UPPER, 3, 0, true, 1023, 0, 0x08C003FF",
        "ADD, 0, 0, true, 0, 0, 0x20020000",
        "ADD, 1, 2, false, 3, 0, 0x20480003",
        "LOAD, 1, 2, true, -1, 0, 0x604BFFFF",
        "FETCH, 1, 0, false, 131071, 0, 0x6841FFFF",
        "JUMP_IF, 9, 2, true, -128, -256, 0x824B0100",
        "JUMP_IF, 1, 2, false, 15, 255, 0x80481EFF",
        "JUMP, 0, 0, true, -1, 0, 0x87FFFFFF",
        "CALL, 0, 0, false, 15, 0, 0x8800000F",
        "AGAIN, 2, 0, true, -1, 0, 0x8CBFFFFF",
        "FAR, 0, 0, true, 33554431, 0, 0x93FFFFFF",
        "NEAR, 0, 0, false, 15, 0, 0x9400000F",
        "READ, 4, 0, false, 15, 0, 0xA100000F",
        "WRITE, 4, 0, false, 1, 0, 0xA5000001",
        "PAUSE, 0, 0, true, 65535, 0, 0xA802FFFF",
        "AWAIT, 0, 3, false, 4, 0, 0xB00C0004",
        "START, 1, 2, false, 3, 0, 0xC0480003",
        "STOP, 7, 0, false, 0, 0, 0xC5C00000",
        "HALT, 0, 0, false, 0, 0, 0xC8000000"
    })
    void encode_fields_makeTheWordAndComeBack(
            Op op, int rd, int ra, boolean constant, int value, int offset, String word) {
        Instruction instruction = new Instruction(op, rd, ra, constant, value, offset);
        int expected = Long.decode(word).intValue();

        assertThat(instruction.encode()).isEqualTo(expected);
        assertThat(Instruction.decode(expected)).isEqualTo(instruction);
    }

    @ParameterizedTest
    @CsvSource({
        "SET, 16, 0, true, 0, 0",
        "SET, -1, 0, true, 0, 0",
        "SET, 0, 1, true, 0, 0",
        "SET, 0, 0, false, 0, 0",
        "SET, 0, 0, true, 2097152, 0",
        "SET, 0, 0, true, -2097153, 0",
        "SET, 0, 0, true, 0, 1",
        "UPPER, 0, 0, true, 1024, 0",
        "UPPER, 0, 0, true, -1, 0",
        "UPPER, 0, 1, true, 0, 0",
        "UPPER, 16, 0, true, 0, 0",
        "UPPER, 0, 0, false, 0, 0",
        "ADD, 16, 0, true, 0, 0",
        "ADD, 0, 16, true, 0, 0",
        "ADD, 0, -1, true, 0, 0",
        "ADD, 0, 0, true, 65536, 0",
        "ADD, 0, 0, true, -65537, 0",
        "ADD, 0, 0, false, 16, 0",
        "ADD, 0, 0, false, -1, 0",
        "ADD, 0, 0, false, 131072, 0",
        "ADD, 0, 0, false, 262144, 0",
        "ADD, 0, 0, true, 0, 1",
        "LOAD, 0, 1, false, 0, 0",
        "LOAD, 0, 0, false, 131072, 0",
        "LOAD, 0, 0, false, -1, 0",
        "LOAD, 0, 0, true, 65536, 0",
        "LOAD, 16, 0, true, 0, 0",
        "LOAD, 0, 16, true, 0, 0",
        "JUMP_IF, 10, 0, true, 0, 0",
        "JUMP_IF, 16, 0, true, 0, 0",
        "JUMP_IF, 0, 16, true, 0, 0",
        "JUMP_IF, 0, 0, true, 128, 0",
        "JUMP_IF, 0, 0, true, -129, 0",
        "JUMP_IF, 0, 0, false, 16, 0",
        "JUMP_IF, 0, 0, true, 0, 256",
        "JUMP_IF, 0, 0, true, 0, -257",
        "JUMP_IF, 0, 0, false, 0, 256",
        "JUMP, 1, 0, true, 0, 0",
        "JUMP, 0, 1, true, 0, 0",
        "JUMP, 0, 0, true, 16777216, 0",
        "JUMP, 0, 0, true, -16777217, 0",
        "JUMP, 0, 0, false, 16, 0",
        "JUMP, 0, 0, true, 0, 1",
        "FAR, 1, 0, true, 0, 0",
        "FAR, 0, 1, true, 0, 0",
        "FAR, 0, 0, true, 33554432, 0",
        "FAR, 0, 0, true, -1, 0",
        "FAR, 0, 0, false, 16, 0",
        "AGAIN, 0, 0, true, 2097152, 0",
        "AGAIN, 0, 0, false, 0, 0",
        "READ, 16, 0, false, 0, 0",
        "READ, 0, 1, false, 0, 0",
        "READ, 0, 0, true, 0, 0",
        "READ, 0, 0, false, 5, 0",
        "READ, 0, 0, false, 16, 0",
        "WRITE, 0, 0, false, 0, 0",
        "WRITE, 0, 0, false, 3, 0",
        "WRITE, 0, 0, false, 4, 0",
        "WRITE, 0, 0, true, 1, 0",
        "PAUSE, 1, 0, true, 0, 0",
        "PAUSE, 0, 1, true, 0, 0",
        "UNTIL, 0, 0, true, 65536, 0",
        "AWAIT, 1, 0, true, 0, 0",
        "AWAIT, 0, 16, true, 0, 0",
        "START, 0, 0, true, 0, 0",
        "START, 0, 0, false, 16, 0",
        "START, 16, 0, false, 0, 0",
        "START, 0, 16, false, 0, 0",
        "STOP, 16, 0, false, 0, 0",
        "STOP, 0, 1, false, 0, 0",
        "STOP, 0, 0, true, 0, 0",
        "STOP, 0, 0, false, 1, 0",
        "HALT, 1, 0, false, 0, 0",
        "HALT, 0, 1, false, 0, 0",
        "HALT, 0, 0, true, 0, 0",
        "HALT, 0, 0, false, 1, 0",
        "HALT, 0, 0, false, 0, 1"
    })
    void instruction_fieldThatTheWordCannotHold_isRefused(
            Op op, int rd, int ra, boolean constant, int value, int offset) {
        assertThatThrownBy(() -> new Instruction(op, rd, ra, constant, value, offset))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("no such instruction: %s rd=%d ra=%d constant=%b value=%d offset=%d"
                        .formatted(op, rd, ra, constant, value, offset));
    }

    @Test
    void of_registersAlone_makesAnInstructionWithoutConstant() {
        assertThat(Instruction.of(Op.ADD, 1, 2, 3)).isEqualTo(new Instruction(Op.ADD, 1, 2, false, 3, 0));
    }
}
