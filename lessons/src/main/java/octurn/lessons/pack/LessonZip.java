package octurn.lessons.pack;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.time.LocalDateTime;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.regex.Pattern;
import java.util.zip.CRC32;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;

/**
 * A lesson as one zip file: a folder named as the lesson's id, and in it the lesson's files.
 *
 * @param id the folder's name
 * @param files by name, sorted
 */
public record LessonZip(String id, SortedMap<String, byte[]> files) {

    /** The most bytes that a packed lesson may have. */
    public static final int MOST_ZIP_BYTES = 8 << 20;

    /** The most files in a lesson. */
    public static final int MOST_FILES = 256;

    /** The most bytes of one file, as of any file of ours. */
    public static final int MOST_FILE_BYTES = 1 << 20;

    /** The most bytes of all files together. */
    public static final int MOST_BYTES = 8 << 20;

    /** What files of a lesson, and lessons, may be called. */
    public static final Pattern NAME = Pattern.compile("[a-z0-9][a-z0-9.-]{0,63}");

    /** The time of every file in a zip of ours: the first that the form can tell. */
    private static final LocalDateTime BEGINNING = LocalDateTime.of(1980, 1, 1, 0, 0);

    public LessonZip {
        files = new TreeMap<>(files);
        requireName(id);
        files.keySet().forEach(LessonZip::requireName);
    }

    private static void requireName(String name) {
        if (!NAME.matcher(name).matches()) {
            throw new IllegalArgumentException("no name in a lesson: " + name);
        }
    }

    /**
     * The zip file. The same lesson gives the same bytes everywhere, which is why nothing is compressed: compressors differ
     * from one system to the next.
     */
    public byte[] bytes() {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try (ZipOutputStream zip = new ZipOutputStream(bytes)) {
            for (Map.Entry<String, byte[]> file : files.entrySet()) {
                ZipEntry entry = new ZipEntry(id + "/" + file.getKey());
                CRC32 crc = new CRC32();
                crc.update(file.getValue());
                entry.setMethod(ZipEntry.STORED);
                entry.setSize(file.getValue().length);
                entry.setCrc(crc.getValue());
                entry.setTimeLocal(BEGINNING);
                zip.putNextEntry(entry);
                zip.write(file.getValue());
                zip.closeEntry();
            }
        } catch (IOException e) {
            // Memory has no end that is met here.
            throw new IllegalStateException(e);
        }
        return bytes.toByteArray();
    }
}
