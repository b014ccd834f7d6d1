package octurn.cli.command;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.attribute.BasicFileAttributes;
import java.util.ArrayList;
import java.util.List;
import octurn.cli.learn.Desk;
import octurn.cli.learn.Refused;
import octurn.cli.process.Failure;
import octurn.cli.process.InputFiles;
import octurn.cli.process.OutputFile;
import octurn.cli.process.Surroundings;
import org.jspecify.annotations.Nullable;

/** A student's folder, and the editor that the environment names. */
final class StudentDesk implements Desk {

    private final Path folder;
    private final Surroundings surroundings;

    /** This folder, which is made when the first file is written. */
    StudentDesk(Path folder, Surroundings surroundings) {
        this.folder = folder;
        this.surroundings = surroundings;
    }

    @Override
    public String file(String name) {
        return folder.resolve(name).toString();
    }

    @Override
    public String shortName(String file) {
        return String.valueOf(InputFiles.path(file).getFileName());
    }

    @Override
    public boolean exists(String file) {
        // A link that leads nowhere is in the way as well.
        return Files.exists(InputFiles.path(file), LinkOption.NOFOLLOW_LINKS);
    }

    @Override
    public void write(String file, byte[] contents) {
        Path path = InputFiles.path(file);
        if (exists(file)) {
            throw new Refused("%s is there already".formatted(file));
        }
        try {
            Path parent = path.toAbsolutePath().getParent();
            if (parent != null && !Files.isDirectory(parent)) {
                Files.createDirectories(parent);
            }
            try (OutputFile out = OutputFile.open(path.toAbsolutePath().toString(), surroundings, List.of())) {
                out.write(stream -> stream.write(contents));
            }
        } catch (IOException e) {
            throw new Refused("%s: %s".formatted(file, InputFiles.reason(e)));
        } catch (Failure e) {
            throw new Refused(e.line());
        }
    }

    @Override
    public byte[] read(String file) {
        try {
            return InputFiles.read(file);
        } catch (Failure e) {
            throw new Refused(e.line());
        }
    }

    @Override
    public @Nullable String stamp(String file) {
        try {
            BasicFileAttributes attributes = Files.readAttributes(InputFiles.path(file), BasicFileAttributes.class);
            // Editors that write a new file and move it into place keep neither the time nor the file itself.
            return "%d %d %s"
                    .formatted(attributes.size(), attributes.lastModifiedTime().toMillis(), attributes.fileKey());
        } catch (IOException | Failure e) {
            return null;
        }
    }

    @Override
    public List<String> editor() {
        return surroundings.outIsTerminal() ? surroundings.environment().editor() : List.of();
    }

    @Override
    public void edit(String file) {
        List<String> command = new ArrayList<>(editor());
        command.add(file);
        try {
            int status = new ProcessBuilder(command).inheritIO().start().waitFor();
            if (status != 0) {
                throw new Refused("the editor %s ended with status %d".formatted(command.get(0), status));
            }
        } catch (IOException e) {
            throw new Refused("the editor %s cannot be started; see VISUAL and EDITOR".formatted(command.get(0)));
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new Refused("interrupted while the editor was open");
        }
    }
}
