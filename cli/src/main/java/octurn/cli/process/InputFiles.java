package octurn.cli.process;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileSystemException;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.NoSuchFileException;
import java.nio.file.NotDirectoryException;
import java.nio.file.Path;

/** Reads the files that a command line names. */
public final class InputFiles {

    /** One byte more than any file of ours may have: enough to see that it is too large, however large it is. */
    private static final int MOST_BYTES = (1 << 20) + 1;

    private InputFiles() {}

    /**
     * The bytes of a file, or the first 1 MiB and a byte of a larger one.
     *
     * @throws Failure if it cannot be read
     */
    public static byte[] read(String name) {
        return read(name, MOST_BYTES);
    }

    /** The same for a file that may have more, or must have less. */
    public static byte[] read(String name, int most) {
        Path path = path(name);
        if (Files.isDirectory(path)) {
            throw new Failure("%s: is a folder, not a file".formatted(name));
        }
        try (InputStream in = Files.newInputStream(path)) {
            return in.readNBytes(most);
        } catch (IOException e) {
            throw new Failure("%s: %s".formatted(name, reason(e)));
        }
    }

    /**
     * The path of this name.
     *
     * @throws Failure if no file can have that name
     */
    public static Path path(String name) {
        try {
            if (name.isEmpty()) {
                throw new Failure("a file's name is empty");
            }
            return Path.of(name);
        } catch (InvalidPathException e) {
            throw new Failure("%s: no file can have this name".formatted(name));
        }
    }

    /** Why a file could not be read or written, in a few words. */
    public static String reason(IOException e) {
        if (e instanceof NoSuchFileException) {
            return "there is no such file";
        }
        if (e instanceof NotDirectoryException) {
            return "there is no such folder";
        }
        if (e instanceof AccessDeniedException) {
            return "permission denied";
        }
        String reason = e instanceof FileSystemException system ? system.getReason() : e.getMessage();
        return reason == null || reason.isEmpty() ? "cannot be read or written" : reason;
    }
}
