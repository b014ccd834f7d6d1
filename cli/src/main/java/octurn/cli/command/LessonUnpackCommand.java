package octurn.cli.command;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import octurn.cli.process.Exit;
import octurn.cli.process.Failure;
import octurn.cli.process.InputFiles;
import octurn.cli.process.NewFolder;
import octurn.cli.process.Surroundings;
import octurn.cli.view.Line;
import octurn.lessons.LessonFiles;
import octurn.lessons.pack.LessonZip;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code octurn lesson unpack}: unpacks a lesson that somebody else packed. */
@Command(
        name = "unpack",
        customSynopsis = "octurn lesson unpack FILE.zip [--output FOLDER]",
        description =
                "Unpacks a packed lesson into a new folder, whole or not at all. What could leave that folder, is no"
                        + " plain file, or would grow beyond a lesson's size is refused.",
        exitCodeList = {"0:done", "1:an internal error", "2:bad usage, or a file that is no packed lesson"})
final class LessonUnpackCommand implements Callable<Integer> {

    private final Surroundings surroundings;

    @Parameters(paramLabel = "FILE", description = "the zip file")
    @SuppressWarnings("NullAway.Init")
    private String file;

    @Option(
            names = {"-o", "--output"},
            paramLabel = "FOLDER",
            description = "the folder to make, which must not be there yet; without it one named as the lesson")
    private @Nullable String folder;

    LessonUnpackCommand(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    @Override
    public Integer call() throws IOException {
        LessonZip zip = LessonPlace.zip(file);
        if (!zip.files().containsKey(LessonFiles.LESSON)) {
            throw new Failure("%s: holds no %s, so it is no lesson".formatted(file, LessonFiles.LESSON));
        }
        String target = folder == null ? zip.id() : folder;
        NewFolder.write(target, zip.files(), surroundings);
        List<String> told = new ArrayList<>();
        told.add("%s: %d files".formatted(target, zip.files().size()));
        Path name = InputFiles.path(target).toAbsolutePath().normalize().getFileName();
        if (name == null || !name.toString().equals(zip.id())) {
            told.add("the lesson's id is %s: in a course, and to check it, its folder has that name"
                    .formatted(zip.id()));
        }
        surroundings.print(told.stream()
                .map(line -> Line.of(surroundings.glyphs().visible(line)))
                .toList());
        return Exit.OK;
    }
}
