package octurn.cli.process;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.nio.channels.Channels;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.DirectoryIteratorException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.BasicFileAttributes;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import octurn.lessons.mark.Handed;
import octurn.lessons.mark.Item;
import octurn.lessons.mark.Item.Kind;

/**
 * A folder with what students handed in, one file or folder each, none of which is trusted: no link is followed, no pipe
 * or device opened, and what is too deep, too many or too large is not looked at. Names are those of the file system
 * whatever the locale; bytes in them that are no UTF-8 are shown as {@code %FF}.
 */
public final class SubmissionFolder {

    /** The most students. */
    public static final int MOST_ENTRIES = 10_000;

    /** The most files that are looked at in one student's folder. */
    public static final int MOST_ITEMS = 1000;

    /** The most folders in folders that are looked into. */
    public static final int DEEPEST = 4;

    private final Path folder;
    private final List<Handed> entries = new ArrayList<>();
    private final List<String> ignored = new ArrayList<>();
    private final Map<String, Path> places = new HashMap<>();

    private SubmissionFolder(Path folder) {
        this.folder = folder;
    }

    /**
     * Lists a folder, which may itself be reached by a link.
     *
     * @throws Failure if it is none, cannot be read, or holds too much
     */
    public static SubmissionFolder open(String name) {
        Path path = InputFiles.path(name);
        if (!Files.isDirectory(path)) {
            throw new Failure(name + (Files.exists(path) ? ": is no folder" : ": there is no such folder"));
        }
        try {
            SubmissionFolder opened = new SubmissionFolder(path.toRealPath());
            List<Path> entries = list(opened.folder, MOST_ENTRIES + 1);
            if (entries.size() > MOST_ENTRIES) {
                throw new Failure("%s: holds more than %,d files and folders".formatted(name, MOST_ENTRIES));
            }
            entries.forEach(opened::add);
            opened.entries.sort(Comparator.comparing(Handed::entry, Handed.BY_NAME));
            opened.ignored.sort(Handed.BY_NAME);
            return opened;
        } catch (IOException e) {
            throw new Failure("%s: %s".formatted(name, InputFiles.reason(e)));
        }
    }

    private static List<Path> list(Path folder, int most) throws IOException {
        List<Path> paths = new ArrayList<>();
        try (DirectoryStream<Path> stream = Files.newDirectoryStream(folder)) {
            for (Path path : stream) {
                if (paths.size() == most) {
                    break;
                }
                paths.add(path);
            }
        } catch (DirectoryIteratorException e) {
            throw e.getCause();
        }
        return paths;
    }

    private void add(Path path) {
        String entry = name(path);
        if (isHousekeeping(entry)) {
            ignored.add(entry);
            return;
        }
        Item item = item(entry, path);
        List<Item> items = new ArrayList<>();
        if (item.kind() == Kind.FOLDER) {
            collect(entry, path, 1, items);
        } else {
            items.add(item);
            places.put(item.path(), path);
        }
        items.sort(Comparator.comparing(Item::path, Handed.BY_NAME));
        entries.add(new Handed(entry, item.kind(), items));
    }

    /** What systems leave in folders without being asked: names that begin with a point, and a few more. */
    private static boolean isHousekeeping(String name) {
        return name.startsWith(".")
                || name.equals("__MACOSX")
                || name.equalsIgnoreCase("Thumbs.db")
                || name.equalsIgnoreCase("desktop.ini");
    }

    private void collect(String prefix, Path folderPath, int depth, List<Item> items) {
        List<Path> paths;
        try {
            paths = list(folderPath, MOST_ITEMS);
        } catch (IOException e) {
            items.add(new Item(prefix + "/", Kind.UNREADABLE, 0, Instant.EPOCH));
            return;
        }
        for (Path path : paths) {
            String file = name(path);
            if (isHousekeeping(file) || items.size() >= MOST_ITEMS) {
                continue;
            }
            Item item = item(prefix + "/" + file, path);
            if (item.kind() == Kind.FOLDER) {
                if (depth < DEEPEST) {
                    collect(item.path(), path, depth + 1, items);
                }
            } else {
                items.add(item);
                places.put(item.path(), path);
            }
        }
    }

    private static Item item(String name, Path path) {
        try {
            BasicFileAttributes attributes =
                    Files.readAttributes(path, BasicFileAttributes.class, LinkOption.NOFOLLOW_LINKS);
            Kind kind = attributes.isRegularFile()
                    ? Kind.FILE
                    : attributes.isDirectory() ? Kind.FOLDER : attributes.isSymbolicLink() ? Kind.LINK : Kind.OTHER;
            return new Item(
                    name, kind, attributes.size(), attributes.lastModifiedTime().toInstant());
        } catch (IOException e) {
            return new Item(name, Kind.UNREADABLE, 0, Instant.EPOCH);
        }
    }

    /**
     * The name of a file as its bytes are UTF-8: Java's own reading of it depends on the locale, and would give a student
     * another name, and so other numbers, under another one.
     */
    private static String name(Path path) {
        String uri = path.toUri().getRawPath();
        String end = uri.endsWith("/") ? uri.substring(0, uri.length() - 1) : uri;
        String raw = end.substring(end.lastIndexOf('/') + 1);
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        for (int i = 0; i < raw.length(); i++) {
            char c = raw.charAt(i);
            if (c == '%') {
                bytes.write(Integer.parseInt(raw, i + 1, i + 3, 16));
                i += 2;
            } else {
                bytes.writeBytes(Character.toString(c).getBytes(StandardCharsets.UTF_8));
            }
        }
        try {
            return StandardCharsets.UTF_8
                    .newDecoder()
                    .decode(ByteBuffer.wrap(bytes.toByteArray()))
                    .toString();
        } catch (CharacterCodingException e) {
            return raw;
        }
    }

    /** Where it really is. */
    public Path path() {
        return folder;
    }

    /** What students handed in, by name. */
    public List<Handed> entries() {
        return List.copyOf(entries);
    }

    /** What was passed over: names that systems give to files of their own. */
    public List<String> ignored() {
        return List.copyOf(ignored);
    }

    /**
     * The bytes of a file, at most so many; the rest of a larger one is not read.
     *
     * @throws IOException if it cannot be read, also because it was replaced by a link in the meantime
     */
    public byte[] read(Item item, int most) throws IOException {
        Path place = places.get(item.path());
        if (place == null) {
            throw new IllegalArgumentException("not in this folder: " + item);
        }
        try (InputStream in = Channels.newInputStream(
                Files.newByteChannel(place, Set.of(StandardOpenOption.READ, LinkOption.NOFOLLOW_LINKS)))) {
            return in.readNBytes(most);
        }
    }
}
