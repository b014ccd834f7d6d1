package octurn.cli.process;

import java.io.IOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.Map;

/** A folder that a command makes, whole or not at all: it is written beside its place and moved there at the end. */
public final class NewFolder {

    private NewFolder() {}

    /**
     * Makes a folder with these files.
     *
     * @param name where, as the user gave it
     * @param files by name, without any folder in them
     * @throws Failure if there is something of this name already, or it cannot be written
     */
    public static void write(String name, Map<String, byte[]> files, Surroundings surroundings) {
        Path folder = InputFiles.path(name).toAbsolutePath().normalize();
        if (Files.exists(folder, LinkOption.NOFOLLOW_LINKS)) {
            throw new Failure("%s: is there already; name another folder".formatted(name));
        }
        Path above = folder.getParent();
        if (above != null && !Files.isDirectory(above)) {
            throw new Failure("%s: there is no such folder to make it in".formatted(name));
        }
        Path part = folder.resolveSibling(".%s.%d.part"
                .formatted(folder.getFileName(), ProcessHandle.current().pid()));
        Runnable cleanup = () -> drop(part);
        surroundings.cleanups().add(cleanup);
        try {
            Files.createDirectory(part);
            for (Map.Entry<String, byte[]> file : files.entrySet()) {
                Path target = part.resolve(file.getKey());
                if (!part.equals(target.getParent())) {
                    throw new IllegalArgumentException("leaves its folder: " + file.getKey());
                }
                Files.write(target, file.getValue());
            }
            Files.move(part, folder, StandardCopyOption.ATOMIC_MOVE);
        } catch (IOException e) {
            throw new Failure("%s: %s".formatted(name, InputFiles.reason(e)));
        } finally {
            drop(part);
            surroundings.cleanups().remove(cleanup);
        }
    }

    private static void drop(Path part) {
        try {
            if (Files.isDirectory(part, LinkOption.NOFOLLOW_LINKS)) {
                try (DirectoryStream<Path> files = Files.newDirectoryStream(part)) {
                    for (Path file : files) {
                        Files.deleteIfExists(file);
                    }
                }
                Files.deleteIfExists(part);
            }
        } catch (IOException e) {
            // What is left over is in nobody's way.
        }
    }
}
