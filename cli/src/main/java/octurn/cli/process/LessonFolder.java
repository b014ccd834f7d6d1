package octurn.cli.process;

import java.io.IOException;
import java.io.InputStream;
import java.nio.channels.Channels;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Set;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;

/**
 * The files of one folder of lessons, which somebody else may have made: nothing outside the folder is read, whatever it
 * holds. Links are not followed, nor are devices and pipes opened; names, sizes and numbers of files have limits.
 */
public final class LessonFolder {

    /** The most bytes that are read of a file: as many as any file of ours may have, and one to see that it has more. */
    public static final int MOST_BYTES = (1 << 20) + 1;

    /** The most files that a folder may hold. */
    public static final int MOST_FILES = 500;

    private static final Pattern NAME = Pattern.compile("[a-z0-9][a-z0-9.-]{0,63}");

    private final Path folder;
    private final SortedSet<String> names;
    private final SortedSet<String> folders;
    private final List<String> others;

    private LessonFolder(Path folder, SortedSet<String> names, SortedSet<String> folders, List<String> others) {
        this.folder = folder;
        this.names = names;
        this.folders = folders;
        this.others = others;
    }

    /**
     * The folder of this name, which may itself be reached by a link.
     *
     * @throws Failure if there is no such folder, it cannot be read, or it holds more than {@value #MOST_FILES} entries
     */
    public static LessonFolder open(String name) {
        return open(name, InputFiles.path(name));
    }

    private static LessonFolder open(String name, Path folder) {
        if (!Files.isDirectory(folder)) {
            throw new Failure(name + (Files.exists(folder) ? ": is no folder" : ": there is no such folder"));
        }
        SortedSet<String> names = new TreeSet<>();
        SortedSet<String> folders = new TreeSet<>();
        List<String> others = new ArrayList<>();
        int count = 0;
        try (DirectoryStream<Path> entries = Files.newDirectoryStream(folder)) {
            for (Path entry : entries) {
                count++;
                if (count > MOST_FILES) {
                    throw new Failure("%s: holds more than %d files".formatted(name, MOST_FILES));
                }
                String file = String.valueOf(entry.getFileName());
                if (!isName(file)) {
                    others.add(file);
                } else if (Files.isRegularFile(entry, LinkOption.NOFOLLOW_LINKS)) {
                    names.add(file);
                } else if (Files.isDirectory(entry, LinkOption.NOFOLLOW_LINKS)) {
                    folders.add(file);
                } else {
                    others.add(file);
                }
            }
            Path real = folder.toRealPath();
            Collections.sort(others);
            return new LessonFolder(real, names, folders, others);
        } catch (IOException | java.nio.file.DirectoryIteratorException e) {
            IOException cause = e instanceof IOException own ? own : (IOException) e.getCause();
            throw new Failure("%s: %s".formatted(name, cause == null ? "cannot be read" : InputFiles.reason(cause)));
        }
    }

    /** Whether a file of a lesson may have this name: small letters, digits, dots and dashes, at most 64. */
    public static boolean isName(String name) {
        return NAME.matcher(name).matches();
    }

    /** The names of its files, in order. */
    public Set<String> names() {
        return Collections.unmodifiableSortedSet(names);
    }

    /** The names of the folders in it, in order. */
    public Set<String> folders() {
        return Collections.unmodifiableSortedSet(folders);
    }

    /** The names of all else in it, none of which is read: links, pipes, devices, and what has a name of another form. */
    public List<String> others() {
        return List.copyOf(others);
    }

    /** Where it really is. */
    public Path path() {
        return folder;
    }

    /**
     * A folder in it.
     *
     * @throws Failure if it is not there, or cannot be read
     */
    public LessonFolder folder(String name) {
        if (!folders.contains(name)) {
            throw new Failure("%s: there is no folder \"%s\" in it".formatted(folder, name));
        }
        return open(name, folder.resolve(name));
    }

    /**
     * The bytes of a file, or the first {@value #MOST_BYTES} of a larger one; null if there is no file of this name.
     *
     * @throws Failure if it cannot be read
     */
    public byte @Nullable [] read(String name) {
        if (!names.contains(name)) {
            return null;
        }
        // Between the listing and now a link may have taken its place: it is not followed either.
        try (InputStream in = Channels.newInputStream(Files.newByteChannel(
                folder.resolve(name), Set.of(StandardOpenOption.READ, LinkOption.NOFOLLOW_LINKS)))) {
            return in.readNBytes(MOST_BYTES);
        } catch (IOException e) {
            throw new Failure("%s: %s".formatted(name, InputFiles.reason(e)));
        }
    }
}
