package octurn.machine;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import octurn.isa.Condition;
import octurn.isa.Op;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Arithmetic and conditions, against {@link BigInteger}, on corner values and random ones. */
class AluTest {

    private static final BigInteger TWO_TO_32 = BigInteger.ONE.shiftLeft(32);

    private static final int[] CORNERS = {
        0,
        1,
        2,
        3,
        5,
        31,
        32,
        33,
        255,
        65535,
        65536,
        0x7FFFFFFE,
        Integer.MAX_VALUE,
        Integer.MIN_VALUE,
        Integer.MIN_VALUE + 1,
        -65536,
        -33,
        -32,
        -3,
        -2,
        -1,
        0x55555555,
        0xAAAAAAAA
    };

    private record Pair(int a, int b) {}

    private static List<Pair> pairs() {
        List<Pair> pairs = new ArrayList<>();
        for (int a : CORNERS) {
            for (int b : CORNERS) {
                pairs.add(new Pair(a, b));
            }
        }
        Random random = new Random(42);
        for (int i = 0; i < 3000; i++) {
            pairs.add(new Pair(random.nextInt(), random.nextInt() >> random.nextInt(32)));
        }
        return pairs;
    }

    @ParameterizedTest
    @EnumSource(names = {"ADD", "SUB", "MUL", "MULH", "DIV", "REM", "AND", "OR", "XOR", "SHL", "SHR", "SAR", "ROL"})
    void compute_anyOperands_isTheIntegersResultInTheLow32Bits(Op op) {
        for (Pair pair : pairs()) {
            boolean byZero = (op == Op.DIV || op == Op.REM) && pair.b == 0;
            if (!byZero) {
                assertThat(Alu.compute(op.code(), pair.a, pair.b))
                        .as("%s of %s", op, pair)
                        .isEqualTo(exact(op, pair.a, pair.b).intValue());
            }
        }
    }

    private static BigInteger exact(Op op, int a, int b) {
        BigInteger x = BigInteger.valueOf(a);
        BigInteger y = BigInteger.valueOf(b);
        BigInteger unsigned = BigInteger.valueOf(Integer.toUnsignedLong(a));
        int shift = Math.floorMod(b, 32);
        return switch (op) {
            case ADD -> x.add(y);
            case SUB -> x.subtract(y);
            case MUL -> x.multiply(y);
            // Rounded towards minus infinity: the high word of the two's complement product.
            case MULH -> x.multiply(y).shiftRight(32);
            case DIV -> x.divide(y);
            case REM -> x.remainder(y);
            case AND -> x.and(y);
            case OR -> x.or(y);
            case XOR -> x.xor(y);
            case SHL -> x.shiftLeft(shift);
            case SHR -> unsigned.shiftRight(shift);
            case SAR -> x.shiftRight(shift);
            case ROL ->
                unsigned.shiftLeft(shift)
                        .mod(TWO_TO_32)
                        .or(unsigned.shiftLeft(shift).shiftRight(32));
            default -> throw new AssertionError(op);
        };
    }

    @Test
    void div_ofTheLeastNumberByMinus1_wraps() {
        assertThat(Alu.compute(Op.DIV.code(), Integer.MIN_VALUE, -1)).isEqualTo(Integer.MIN_VALUE);
        assertThat(Alu.compute(Op.REM.code(), Integer.MIN_VALUE, -1)).isZero();
    }

    @Test
    void compute_whatIsNoArithmetic_isAnInternalError() {
        assertThatThrownBy(() -> Alu.compute(Op.HALT.code(), 1, 1))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("no arithmetic: operation 50");
    }

    @ParameterizedTest
    @EnumSource
    void holds_anyOperands_isTheIntegersComparison(Condition condition) {
        for (Pair pair : pairs()) {
            int signed = BigInteger.valueOf(pair.a).compareTo(BigInteger.valueOf(pair.b));
            int unsigned = Long.compare(Integer.toUnsignedLong(pair.a), Integer.toUnsignedLong(pair.b));
            boolean expected = switch (condition) {
                case EQ -> signed == 0;
                case NE -> signed != 0;
                case LT -> signed < 0;
                case LE -> signed <= 0;
                case GT -> signed > 0;
                case GE -> signed >= 0;
                case ULT -> unsigned < 0;
                case ULE -> unsigned <= 0;
                case UGT -> unsigned > 0;
                case UGE -> unsigned >= 0;
            };
            assertThat(Alu.holds(condition.code(), pair.a, pair.b))
                    .as("%s of %s", condition, pair)
                    .isEqualTo(expected);
        }
    }

    @Test
    void holds_whatIsNoCondition_isAnInternalError() {
        assertThatThrownBy(() -> Alu.holds(10, 1, 1))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("no condition: 10");
    }

    @Test
    void upper_setsTheTopTenBits() {
        assertThat(Alu.upper(0, 1023)).isEqualTo(0xFFC00000);
        assertThat(Alu.upper(-1, 0)).isEqualTo(0x003FFFFF);
        assertThat(Alu.upper(0x12345678, 0b1010101010)).isEqualTo(0xAA800000 | (0x12345678 & 0x003FFFFF));
    }
}
