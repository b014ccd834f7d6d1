package octurn.published;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.util.Map;
import java.util.zip.Adler32;
import java.util.zip.CRC32;
import java.util.zip.CRC32C;
import java.util.zip.Checksum;
import octurn.design.Design;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class ChecksumsTest {

    private static final String DIGITS = "123456789";

    /** The check value that catalogues of CRCs give for "123456789" under CRC-32: CBF43926. */
    @Test
    void crc32_ofTheDigits_isTheCheckValue() {
        assertThat(Published.run("crc32").word("result")).isEqualTo(0xCBF43926);
    }

    @ParameterizedTest
    @ValueSource(ints = {0, 1, 2, 7, 64, 300})
    void crc32_ofAnyText_isThatOfTheJdk(int length) {
        String message = Published.randomMessage(320 + length, length);

        assertThat(Published.runMessage("crc32", DIGITS, message).word("result"))
                .isEqualTo(checksum(new CRC32(), message));
    }

    /** CRC-32C: polynomial 1EDC6F41, reflected 82F63B78; check value E3069283. */
    @Test
    void crc32c_ofTheDigits_isTheCheckValueAndThatOfTheJdk() {
        Published run = Published.run("crc32", Map.of("polynomial", 0x82F63B78L));

        assertThat(run.word("result")).isEqualTo(0xE3069283).isEqualTo(checksum(new CRC32C(), DIGITS));
    }

    /** Check values of catalogues of CRCs for "123456789". */
    @ParameterizedTest
    @CsvSource({
        "CRC-16/ARC,      0x8005, 0,      1, 0, BB3D",
        "CRC-16/MODBUS,   0x8005, 0xFFFF, 1, 0, 4B37",
        "CRC-16/XMODEM,   0x1021, 0,      0, 0, 31C3",
        "CRC-16/IBM-3740, 0x1021, 0xFFFF, 0, 0, 29B1",
        "CRC-16/KERMIT,   0x1021, 0,      1, 0, 2189",
        "CRC-16/X-25,     0x1021, 0xFFFF, 1, 1, 906E",
    })
    void crc16_ofTheDigits_isTheCheckValue(
            String name, String polynomial, String initial, long reflected, long inverted, String check) {
        Published run = Published.run(
                "crc16",
                Map.of(
                        "polynomial",
                        Long.decode(polynomial),
                        "initial",
                        Long.decode(initial),
                        "reflected",
                        reflected,
                        "inverted",
                        inverted));

        assertThat(run.word("result")).as(name).isEqualTo(Integer.parseInt(check, 16));
    }

    /** RFC 1950 defines Adler-32; these values were computed from that definition. */
    @ParameterizedTest
    @CsvSource({"123456789, 091E01DE", "abc, 024D0127", "'', 00000001"})
    void adler32_ofAText_isItsValueAndThatOfTheJdk(String message, String check) {
        assertThat(Published.runMessage("adler32", DIGITS, message).word("result"))
                .isEqualTo(Integer.parseUnsignedInt(check, 16))
                .isEqualTo(checksum(new Adler32(), message));
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 50, 800})
    void adler32_ofAnyText_isThatOfTheJdk(int length) {
        String message = Published.randomMessage(1950 + length, length);

        assertThat(Published.runText(Published.withMessage(Published.text("adler32"), DIGITS, message), Design.DEFAULT)
                        .word("result"))
                .isEqualTo(checksum(new Adler32(), message));
    }

    private static int checksum(Checksum checksum, String message) {
        checksum.update(message.getBytes(StandardCharsets.US_ASCII));
        return (int) checksum.getValue();
    }
}
