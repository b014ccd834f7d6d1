package octurn.lessons.pack;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import java.util.zip.ZipOutputStream;
import octurn.json.Reading;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Packed lessons, made by us, by the JDK's own zip classes, and by hands that mean no good. */
class LessonZipTest {

    private static final TreeMap<String, byte[]> FILES = new TreeMap<>(Map.of(
            "lesson.json",
            "{}".getBytes(UTF_8),
            "start.turn",
            "core 0\n".repeat(100).getBytes(UTF_8)));

    private static byte[] packed() {
        return new LessonZip("drip", FILES).bytes();
    }

    /** A zip file as any other program makes it. */
    private static byte[] zip(String... pathsAndTexts) throws IOException {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try (ZipOutputStream zip = new ZipOutputStream(bytes)) {
            for (int i = 0; i < pathsAndTexts.length; i += 2) {
                zip.putNextEntry(new ZipEntry(pathsAndTexts[i]));
                zip.write(pathsAndTexts[i + 1].getBytes(UTF_8));
            }
        }
        return bytes.toByteArray();
    }

    private static LessonZip read(byte[] bytes) {
        Reading<LessonZip> reading = ZipReader.read("drip.zip", bytes);
        assertThat(reading).isInstanceOf(Reading.Accepted.class);
        return ((Reading.Accepted<LessonZip>) reading).value();
    }

    private static String refusal(byte[] bytes) {
        Reading<LessonZip> reading = ZipReader.read("drip.zip", bytes);
        assertThat(reading).isInstanceOf(Reading.Refused.class);
        return ((Reading.Refused<LessonZip>) reading).problems().get(0).message();
    }

    /** The offset of the first entry of the directory. */
    private static int directory(byte[] zip) {
        return buffer(zip).getInt(zip.length - 22 + 16);
    }

    private static ByteBuffer buffer(byte[] zip) {
        return ByteBuffer.wrap(zip).order(ByteOrder.LITTLE_ENDIAN);
    }

    @Test
    void pack_thenRead_givesTheSameFiles() {
        LessonZip lesson = read(packed());
        assertThat(lesson.id()).isEqualTo("drip");
        assertThat(lesson.files()).containsExactlyEntriesOf(FILES);
    }

    @Test
    void pack_twice_givesTheSameBytes() {
        assertThat(packed()).isEqualTo(packed());
    }

    /** The JDK's reader is the check from outside. */
    @Test
    void pack_readByTheJdk_holdsTheFilesInOrder() throws IOException {
        List<String> names = new ArrayList<>();
        try (ZipInputStream zip = new ZipInputStream(new ByteArrayInputStream(packed()))) {
            for (ZipEntry entry = zip.getNextEntry(); entry != null; entry = zip.getNextEntry()) {
                names.add(entry.getName());
                assertThat(zip.readAllBytes())
                        .isEqualTo(FILES.get(entry.getName().substring(5)));
            }
        }
        assertThat(names).containsExactly("drip/lesson.json", "drip/start.turn");
    }

    @Test
    void read_deflatedWithAFolderEntry_isTaken() throws IOException {
        LessonZip lesson = read(zip("drip/", "", "drip/lesson.json", "{} ".repeat(50)));
        assertThat(lesson.files().get("lesson.json")).isEqualTo("{} ".repeat(50).getBytes(UTF_8));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "../evil.turn", "drip/../evil.turn", "/etc/passwd", "drip//evil.turn", "drip/sub/evil.turn",
                        "C:/evil.turn",
                "drip/..", "drip/.hidden", "drip\\evil.turn", "drip/evil\\..\\x", "drip/A.turn", "drip/con :.turn",
                "drip/\u001b[31m.turn", "drip/\u202enrut.x", "__MACOSX/._lesson.json", "drip/", "lesson.json", ""
            })
    void read_aPathThatIsNoPlaceForALessonsFile_isRefused(String path) throws IOException {
        byte[] zip = zip("drip/lesson.json", "{}", path.equals("drip/") ? "drip/x/" : path, "x");
        assertThat(refusal(zip)).containsAnyOf("is no place for", "stands outside a folder", "holds two folders");
    }

    @Test
    void read_twoFolders_isRefused() throws IOException {
        assertThat(refusal(zip("drip/lesson.json", "{}", "drop/lesson.json", "{}")))
                .contains("two folders, drip and drop");
    }

    /** The JDK writes no such file, so another one's second name is written over in both places. */
    @Test
    void read_aNameTwice_isRefused() throws IOException {
        String text =
                new String(zip("drip/aa.turn", "1", "drip/bb.turn", "2"), java.nio.charset.StandardCharsets.ISO_8859_1);
        byte[] zip = text.replace("bb.turn", "aa.turn").getBytes(java.nio.charset.StandardCharsets.ISO_8859_1);
        assertThat(refusal(zip)).isEqualTo("drip/aa.turn is in it twice");
    }

    @Test
    void read_aLink_isRefused() {
        byte[] zip = packed();
        int entry = directory(zip);
        zip[entry + 5] = 3;
        buffer(zip).putInt(entry + 38, 0xA1FF << 16);
        assertThat(refusal(zip)).isEqualTo("drip/lesson.json is no plain file");
    }

    @Test
    void read_anEncryptedFile_isRefused() {
        byte[] zip = packed();
        zip[directory(zip) + 8] |= 1;
        assertThat(refusal(zip)).isEqualTo("drip/lesson.json is encrypted");
    }

    @Test
    void read_aFileStoredUnderAnotherName_isRefused() {
        byte[] zip = packed();
        zip[30] = 'x';
        assertThat(refusal(zip)).isEqualTo("drip/lesson.json goes by another name where it is stored");
    }

    @Test
    void read_aFileThatUnpacksToTooMuch_isRefused() throws IOException {
        assertThat(refusal(zip("drip/lesson.json", "0".repeat(LessonZip.MOST_FILE_BYTES + 1))))
                .isEqualTo(
                        "drip/lesson.json would unpack to 1,048,577 bytes; a file of a lesson has at most 1,048,576");
    }

    @Test
    void read_aFileThatUnpacksToManyTimesItsSize_isRefused() throws IOException {
        assertThat(refusal(zip("drip/lesson.json", "0".repeat(LessonZip.MOST_FILE_BYTES))))
                .isEqualTo("drip/lesson.json would unpack to more than 200 times its size");
    }

    /** The directory says that a file is small, its data go on for ever. */
    @Test
    void read_aDirectoryThatTellsTooSmallASize_isRefused() throws IOException {
        byte[] zip = zip("drip/lesson.json", "0".repeat(1_000_000));
        buffer(zip).putInt(directory(zip) + 24, 100);
        assertThat(refusal(zip)).isEqualTo("drip/lesson.json unpacks to more than it says");
    }

    @Test
    void read_filesThatTogetherUnpackToTooMuch_isRefused() throws IOException {
        String[] files = new String[20];
        Random random = new Random(1);
        StringBuilder noise = new StringBuilder();
        random.ints(500_000, 'a', 'k').forEach(noise::appendCodePoint);
        for (int i = 0; i < files.length; i += 2) {
            files[i] = "drip/%d.turn".formatted(i);
            files[i + 1] = noise + "0".repeat(500_000);
        }
        assertThat(refusal(zip(files))).isEqualTo("would unpack to 10,000,000 bytes; a lesson has at most 8,388,608");
    }

    @Test
    void read_tooManyFiles_isRefused() throws IOException {
        String[] files = new String[2 * LessonZip.MOST_FILES + 2];
        for (int i = 0; i < files.length; i += 2) {
            files[i] = "drip/%d.turn".formatted(i);
            files[i + 1] = "";
        }
        assertThat(refusal(zip(files))).isEqualTo("holds 257 files; a lesson has at most 256");
    }

    @Test
    void read_aZipThatIsTooLarge_isRefused() {
        assertThat(refusal(new byte[LessonZip.MOST_ZIP_BYTES + 1]))
                .isEqualTo("larger than 8,388,608 bytes, the most that is read");
    }

    @ParameterizedTest
    @ValueSource(ints = {0, 1, 21, 22, 100, 100_000})
    void read_noZipAtAll_isRefused(int length) {
        byte[] bytes = new byte[length];
        new Random(length).nextBytes(bytes);
        assertThat(refusal(bytes)).isEqualTo("is no zip file, or a damaged one");
    }

    /** Whatever byte is wrong: the lesson comes out as it was, or not at all, and nothing is thrown. */
    @Test
    void read_withAnyByteChanged_isRefusedOrRight() throws IOException {
        byte[] good = zip("drip/lesson.json", "{} ".repeat(50), "drip/start.turn", "core 0\n");
        for (int at = 0; at < good.length; at++) {
            for (int bit = 1; bit < 256; bit <<= 1) {
                byte[] zip = good.clone();
                zip[at] ^= (byte) bit;
                if (ZipReader.read("x", zip) instanceof Reading.Accepted<LessonZip> accepted) {
                    assertThat(accepted.value().files().values())
                            .as("byte %d, bit %d", at, bit)
                            .contains("core 0\n".getBytes(UTF_8));
                }
            }
        }
    }
}
