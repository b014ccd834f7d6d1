package octurn.published;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.math.BigInteger;
import java.util.Map;
import java.util.Random;
import octurn.design.Admission;
import octurn.design.Clock;
import octurn.design.Cost;
import octurn.design.Design;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class NumbersTest {

    private static final BigInteger WORD = BigInteger.ONE.shiftLeft(32);

    /** The number of primes up to 10, 100 .. (OEIS A006880). The last one needs a larger private RAM. */
    @ParameterizedTest
    @CsvSource({"10, 4", "100, 25", "1000, 168", "10000, 1229", "100000, 9592"})
    void sieve_belowALimit_countsThePrimes(long limit, int primes) {
        Design roomy = new Design(
                "roomy",
                8,
                4096,
                16384,
                3,
                new Admission.Rotation(Design.plainOrder(8)),
                Cost.DEFAULT,
                16,
                Clock.DEFAULT);

        Published run = Published.runText(Published.text("primes"), roomy, Map.of("limit", limit));

        assertThat(run.word("count")).isEqualTo(primes);
    }

    @Test
    void sieve_onTheStandardChip_countsThePrimesBelow10000() {
        assertThat(Published.run("primes").word("count")).isEqualTo(1229);
    }

    /** gcd(1071, 462) = 21 in three divisions: the textbook example of Euclid's algorithm (common practice). */
    @Test
    void euclid_of1071And462_is21InThreeDivisions() {
        Published run = Published.run("gcd");

        assertThat(run.word("divisor")).isEqualTo(21);
        assertThat(run.word("divisions")).isEqualTo(3);
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8})
    void euclid_ofAnyNumbers_isThatOfBigInteger(long seed) {
        Random random = new Random(seed);
        long left = 1L + random.nextInt(2_000_000);
        long right = 1L + random.nextInt(2_000_000);

        Published run = Published.run("gcd", Map.of("left", left, "right", right));

        assertThat(run.word("divisor"))
                .as("gcd(%d, %d)", left, right)
                .isEqualTo(
                        BigInteger.valueOf(left).gcd(BigInteger.valueOf(right)).intValueExact());
    }

    /** F(40) = 102334155 (OEIS A000045). */
    @Test
    void fibonacci_of40_is102334155() {
        assertThat(Published.run("fibonacci").word("number")).isEqualTo(102334155);
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 46, 47, 48, 100, 1000})
    void fibonacci_ofAny_isThatOfBigIntegerCutToAWord(long index) {
        BigInteger current = BigInteger.ZERO;
        BigInteger next = BigInteger.ONE;
        for (int i = 0; i < index; i++) {
            BigInteger sum = current.add(next);
            current = next;
            next = sum;
        }

        assertThat(Published.run("fibonacci", Map.of("index", index)).word("number"))
                .isEqualTo(current.mod(WORD).intValue());
    }

    /** OEIS A000170. */
    @ParameterizedTest
    @CsvSource({"1, 1", "2, 0", "3, 0", "4, 2", "5, 10", "6, 4", "7, 40", "8, 92"})
    void queens_onABoard_standInSoManyWays(long size, int ways) {
        assertThat(Published.run("queens", Map.of("size", size)).word("ways")).isEqualTo(ways);
    }

    /**
     * Volder, "The CORDIC Trigonometric Computing Technique" (1959): after sixteen turns the error is a few units of the
     * last place, here 1/65536. Compared with the JDK's sine and cosine.
     */
    @ParameterizedTest
    @ValueSource(longs = {0, 1, 100, 20000, 34315, 51472, 68629, 102944, -34315, -102944})
    void cordic_ofAnAngle_isNearSineAndCosine(long angle) {
        Published run = Published.run("cordic", Map.of("angle", angle));

        double radians = angle / 65536.0;
        assertThat(run.word("sine") / 65536.0).isCloseTo(Math.sin(radians), within(10 / 65536.0));
        assertThat(run.word("cosine") / 65536.0).isCloseTo(Math.cos(radians), within(10 / 65536.0));
    }

    /** Random factors, and the corners where signs turn over. */
    @ParameterizedTest
    @CsvSource({
        "0, 0", "-1, -1", "-2147483648, -2147483648", "-2147483648, 2147483647", "2147483647, 2147483647",
        "65536, 65536", "-65536, 65537", "123456789, -987654321", "1732050807, 1414213562", "-1, -2147483648",
    })
    void mulAndMulh_together_areTheProductOfBigInteger(int left, int right) {
        String text = """
                core 0
                        big   r1, %d
                        big   r2, %d
                        mul   r3, r1, r2
                        mulh  r4, r1, r2
                        post  r4, [product]
                        post  r3, [product+1]
                        halt
                shared
                product:
                        space 2
                """.formatted(left, right);

        BigInteger product = BigInteger.valueOf(left).multiply(BigInteger.valueOf(right));
        Published run = Published.runText(text, Design.DEFAULT);
        assertThat(run.word("product")).isEqualTo(product.shiftRight(32).intValue());
        assertThat(run.word("product", 1)).isEqualTo(product.intValue());
    }
}
