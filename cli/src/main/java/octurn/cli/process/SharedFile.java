package octurn.cli.process;

import java.io.IOException;
import java.io.InputStream;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;

/**
 * A file that several processes change at the same time: each reads it, changes it and writes it whole, while the others
 * wait. A file beside it, with {@code .lock} behind its name, stands for the right to do so.
 */
public final class SharedFile {

    private static final int MOST_BYTES = 16 << 20;
    private static final long RETRY_MILLIS = 20;

    /** So often before giving up; whoever holds the lock does so for some milliseconds. */
    private static final int MOST_RETRIES = 250;

    private final Path file;
    private final Surroundings surroundings;

    /** This file, whose folder is made when it is first written. */
    public SharedFile(Path file, Surroundings surroundings) {
        this.file = file;
        this.surroundings = surroundings;
    }

    /** The file. */
    public Path path() {
        return file;
    }

    /**
     * What is in it; null if it is not there.
     *
     * @throws Failure if it cannot be read
     */
    public byte @Nullable [] read() {
        try (InputStream in = Files.newInputStream(file)) {
            byte[] bytes = in.readNBytes(MOST_BYTES + 1);
            if (bytes.length > MOST_BYTES) {
                throw new Failure("%s: is larger than any file of ours".formatted(file));
            }
            return bytes;
        } catch (NoSuchFileException e) {
            return null;
        } catch (IOException e) {
            throw new Failure("%s: %s".formatted(file, InputFiles.reason(e)));
        }
    }

    /** A change of a file. */
    @FunctionalInterface
    public interface Change {
        /** What is to be in it, given what is, or null if there is none; null to leave it as it is. */
        byte @Nullable [] apply(byte @Nullable [] before);
    }

    /**
     * Changes it; meanwhile no other process does.
     *
     * @throws Failure if it cannot be changed; then it is as before
     */
    public void change(Change change) {
        try {
            Path folder = file.toAbsolutePath().getParent();
            if (folder != null && !Files.isDirectory(folder)) {
                Files.createDirectories(folder);
            }
            try (FileChannel channel = FileChannel.open(
                            file.resolveSibling(file.getFileName() + ".lock"),
                            StandardOpenOption.CREATE,
                            StandardOpenOption.WRITE);
                    FileLock lock = lock(channel)) {
                byte[] after = lock.isValid() ? change.apply(read()) : null;
                if (after != null) {
                    write(after);
                }
            }
        } catch (FileAlreadyExistsException e) {
            throw new Failure("%s: its folder cannot be made, for a file is in its place".formatted(file));
        } catch (IOException e) {
            throw new Failure("%s: %s".formatted(file, InputFiles.reason(e)));
        }
    }

    private FileLock lock(FileChannel channel) throws IOException {
        for (int i = 0; i < MOST_RETRIES; i++) {
            try {
                FileLock lock = channel.tryLock();
                if (lock != null) {
                    return lock;
                }
            } catch (OverlappingFileLockException e) {
                // Held by this process itself: wait as for any other.
            }
            try {
                TimeUnit.MILLISECONDS.sleep(RETRY_MILLIS);
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                throw new IOException("interrupted", e);
            }
        }
        throw new IOException("another process does not let go of it");
    }

    private void write(byte[] bytes) {
        try (OutputFile out = OutputFile.open(file.toString(), surroundings, List.of())) {
            out.write(stream -> stream.write(bytes));
        }
    }

    /**
     * Moves the file to a free name beside it, so that nothing of it is lost; to be called while it is being changed.
     *
     * @return where it is now
     * @throws Failure if it cannot be moved
     */
    public Path setAside() {
        for (int number = 1; ; number++) {
            Path aside = file.resolveSibling("%s.broken-%d".formatted(file.getFileName(), number));
            if (!Files.exists(aside)) {
                try {
                    return Files.move(file, aside);
                } catch (FileAlreadyExistsException e) {
                    // Somebody else has just taken this name.
                } catch (IOException e) {
                    throw new Failure("%s: %s".formatted(file, InputFiles.reason(e)));
                }
            }
        }
    }
}
