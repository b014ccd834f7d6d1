package octurn.asm;

import static java.util.Map.entry;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Random;
import octurn.design.Admission;
import octurn.design.Clock;
import octurn.design.Cost;
import octurn.design.Design;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class ExpressionsTest {

    @ParameterizedTest
    @CsvSource(
            quoteCharacter = '`',
            value = {
                "42, 42",
                "0, 0",
                "007, 7",
                "0x2A, 42",
                "0X2a, 42",
                "0xdeadBEEF, -559038737",
                "0b10_1010, 42",
                "0B101, 5",
                "1_000, 1000",
                "0x1_0, 16",
                "4294967295, -1",
                "-2147483648, -2147483648",
                "'A', 65",
                "' ', 32",
                "';', 59",
                "'\"', 34",
                "'é', 233",
                "'\uD83C\uDF31', 127793",
                "'\\n', 10",
                "'\\r', 13",
                "'\\t', 9",
                "'\\0', 0",
                "'\\\\', 92",
                "'\\'', 39",
                "'\\\"', 34"
            })
    void number_inEveryNotation_isItsValue(String written, int value) {
        assertThat(Asm.values(written)).containsExactly(value);
    }

    @ParameterizedTest
    @CsvSource({
        "2+3*4, 14",
        "(2+3)*4, 20",
        "2*3+4, 10",
        "10-3-2, 5",
        "100/10/2, 5",
        "100/(10/2), 20",
        "7*3/2, 10",
        "7/2*3, 9",
        "17%5*2, 4",
        "2*17%5, 4",
        "1+2<<3, 24",
        "1<<2+3, 32",
        "1<<2<<3, 32",
        "64>>2>>1, 8",
        "64>>2<<1, 32",
        "1|2^3&4, 3",
        "7&6^1, 7",
        "6^7&1, 7",
        "4|1^1, 4",
        "12&10|1, 9",
        "1|12&10, 9",
        "3&1<<1, 2",
        "-2*3, -6",
        "-(2*3), -6",
        "2- -3, 5",
        "--3, 3",
        "~0, -1",
        "~~5, 5",
        "-~5, 6",
        "~-5, 4",
        "-1>>1, -1",
        "-8>>1, -4",
        "-8/3, -2",
        "8/-3, -2",
        "-8%3, -2",
        "8%-3, 2",
        "1<<31, -2147483648",
        "-1<<31, -2147483648",
        "1<<62>>62, 1",
        "1<<0, 1",
        "-1>>63, -1",
        "0<<63, 0",
        "9223372036854775807>>32, 2147483647",
        "9223372036854775807-9223372036854775807+5, 5",
        "-9223372036854775807-1>>63, -1",
        "(((((5))))), 5"
    })
    void expression_operators_bindFromTightestToLoosest(String written, int value) {
        assertThat(Asm.values(written)).containsExactly(value);
    }

    /** Random expressions against a second way to compute them: fully bracketed, in the order of the operators. */
    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3})
    void expression_bracketed_isTheSame(long seed) {
        Random random = new Random(seed);
        String[][] levels = {{"|"}, {"^"}, {"&"}, {"<<", ">>"}, {"+", "-"}, {"*"}};
        for (int i = 0; i < 500; i++) {
            StringBuilder bare = new StringBuilder();
            StringBuilder bracketed = new StringBuilder();
            chain(random, levels, 0, bare, bracketed);

            assertThat(Asm.values("(" + bare + ") & 0xFFFF"))
                    .as(bare.toString())
                    .containsExactly(Asm.values("(" + bracketed + ") & 0xFFFF"));
        }
    }

    private static void chain(
            Random random, String[][] levels, int level, StringBuilder bare, StringBuilder bracketed) {
        if (level == levels.length) {
            String number = Integer.toString(random.nextInt(4));
            bare.append(number);
            bracketed.append(number);
            return;
        }
        StringBuilder left = new StringBuilder();
        chain(random, levels, level + 1, bare, left);
        for (int terms = random.nextInt(3) / 2 + random.nextInt(2); terms > 0; terms--) {
            String sign = levels[level][random.nextInt(levels[level].length)];
            StringBuilder right = new StringBuilder();
            if (sign.length() == 2) {
                // A shift by a small number, or most would overflow.
                String by = Integer.toString(random.nextInt(3));
                bare.append(sign).append(by);
                right.append(by);
            } else {
                bare.append(sign);
                chain(random, levels, level + 1, bare, right);
            }
            left.insert(0, '(').append(sign).append(right).append(')');
        }
        bracketed.append(left);
    }

    @Test
    void knownNames_underRotation_comeFromTheDesign() {
        Design design = new Design(
                "t",
                4,
                64,
                64,
                5,
                new Admission.Rotation(List.of(0, 1, 0)),
                Cost.DEFAULT,
                16,
                new Clock(Clock.Source.CRYSTAL, 5_000_000, 16, 50));

        assertThat(Asm.program(design, "core 0", "word clock, cores, slot, rotation")
                        .core(0)
                        .words())
                .containsExactly(80_000_000, 4, 5, 15);
    }

    @Test
    void knownNames_underAnotherPolicy_rotationIsSlotTimesCores() {
        Design design = new Design("t", 4, 64, 64, 5, new Admission.FirstCome(), Cost.DEFAULT, 16, Clock.DEFAULT);

        assertThat(Asm.program(design, "core 0", "word rotation, clock").core(0).words())
                .containsExactly(20, 48_000_000);
    }

    /** The largest clock needs more than 32 bits. */
    @Test
    void clock_ofTheFastestDesign_isAWholeNumber() {
        Design design = new Design(
                "t",
                1,
                64,
                64,
                1,
                new Admission.FirstCome(),
                Cost.DEFAULT,
                16,
                new Clock(Clock.Source.CRYSTAL, 1_000_000_000, 64, 0));

        assertThat(Asm.program(design, "core 0", "word clock / 1000").core(0).words())
                .containsExactly(64_000_000);
    }

    @Test
    void constant_usedBeforeItsDefinition_isKnown() {
        assertThat(Asm.core0("a = b * 2", "core 0", "word a, b, c", "b = c + 1", "c = 4"))
                .containsExactly(10, 5, 4);
    }

    @Test
    void constant_ofLabels_isTheirAddress() {
        assertThat(Asm.core0(
                        "size = end - begin",
                        "core 0",
                        "nop",
                        "here = top - 1",
                        "word size, begin, end, here",
                        "top: word 0",
                        "shared at 70",
                        "begin: word 1, 2, 3",
                        "end:"))
                .containsExactly(0x20020000, 3, 70, 73, 4, 0);
    }

    /** A section's own labels are seen from the section alone; a constant looks them up where it is written. */
    @Test
    void constant_insideASection_seesTheLabelsOfThatSection() {
        Program program = Asm.program(
                "core 0",
                "nop",
                "top: word first, second",
                "first = top",
                "core 1",
                "top: word first, second",
                "second = top");

        assertThat(program.core(0).words()).containsExactly(0x20020000, 1, 0);
        assertThat(program.core(1).words()).containsExactly(1, 0);
        assertThat(program.constants()).containsExactly(entry("first", 1L), entry("second", 0L));
    }

    @Test
    void constants_chainOfManyThousands_isWorkedOut() {
        StringBuilder text = new StringBuilder();
        int count = 40_000;
        for (int i = 0; i < count; i++) {
            text.append("c%d = c%d + 1\n".formatted(i, i + 1));
        }
        text.append("c%d = 0\ncore 0\nword c0, c1\n".formatted(count));

        assertThat(Asm.core0(text.toString())).containsExactly(count, count - 1);
    }

    @Test
    void names_differInCase() {
        assertThat(Asm.core0("x = 1", "X = 2", "core 0", "word x, X, Clock", "Clock = 3"))
                .containsExactly(1, 2, 3);
    }

    @Test
    void expression_nested100Deep_isFine() {
        assertThat(Asm.values("(".repeat(99) + "7" + ")".repeat(99), "-".repeat(98) + "3"))
                .containsExactly(7, 3);
    }

    /** A line of 1000 characters holds some 490 operators one behind the other. */
    @Test
    void expression_asLongAsALine_isFine() {
        assertThat(Asm.values("0" + "+1".repeat(480))).containsExactly(480);
    }
}
