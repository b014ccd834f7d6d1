package octurn.lessons.pack;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.TreeMap;
import java.util.zip.CRC32;
import java.util.zip.DataFormatException;
import java.util.zip.Inflater;
import octurn.diag.Diagnostic;
import octurn.diag.Span;
import octurn.json.Reading;
import org.jspecify.annotations.Nullable;

/**
 * Reads packed lessons from whoever made them (the form: PKWARE, APPNOTE.TXT - .ZIP File Format Specification 6.3.10).
 *
 * <p>Only what its directory lists is read, and only what a lesson needs is taken: plain files, stored or deflated, named
 * as files of a lesson are, in one folder. So no path can lead anywhere else, nothing is a link, and no file is there
 * twice. Sizes are those of the directory, are added up before anything is unpacked, and hold to the byte.
 */
public final class ZipReader {

    /** Text packs to a fifth or so; more than this comes from bytes that all are the same. */
    private static final int MOST_RATIO = 200;

    private static final int END = 0x06054b50;
    private static final int END_BYTES = 22;
    private static final int LONGEST_COMMENT = 0xFFFF;
    private static final int ENTRY = 0x02014b50;
    private static final int ENTRY_BYTES = 46;
    private static final int LOCAL = 0x04034b50;
    private static final int LOCAL_BYTES = 30;

    private static final int ENCRYPTED = 0x0041;
    private static final int STORED = 0;
    private static final int DEFLATED = 8;
    private static final int UNIX = 3;
    private static final int MACOS = 19;
    private static final int TYPE = 0xF000;
    private static final int FOLDER = 0x4000;
    private static final int PLAIN = 0x8000;

    /** Where the form has its fields. */
    private record Entry(String path, int method, long crc, long packed, long size, long local) {

        String folder() {
            return path.substring(0, path.indexOf('/'));
        }

        String name() {
            return path.substring(path.indexOf('/') + 1);
        }
    }

    /** Ends the reading. */
    private static final class Refusal extends Exception {
        private static final long serialVersionUID = 1;

        private final String message;
        private final @Nullable String hint;

        Refusal(String message, @Nullable String hint) {
            super(message, null, false, false);
            this.message = message;
            this.hint = hint;
        }
    }

    private final ByteBuffer zip;

    private ZipReader(byte[] bytes) {
        this.zip = ByteBuffer.wrap(bytes).order(ByteOrder.LITTLE_ENDIAN);
    }

    /**
     * Reads one packed lesson.
     *
     * @param file its name as the user gave it, for messages
     */
    public static Reading<LessonZip> read(String file, byte[] bytes) {
        try {
            if (bytes.length > LessonZip.MOST_ZIP_BYTES) {
                throw new Refusal(
                        "larger than %,d bytes, the most that is read".formatted(LessonZip.MOST_ZIP_BYTES), null);
            }
            return new Reading.Accepted<>(new ZipReader(bytes).lesson(), List.of());
        } catch (Refusal e) {
            return refused(file, e);
        } catch (IndexOutOfBoundsException e) {
            // An offset or a size in the file leads out of it.
            return refused(file, broken());
        }
    }

    private static Reading<LessonZip> refused(String file, Refusal refusal) {
        return new Reading.Refused<>(List.of(Diagnostic.error(Span.file(file), refusal.message, refusal.hint, null)));
    }

    private static Refusal broken() {
        return new Refusal("is no zip file, or a damaged one", "octurn lesson pack makes one");
    }

    private LessonZip lesson() throws Refusal {
        List<Entry> entries = entries();
        if (entries.isEmpty()) {
            throw new Refusal("holds no file", "octurn lesson pack makes a zip file of a lesson's folder");
        }
        String id = entries.get(0).folder();
        long all = 0;
        for (Entry entry : entries) {
            check(entry, id);
            all += entry.size();
        }
        if (all > LessonZip.MOST_BYTES) {
            throw new Refusal(
                    "would unpack to %,d bytes; a lesson has at most %,d".formatted(all, LessonZip.MOST_BYTES), null);
        }
        TreeMap<String, byte[]> files = new TreeMap<>();
        for (Entry entry : entries) {
            if (files.put(entry.name(), contents(entry)) != null) {
                throw new Refusal("%s is in it twice".formatted(entry.path()), null);
            }
        }
        return new LessonZip(id, files);
    }

    private static void check(Entry entry, String id) throws Refusal {
        String path = entry.path();
        boolean named = LessonZip.NAME.matcher(entry.folder()).matches()
                && LessonZip.NAME.matcher(entry.name()).matches();
        if (!named) {
            throw new Refusal(
                    "\"%s\" is no place for a file of a lesson".formatted(path),
                    "a packed lesson holds one folder with its files; names are made of a-z, 0-9, point and hyphen");
        }
        if (!entry.folder().equals(id)) {
            throw new Refusal(
                    "holds two folders, %s and %s".formatted(id, entry.folder()), "pack each lesson by itself");
        }
        if (entry.size() > LessonZip.MOST_FILE_BYTES) {
            throw new Refusal(
                    "%s would unpack to %,d bytes; a file of a lesson has at most %,d"
                            .formatted(path, entry.size(), LessonZip.MOST_FILE_BYTES),
                    null);
        }
        if (entry.size() > MOST_RATIO * Math.max(1, entry.packed())) {
            throw new Refusal("%s would unpack to more than %d times its size".formatted(path, MOST_RATIO), null);
        }
    }

    // ---- the directory

    private List<Entry> entries() throws Refusal {
        int end = end();
        int count = zip.getShort(end + 10) & 0xFFFF;
        if (count != (zip.getShort(end + 8) & 0xFFFF) || zip.getInt(end + 4) != 0) {
            throw new Refusal("is one part of a zip file in several parts", "pack it into one");
        }
        if (count > 2 * LessonZip.MOST_FILES) {
            throw tooMany(count);
        }
        int at = offset(zip.getInt(end + 16));
        List<Entry> entries = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            if (zip.getInt(at) != ENTRY) {
                throw broken();
            }
            int nameBytes = zip.getShort(at + 28) & 0xFFFF;
            Entry entry = entry(at, nameBytes);
            if (entry != null) {
                entries.add(entry);
            }
            at += ENTRY_BYTES + nameBytes + (zip.getShort(at + 30) & 0xFFFF) + (zip.getShort(at + 32) & 0xFFFF);
        }
        if (at > end) {
            throw broken();
        }
        if (entries.size() > LessonZip.MOST_FILES) {
            throw tooMany(entries.size());
        }
        return entries;
    }

    private static Refusal tooMany(int count) {
        return new Refusal("holds %d files; a lesson has at most %d".formatted(count, LessonZip.MOST_FILES), null);
    }

    /** Where the last record begins: it ends with a comment, so it is looked for from behind. */
    private int end() throws Refusal {
        int last = zip.capacity() - END_BYTES;
        for (int at = last; at >= Math.max(0, last - LONGEST_COMMENT); at--) {
            if (zip.getInt(at) == END && (zip.getShort(at + 20) & 0xFFFF) == last - at) {
                return at;
            }
        }
        throw broken();
    }

    /** One file, or null if this is a folder. */
    private @Nullable Entry entry(int at, int nameBytes) throws Refusal {
        String path = new String(zip.array(), at + ENTRY_BYTES, nameBytes, StandardCharsets.UTF_8);
        int system = zip.get(at + 5) & 0xFF;
        int type = system == UNIX || system == MACOS ? zip.getInt(at + 38) >>> 16 & TYPE : 0;
        if (path.endsWith("/") && path.indexOf('/') == path.length() - 1 && (type == 0 || type == FOLDER)) {
            return null;
        }
        if (type != 0 && type != PLAIN) {
            throw new Refusal("%s is no plain file".formatted(path), "links and devices have no place in a lesson");
        }
        if ((zip.getShort(at + 8) & ENCRYPTED) != 0) {
            throw new Refusal("%s is encrypted".formatted(path), "pack it without a password");
        }
        if (path.indexOf('/') < 0) {
            throw new Refusal(
                    "%s stands outside a folder".formatted(path),
                    "a packed lesson holds one folder, named as the lesson's id, with its files");
        }
        int method = zip.getShort(at + 10) & 0xFFFF;
        if (method != STORED && method != DEFLATED) {
            throw new Refusal(
                    "%s is packed by method %d".formatted(path, method), "stored and deflated files are read");
        }
        return new Entry(
                path,
                method,
                zip.getInt(at + 16) & 0xFFFFFFFFL,
                zip.getInt(at + 20) & 0xFFFFFFFFL,
                zip.getInt(at + 24) & 0xFFFFFFFFL,
                zip.getInt(at + 42) & 0xFFFFFFFFL);
    }

    // ---- the files

    private byte[] contents(Entry entry) throws Refusal {
        int local = offset(entry.local());
        if (zip.getInt(local) != LOCAL) {
            throw broken();
        }
        int nameBytes = zip.getShort(local + 26) & 0xFFFF;
        String path = new String(zip.array(), local + LOCAL_BYTES, nameBytes, StandardCharsets.UTF_8);
        if (!path.equals(entry.path())) {
            throw new Refusal("%s goes by another name where it is stored".formatted(entry.path()), null);
        }
        int start = local + LOCAL_BYTES + nameBytes + (zip.getShort(local + 28) & 0xFFFF);
        int end = Math.addExact(start, offset(entry.packed()));
        if (end > zip.capacity()) {
            throw broken();
        }
        byte[] packed = Arrays.copyOfRange(zip.array(), start, end);
        byte[] contents = entry.method() == STORED ? packed : inflated(packed, (int) entry.size(), entry.path());
        CRC32 crc = new CRC32();
        crc.update(contents);
        if (contents.length != entry.size() || crc.getValue() != entry.crc()) {
            throw new Refusal("%s is damaged".formatted(entry.path()), null);
        }
        return contents;
    }

    private static byte[] inflated(byte[] packed, int size, String path) throws Refusal {
        Inflater inflater = new Inflater(true);
        try {
            inflater.setInput(packed);
            // One byte more would show that the directory does not tell the truth.
            byte[] contents = new byte[size + 1];
            int length = 0;
            while (length < contents.length && !inflater.finished()) {
                int more = inflater.inflate(contents, length, contents.length - length);
                if (more == 0 && !inflater.finished()) {
                    throw new Refusal("%s is damaged".formatted(path), null);
                }
                length += more;
            }
            if (length > size) {
                throw new Refusal("%s unpacks to more than it says".formatted(path), null);
            }
            return Arrays.copyOf(contents, length);
        } catch (DataFormatException e) {
            throw new Refusal("%s is damaged".formatted(path), null);
        } finally {
            inflater.end();
        }
    }

    private int offset(long value) throws Refusal {
        if (value < 0 || value > zip.capacity()) {
            throw broken();
        }
        return (int) value;
    }
}
