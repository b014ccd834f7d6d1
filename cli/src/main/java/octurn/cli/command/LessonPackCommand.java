package octurn.cli.command;

import java.io.IOException;
import java.util.List;
import java.util.Locale;
import java.util.TreeMap;
import java.util.concurrent.Callable;
import octurn.cli.process.Exit;
import octurn.cli.process.Failure;
import octurn.cli.process.LessonFolder;
import octurn.cli.process.OutputFile;
import octurn.cli.process.Surroundings;
import octurn.cli.view.Line;
import octurn.lessons.Lesson;
import octurn.lessons.LessonReader;
import octurn.lessons.pack.LessonZip;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code octurn lesson pack}: packs a lesson into one file. */
@Command(
        name = "pack",
        customSynopsis = "octurn lesson pack FOLDER --output FILE.zip",
        description = "Packs a lesson into one zip file. The same lesson gives the same bytes, wherever it is packed.",
        exitCodeList = {"0:done", "1:an internal error", "2:bad usage, or a lesson with errors"})
final class LessonPackCommand implements Callable<Integer> {

    private final Surroundings surroundings;

    @Parameters(paramLabel = "FOLDER", description = "the lesson's folder")
    @SuppressWarnings("NullAway.Init")
    private String folderName;

    @Option(
            names = {"-o", "--output"},
            required = true,
            paramLabel = "FILE",
            description = "the zip file to write, whole or not at all; - for standard output")
    @SuppressWarnings("NullAway.Init")
    private String file;

    LessonPackCommand(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    @Override
    public Integer call() throws IOException {
        if (!file.equals("-") && !file.toLowerCase(Locale.ROOT).endsWith(".zip")) {
            throw new Failure("--output: %s is not *.zip".formatted(file));
        }
        LessonFolder folder = LessonFolder.open(folderName);
        Sources sources = new Sources(surroundings);
        Lesson lesson = sources.value(LessonReader.read(LessonPlace.files(folder)));
        sources.tell();
        if (lesson == null) {
            return Exit.USAGE;
        }
        LessonZip zip = zip(folder, lesson.id());
        try (OutputFile out = OutputFile.open(file, surroundings, List.of())) {
            out.write(stream -> stream.write(zip.bytes()));
            if (!out.isStandardOutput()) {
                String told =
                        "%s: %s, %d files".formatted(file, zip.id(), zip.files().size());
                surroundings.print(List.of(Line.of(surroundings.glyphs().visible(told))));
            }
        }
        return Exit.OK;
    }

    private LessonZip zip(LessonFolder folder, String id) {
        List<String> strangers =
                folder.others().stream().filter(name -> !name.startsWith(".")).toList();
        if (!strangers.isEmpty() || !folder.folders().isEmpty()) {
            String first = strangers.isEmpty() ? folder.folders().iterator().next() : strangers.get(0);
            throw new Failure(
                    ("%s: \"%s\" cannot be part of a lesson: a lesson has plain files alone, with names of a-z,"
                                    + " 0-9, point and hyphen")
                            .formatted(folderName, first));
        }
        if (folder.names().size() > LessonZip.MOST_FILES) {
            throw new Failure("%s: has %d files; a lesson has at most %d"
                    .formatted(folderName, folder.names().size(), LessonZip.MOST_FILES));
        }
        TreeMap<String, byte[]> files = new TreeMap<>();
        long all = 0;
        for (String name : folder.names()) {
            byte[] bytes = folder.read(name);
            if (bytes == null || bytes.length > LessonZip.MOST_FILE_BYTES) {
                throw new Failure(
                        "%s: %s has more than %,d bytes".formatted(folderName, name, LessonZip.MOST_FILE_BYTES));
            }
            files.put(name, bytes);
            all += bytes.length;
        }
        LessonZip zip = new LessonZip(id, files);
        if (all > LessonZip.MOST_BYTES || zip.bytes().length > LessonZip.MOST_ZIP_BYTES) {
            throw new Failure("%s: the files have %,d bytes; a lesson has at most %,d"
                    .formatted(folderName, all, LessonZip.MOST_BYTES));
        }
        return zip;
    }
}
