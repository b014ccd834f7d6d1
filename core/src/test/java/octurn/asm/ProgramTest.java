package octurn.asm;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.Random;
import org.junit.jupiter.api.Test;

class ProgramTest {

    private static final Program PROGRAM = Asm.program(
            "goal = 3",
            "core 1..2",
            "nop",
            "halt",
            "shared at 10",
            "word 1, 2",
            "shared at 5",
            "word 3",
            "shared at 6",
            "shared",
            "word 4",
            "image work",
            "halt");

    @Test
    void core_number_hasItsSection() {
        assertThat(PROGRAM.core(1))
                .isSameAs(PROGRAM.core(2))
                .isSameAs(PROGRAM.blocks().get(0));
        assertThat(PROGRAM.core(0)).isNull();
        assertThat(PROGRAM.core(-1)).isNull();
        assertThat(PROGRAM.core(7)).isNull();
        assertThat(PROGRAM.core(8)).isNull();
    }

    @Test
    void shared_address_hasTheSectionOrImageThatIsThere() {
        assertThat(PROGRAM.shared(10))
                .isSameAs(PROGRAM.shared(11))
                .isSameAs(PROGRAM.blocks().get(1));
        assertThat(PROGRAM.shared(5)).isSameAs(PROGRAM.blocks().get(2));
        assertThat(PROGRAM.shared(12)).isSameAs(PROGRAM.blocks().get(4));
        assertThat(PROGRAM.shared(13))
                .isSameAs(PROGRAM.shared(14))
                .isSameAs(PROGRAM.blocks().get(5));
        for (int free : new int[] {-1, 0, 4, 6, 9, 15, 16383, 1 << 30}) {
            assertThat(PROGRAM.shared(free)).as("%d", free).isNull();
        }
    }

    @Test
    void line_ofAWord_isWhereItIsWritten() {
        assertThat(PROGRAM.privateLine(1, 0)).isEqualTo(3);
        assertThat(PROGRAM.privateLine(2, 1)).isEqualTo(4);
        assertThat(PROGRAM.privateLine(2, 2)).isZero();
        assertThat(PROGRAM.privateLine(2, -1)).isZero();
        assertThat(PROGRAM.privateLine(0, 0)).isZero();
        assertThat(PROGRAM.sharedLine(11)).isEqualTo(6);
        assertThat(PROGRAM.sharedLine(5)).isEqualTo(8);
        assertThat(PROGRAM.sharedLine(12)).isEqualTo(11);
        assertThat(PROGRAM.sharedLine(13)).isEqualTo(12);
        assertThat(PROGRAM.sharedLine(14)).isEqualTo(13);
        assertThat(PROGRAM.sharedLine(0)).isZero();
    }

    @Test
    void sourceLine_outsideOfTheText_isEmpty() {
        assertThat(PROGRAM.sourceLine(1)).isEqualTo("goal = 3");
        assertThat(PROGRAM.sourceLine(13)).isEqualTo("halt");
        assertThat(PROGRAM.sourceLine(0)).isEmpty();
        assertThat(PROGRAM.sourceLine(-5)).isEmpty();
        assertThat(PROGRAM.sourceLine(14)).isEmpty();
    }

    @Test
    void lists_ofAProgram_cannotBeChanged() {
        assertThatThrownBy(() -> PROGRAM.constants().put("a", 1L)).isInstanceOf(UnsupportedOperationException.class);
        assertThatThrownBy(() -> PROGRAM.blocks().clear()).isInstanceOf(UnsupportedOperationException.class);
        assertThatThrownBy(() -> PROGRAM.source().clear()).isInstanceOf(UnsupportedOperationException.class);
    }

    /** Against a plain search through all sections. */
    @Test
    void shared_amongManySections_findsTheRightOne() {
        Random random = new Random(7);
        StringBuilder text = new StringBuilder();
        int address = 0;
        for (int i = 0; i < 500; i++) {
            address += random.nextInt(3);
            int size = random.nextInt(4);
            text.append("shared at %d\nspace %d\n".formatted(address, size));
            address += size;
        }
        Program program = Asm.program(text.toString());

        for (int at = 0; at < address + 5; at++) {
            Block expected = null;
            for (Block block : program.blocks()) {
                if (at >= block.address() && at < block.address() + block.words().length) {
                    expected = block;
                }
            }
            assertThat(program.shared(at)).isSameAs(expected);
        }
    }
}
