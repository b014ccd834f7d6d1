package octurn.cli.process;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/**
 * A folder of files that a command writes as a whole: it is written beside the old one, and then takes its place. What is
 * not ours is never deleted: an old folder that holds anything but files with the expected ending is refused.
 */
public final class PageFolder {

    private PageFolder() {}

    /**
     * Writes the folder.
     *
     * @param ending that all files in it have, as in {@code .html}
     * @param files their texts by name
     * @throws Failure if it cannot be written, or is not ours
     */
    public static void write(Path folder, String ending, Map<String, String> files, Surroundings surroundings) {
        long self = ProcessHandle.current().pid();
        Path part = folder.resolveSibling(".%s.%d.part".formatted(folder.getFileName(), self));
        Path old = folder.resolveSibling(".%s.%d.old".formatted(folder.getFileName(), self));
        Runnable cleanup = () -> drop(part, ending);
        surroundings.cleanups().add(cleanup);
        try {
            check(folder, ending);
            drop(part, ending);
            Files.createDirectories(part);
            for (Map.Entry<String, String> file : files.entrySet()) {
                Files.writeString(part.resolve(file.getKey()), file.getValue(), StandardCharsets.UTF_8);
            }
            boolean before = Files.exists(folder, LinkOption.NOFOLLOW_LINKS);
            if (before) {
                Files.move(folder, old, StandardCopyOption.ATOMIC_MOVE);
            }
            Files.move(part, folder, StandardCopyOption.ATOMIC_MOVE);
            if (before) {
                drop(old, ending);
            }
        } catch (IOException e) {
            throw new Failure("%s: %s".formatted(folder, InputFiles.reason(e)));
        } finally {
            drop(part, ending);
            surroundings.cleanups().remove(cleanup);
        }
    }

    /**
     * Checks that the folder may be written.
     *
     * @throws Failure if there is something else
     */
    public static void check(Path folder, String ending) {
        if (!Files.exists(folder, LinkOption.NOFOLLOW_LINKS)) {
            return;
        }
        if (!Files.isDirectory(folder, LinkOption.NOFOLLOW_LINKS)) {
            throw new Failure("%s: is no folder, and would be written over".formatted(folder));
        }
        try {
            for (Path file : list(folder)) {
                if (!file.toString().endsWith(ending) || !Files.isRegularFile(file, LinkOption.NOFOLLOW_LINKS)) {
                    throw new Failure("%s: is not from an earlier run, for it holds %s; name another folder"
                            .formatted(folder, file.getFileName()));
                }
            }
        } catch (IOException e) {
            throw new Failure("%s: %s".formatted(folder, InputFiles.reason(e)));
        }
    }

    private static List<Path> list(Path folder) throws IOException {
        List<Path> files = new ArrayList<>();
        try (DirectoryStream<Path> stream = Files.newDirectoryStream(folder)) {
            stream.forEach(files::add);
        }
        return files;
    }

    private static void drop(Path folder, String ending) {
        try {
            if (Files.isDirectory(folder, LinkOption.NOFOLLOW_LINKS)) {
                for (Path file : list(folder)) {
                    if (file.toString().endsWith(ending)) {
                        Files.deleteIfExists(file);
                    }
                }
                Files.deleteIfExists(folder);
            }
        } catch (IOException e) {
            // What is left over is in nobody's way.
        }
    }
}
