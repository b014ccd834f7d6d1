package octurn.cli.process;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.AtomicMoveNotSupportedException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * A file that a command writes whole or not at all: everything goes to a second file beside it, which takes its place at
 * the end. It is opened before the work begins, so that a place that cannot be written to is found out at once. What is
 * no plain file (a pipe, a device) is written to directly, and {@code -} is standard output.
 */
public final class OutputFile implements AutoCloseable {

    private static final int BUFFER_BYTES = 1 << 16;

    private final String name;
    private final Surroundings surroundings;
    /** Where the bytes go. */
    private final OutputStream out;
    /** The file beside the target that the bytes go to, or null if they go to the target itself. */
    private final @Nullable Path part;
    /** The file that is to be written, or null for standard output. */
    private final @Nullable Path target;

    private final Runnable cleanup = this::dropPart;

    private OutputFile(
            String name, Surroundings surroundings, OutputStream out, @Nullable Path part, @Nullable Path target) {
        this.name = name;
        this.surroundings = surroundings;
        this.out = out;
        this.part = part;
        this.target = target;
        surroundings.cleanups().add(cleanup);
    }

    /** Writes the contents. */
    @FunctionalInterface
    public interface Contents {
        /** Writes all to the stream, which stays open. */
        void write(OutputStream out) throws IOException;
    }

    /**
     * Gets ready to write this file.
     *
     * @param inputs files that the command reads, which must not be written over
     * @throws Failure if it cannot be written to
     */
    public static OutputFile open(String name, Surroundings surroundings, List<String> inputs) {
        if (name.equals("-")) {
            return new OutputFile("standard output", surroundings, surroundings.out(), null, null);
        }
        Path path = InputFiles.path(name);
        if (Files.isDirectory(path)) {
            throw new Failure("%s: is a folder, not a file".formatted(name));
        }
        try {
            for (String input : inputs) {
                // What does not exist is no file but the name of a design that is at hand.
                Path read = InputFiles.path(input);
                if (Files.exists(path) && Files.exists(read) && Files.isSameFile(path, read)) {
                    throw new Failure("%s: would be written over, but this command reads it".formatted(name));
                }
            }
            // A symbolic link stays one: the file it leads to is replaced.
            Path target = Files.exists(path) ? path.toRealPath() : path.toAbsolutePath();
            if (!Files.exists(target)) {
                return beside(name, surroundings, target);
            }
            if (!Files.isWritable(target)) {
                throw new Failure("%s: permission denied".formatted(name));
            }
            if (Files.isRegularFile(target)) {
                return beside(name, surroundings, target);
            }
            OutputStream out = Files.newOutputStream(target, StandardOpenOption.WRITE);
            return new OutputFile(name, surroundings, out, null, target);
        } catch (NoSuchFileException e) {
            throw new Failure("%s: there is no such folder".formatted(name));
        } catch (IOException e) {
            throw new Failure("%s: %s".formatted(name, InputFiles.reason(e)));
        }
    }

    private static OutputFile beside(String name, Surroundings surroundings, Path target) throws IOException {
        Path part = target.resolveSibling(".%s.%d.part"
                .formatted(target.getFileName(), ProcessHandle.current().pid()));
        return new OutputFile(name, surroundings, Files.newOutputStream(part), part, target);
    }

    /** Whether this is standard output. */
    public boolean isStandardOutput() {
        return target == null;
    }

    /**
     * Writes the file, once.
     *
     * @throws Failure if it cannot be written to
     */
    public void write(Contents contents) {
        try {
            OutputStream buffered = new BufferedOutputStream(out, BUFFER_BYTES);
            contents.write(buffered);
            buffered.flush();
            if (part != null && target != null) {
                out.close();
                move(part, target);
            }
        } catch (IOException e) {
            if (!Surroundings.isReaderGone(e)) {
                throw new Failure("%s: %s".formatted(name, InputFiles.reason(e)));
            }
        }
    }

    private static void move(Path part, Path target) throws IOException {
        if (Files.exists(target)) {
            keepPermissions(part, target);
        }
        try {
            Files.move(part, target, StandardCopyOption.ATOMIC_MOVE);
        } catch (AtomicMoveNotSupportedException e) {
            Files.move(part, target, StandardCopyOption.REPLACE_EXISTING);
        }
    }

    private static void keepPermissions(Path part, Path target) throws IOException {
        try {
            Files.setPosixFilePermissions(part, Files.getPosixFilePermissions(target));
        } catch (UnsupportedOperationException e) {
            // A file system without such permissions.
        }
    }

    private void dropPart() {
        if (part != null) {
            try {
                Files.deleteIfExists(part);
            } catch (IOException e) {
                // Nothing more can be done about it.
            }
        }
    }

    /** Lets go of what was not written. */
    @Override
    public void close() {
        if (target != null) {
            try {
                out.close();
            } catch (IOException e) {
                // What was to be written has been, or has failed already.
            }
        }
        dropPart();
        surroundings.cleanups().remove(cleanup);
    }
}
