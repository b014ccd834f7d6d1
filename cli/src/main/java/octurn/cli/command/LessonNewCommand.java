package octurn.cli.command;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.Callable;
import octurn.cli.process.Exit;
import octurn.cli.process.Failure;
import octurn.cli.process.InputFiles;
import octurn.cli.process.LessonFolder;
import octurn.cli.process.NewFolder;
import octurn.cli.process.Surroundings;
import octurn.cli.view.Line;
import picocli.CommandLine.Command;
import picocli.CommandLine.Parameters;

/** {@code octurn lesson new}: writes a small complete lesson to start from. */
@Command(
        name = "new",
        customSynopsis = "octurn lesson new FOLDER",
        description =
                "Writes a small complete lesson into a new folder, to be changed into one of your own. The folder's"
                        + " name becomes the lesson's id.",
        exitCodeList = {"0:done", "1:an internal error", "2:bad usage, or the folder is there already"})
final class LessonNewCommand implements Callable<Integer> {

    private static final List<String> FILES =
            List.of("lesson.json", "greenhouse.md", "task.md", "probe.turn", "start.turn", "model.turn");

    private final Surroundings surroundings;

    @Parameters(paramLabel = "FOLDER", description = "the lesson's folder, which must not be there yet")
    @SuppressWarnings("NullAway.Init")
    private String folder;

    LessonNewCommand(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    @Override
    public Integer call() throws IOException {
        Path path = InputFiles.path(folder);
        String id = String.valueOf(path.toAbsolutePath().normalize().getFileName());
        if (!LessonFolder.isName(id)) {
            throw new Failure("%s: no lesson can have this name; right are a-z, 0-9, point and hyphen, at most 64"
                    .formatted(folder));
        }
        Map<String, byte[]> files = new TreeMap<>();
        for (String file : FILES) {
            String text = new String(starter(file), StandardCharsets.UTF_8);
            files.put(file, text.replace("@ID@", id).getBytes(StandardCharsets.UTF_8));
        }
        NewFolder.write(folder, files, surroundings);
        surroundings.print(List.of(
                Line.of(surroundings
                        .glyphs()
                        .visible("%s: a lesson to start from, %d files".formatted(folder, FILES.size()))),
                Line.of(surroundings
                        .glyphs()
                        .visible("octurn lesson check %s says what is wrong with it".formatted(folder)))));
        return Exit.OK;
    }

    private static byte[] starter(String file) throws IOException {
        try (InputStream in = LessonNewCommand.class.getResourceAsStream("starter/" + file)) {
            if (in == null) {
                throw new IllegalStateException("missing: " + file);
            }
            return in.readAllBytes();
        }
    }
}
