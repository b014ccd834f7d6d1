package octurn.published;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class HashesTest {

    /** FIPS 180-4: the example "abc". */
    @Test
    void sha256_ofAbc_isThatOfTheStandard() {
        assertThat(Published.run("sha256").hex("hash", 8))
                .isEqualTo("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    }

    /** Lengths around the ends of blocks: 55 is the longest message of one block, 119 of two. */
    @ParameterizedTest
    @ValueSource(ints = {0, 1, 3, 54, 55, 56, 63, 64, 65, 119, 120, 200, 500})
    void sha256_ofAnyText_isThatOfTheJdk(int length) throws NoSuchAlgorithmException {
        String message = Published.randomMessage(256 + length, length);

        assertThat(Published.runMessage("sha256", "abc", message).hex("hash", 8))
                .isEqualTo(digest("SHA-256", message));
    }

    /** RFC 1321, appendix A.5: MD5 of "abc". The program gives words whose lowest byte comes first. */
    @Test
    void md5_ofAbc_isThatOfTheRfcAndOfTheJdk() throws NoSuchAlgorithmException {
        Published run = Published.run("md5");

        StringBuilder hash = new StringBuilder();
        for (int i = 0; i < 4; i++) {
            hash.append("%08x".formatted(Integer.reverseBytes(run.word("hash", i))));
        }
        assertThat(hash.toString())
                .isEqualTo("900150983cd24fb0d6963f7d28e17f72")
                .isEqualTo(digest("MD5", "abc"));
    }

    /**
     * Test vectors of XTEA with 32 cycles (Needham and Wheeler, "Tea extensions", 1997, define it): a key and a text of
     * zeros, and the key 000102..0F with the text ABCDEFGH.
     */
    @ParameterizedTest
    @CsvSource({
        "0, 0, 0, 0, 0, 0, dee9d4d8f7131ed9",
        "0x00010203, 0x04050607, 0x08090A0B, 0x0C0D0E0F, 0x41424344, 0x45464748, 497df3d072612cb5",
    })
    void xtea_ofAVector_isItsCipherAndComesBack(
            long key0, long key1, long key2, long key3, long text0, long text1, String cipher) {
        Published run = Published.run(
                "xtea", Map.of("key0", key0, "key1", key1, "key2", key2, "key3", key3, "text0", text0, "text1", text1));

        assertThat(run.hex("ciphered", 2)).isEqualTo(cipher);
        assertThat(run.word("again_plain")).isEqualTo((int) text0);
        assertThat(run.word("again_plain", 1)).isEqualTo((int) text1);
    }

    private static String digest(String algorithm, String message) throws NoSuchAlgorithmException {
        byte[] bytes = message.getBytes(StandardCharsets.US_ASCII);
        return HexFormat.of().formatHex(MessageDigest.getInstance(algorithm).digest(bytes));
    }
}
