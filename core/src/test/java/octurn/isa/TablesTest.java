package octurn.isa;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class TablesTest {

    @ParameterizedTest
    @CsvSource({
        "0x01, set, S, plain",
        "0x02, upper, S, plain",
        "0x08, add, A, plain",
        "0x09, sub, A, plain",
        "0x0A, mul, A, multiply",
        "0x0B, mulh, A, multiply",
        "0x0C, div, A, divide",
        "0x0D, rem, A, divide",
        "0x0E, and, A, plain",
        "0x0F, or, A, plain",
        "0x10, xor, A, plain",
        "0x11, shl, A, plain",
        "0x12, shr, A, plain",
        "0x13, sar, A, plain",
        "0x14, rol, A, plain",
        "0x18, load, M, private",
        "0x19, store, M, private",
        "0x1A, fetch, M, plain + wait + slot",
        "0x1B, post, M, plain + wait + slot",
        "0x1C, swap, M, plain + wait + slot",
        "0x1D, bump, M, plain + wait + slot",
        "0x20, jump, C, 'taken if it goes, else plain'",
        "0x21, jump, J, taken",
        "0x22, call, J, taken",
        "0x23, again, L, 'taken if it goes, else plain'",
        "0x24, far, J, taken",
        "0x25, near, J, taken",
        "0x28, read, P, plain",
        "0x29, write, P, plain",
        "0x2A, pause, W, 'max(plain, b)'",
        "0x2B, until, W, 'plain, then to time b'",
        "0x2C, await, W, 'plain, then to the match'",
        "0x30, start, T, plain + wait + slot",
        "0x31, stop, T, plain + wait + slot",
        "0x32, halt, T, plain"
    })
    void op_code_hasNameFormAndTime(String code, String mnemonic, char form, String time) {
        Op op = Op.of(Integer.decode(code));

        assertThat(op.code()).isEqualTo(Integer.decode(code));
        assertThat(op.mnemonic()).isEqualTo(mnemonic);
        assertThat(op.form().letter()).isEqualTo(form);
        assertThat(op.timing().text()).isEqualTo(time);
        assertThat(op.isAccess()).isEqualTo(time.contains("slot"));
    }

    @Test
    void op_otherCodes_areNone() {
        int[] codes = IntStream.range(0, 64).filter(code -> Op.of(code) != null).toArray();

        assertThat(codes)
                .containsExactly(
                        0x01, 0x02, 0x08, 0x09, 0x0A, 0x0B, 0x0C, 0x0D, 0x0E, 0x0F, 0x10, 0x11, 0x12, 0x13, 0x14, 0x18,
                        0x19, 0x1A, 0x1B, 0x1C, 0x1D, 0x20, 0x21, 0x22, 0x23, 0x24, 0x25, 0x28, 0x29, 0x2A, 0x2B, 0x2C,
                        0x30, 0x31, 0x32);
    }

    @Test
    void op_everyOne_saysWhatItDoes() {
        assertThat(Op.values())
                .extracting(Op::does)
                .doesNotHaveDuplicates()
                .allSatisfy(does -> assertThat(does).isNotBlank());
    }

    @ParameterizedTest
    @CsvSource({
        "0, pins, false",
        "1, out, true",
        "2, drive, true",
        "3, time, false",
        "4, core, false",
        "8, tally0, true",
        "9, mode0, true",
        "10, span0, true",
        "11, level0, true",
        "12, tally1, true",
        "13, mode1, true",
        "14, span1, true",
        "15, level1, true"
    })
    void port_code_hasNameAndMayBeWritten(int code, String name, boolean writable) {
        Port port = Port.of(code);

        assertThat(port.code()).isEqualTo(code);
        assertThat(port.text()).isEqualTo(name);
        assertThat(port.writable()).isEqualTo(writable);
        assertThat(port.meaning()).isNotBlank();
    }

    @ParameterizedTest
    @CsvSource({"-1", "5", "6", "7", "16", "99"})
    void port_otherCode_isNone(int code) {
        assertThat(Port.of(code)).isNull();
    }

    @Test
    void condition_codes_areInTheOrderOfTheTable() {
        assertThat(Arrays.stream(Condition.values()).map(Condition::text))
                .containsExactly("==", "!=", "<", "<=", ">", ">=", "u<", "u<=", "u>", "u>=");
        assertThat(Arrays.stream(Condition.values()).map(Condition::code))
                .containsExactly(0, 1, 2, 3, 4, 5, 6, 7, 8, 9);
    }

    @ParameterizedTest
    @CsvSource({
        "SET, 'rd, c'",
        "THREE, 'rd, ra, b'",
        "MEMORY, 'rd, [m]'",
        "BRANCH, x if ra COND b",
        "JUMP, x",
        "CROSS, x",
        "LOOP, 'rd, x'",
        "READ, 'rd, PORT'",
        "WRITE, 'PORT, rs'",
        "HOLD, b",
        "AWAIT, 'ra, b'",
        "START, 'rd, ra, rb'",
        "STOP, rc",
        "BARE, ''"
    })
    void form_operands_areWrittenSo(Form form, String operands) {
        assertThat(form.operands()).isEqualTo(operands);
    }
}
