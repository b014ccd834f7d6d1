package octurn.isa;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

/** Each field by itself: in a word of 1 bits beside it, and the other way round. */
class WordTest {

    @Test
    void op_isBits31To26() {
        assertThat(Word.op(0xFC00_0000)).isEqualTo(63);
        assertThat(Word.op(0x03FF_FFFF)).isEqualTo(0);
        assertThat(Word.op(0x8400_0000)).isEqualTo(0x21);
    }

    @Test
    void rd_isBits25To22() {
        assertThat(Word.rd(0x03C0_0000)).isEqualTo(15);
        assertThat(Word.rd(0xFC3F_FFFF)).isEqualTo(0);
        assertThat(Word.rd(0x0100_0000)).isEqualTo(4);
    }

    @Test
    void ra_isBits21To18() {
        assertThat(Word.ra(0x003C_0000)).isEqualTo(15);
        assertThat(Word.ra(0xFFC3_FFFF)).isEqualTo(0);
        assertThat(Word.ra(0x0008_0000)).isEqualTo(2);
    }

    @Test
    void hasConstant_isBit17() {
        assertThat(Word.hasConstant(0x0002_0000)).isTrue();
        assertThat(Word.hasConstant(0xFFFD_FFFF)).isFalse();
    }

    @Test
    void constant_isBits16To0Signed() {
        assertThat(Word.constant(0xFFFE_FFFF)).isEqualTo(65535);
        assertThat(Word.constant(0x0001_0000)).isEqualTo(-65536);
        assertThat(Word.constant(0x0001_FFFF)).isEqualTo(-1);
    }

    @Test
    void absolute_isBits16To0() {
        assertThat(Word.absolute(0xFFFF_FFFF)).isEqualTo(131071);
        assertThat(Word.absolute(0xFFFE_0000)).isEqualTo(0);
    }

    @Test
    void low_isBits3To0() {
        assertThat(Word.low(0xFFFF_FFFF)).isEqualTo(15);
        assertThat(Word.low(0xFFFF_FFF0)).isEqualTo(0);
    }

    @Test
    void wide_isBits21To0Signed() {
        assertThat(Word.wide(0xFFDF_FFFF)).isEqualTo(2097151);
        assertThat(Word.wide(0x0020_0000)).isEqualTo(-2097152);
    }

    @Test
    void upper_isBits9To0() {
        assertThat(Word.upper(0xFFFF_FFFF)).isEqualTo(1023);
        assertThat(Word.upper(0xFFFF_FC00)).isEqualTo(0);
    }

    @Test
    void branchConstant_isBits16To9Signed() {
        assertThat(Word.branchConstant(0xFFFE_FFFF)).isEqualTo(127);
        assertThat(Word.branchConstant(0x0001_0000)).isEqualTo(-128);
        assertThat(Word.branchConstant(0x0000_0200)).isEqualTo(1);
    }

    @Test
    void branchRegister_isBits12To9() {
        assertThat(Word.branchRegister(0xFFFF_FFFF)).isEqualTo(15);
        assertThat(Word.branchRegister(0xFFFF_E1FF)).isEqualTo(0);
    }

    @Test
    void branchOffset_isBits8To0Signed() {
        assertThat(Word.branchOffset(0xFFFF_FEFF)).isEqualTo(255);
        assertThat(Word.branchOffset(0x0000_0100)).isEqualTo(-256);
    }

    @Test
    void jumpHasTarget_isBit25() {
        assertThat(Word.jumpHasTarget(0x0200_0000)).isTrue();
        assertThat(Word.jumpHasTarget(0xFDFF_FFFF)).isFalse();
    }

    @Test
    void distance_isBits24To0Signed() {
        assertThat(Word.distance(0xFEFF_FFFF)).isEqualTo(16777215);
        assertThat(Word.distance(0x0100_0000)).isEqualTo(-16777216);
    }

    @Test
    void crossAddress_isBits24To0() {
        assertThat(Word.crossAddress(0xFFFF_FFFF)).isEqualTo(33554431);
        assertThat(Word.crossAddress(0xFE00_0000)).isEqualTo(0);
    }
}
