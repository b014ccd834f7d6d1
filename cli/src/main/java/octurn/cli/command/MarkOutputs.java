package octurn.cli.command;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.BiFunction;
import octurn.cli.export.MarkPages;
import octurn.cli.export.MarksCsv;
import octurn.cli.json.MarksJson;
import octurn.cli.json.MarksReader;
import octurn.cli.process.Failure;
import octurn.cli.process.InputFiles;
import octurn.cli.process.OutputFile;
import octurn.cli.process.PageFolder;
import octurn.cli.process.Surroundings;
import octurn.cli.view.MarkView;
import octurn.lessons.mark.Marks;
import octurn.lessons.mark.Row;
import octurn.lessons.mark.Work;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** Where the marks of a class go: the terminal, a table, JSON, pages; and where they are kept while the work goes on. */
final class MarkOutputs {

    private static final String PAGES = ".html";

    @Option(
            names = {"-o", "--output"},
            paramLabel = "FOLDER",
            description =
                    "write marks.csv, marks.json and the pages into this folder, and go on there when the command is"
                            + " given again")
    private @Nullable String folder;

    @Option(
            names = "--csv",
            paramLabel = "FILE",
            description = "write a row for each student as comma-separated values; - for standard output")
    private @Nullable String csvFile;

    @Option(
            names = "--json",
            paramLabel = "FILE",
            description = "write all that was found as JSON; - for standard output")
    private @Nullable String jsonFile;

    @Option(
            names = "--html",
            paramLabel = "FOLDER",
            description = "write a page for the class and one for each student into this folder")
    private @Nullable String htmlFolder;

    @Option(
            names = "--state",
            paramLabel = "FILE",
            description = "keep what is done in this file, so that the same command goes on there after it was broken"
                    + " off; it is deleted at the end")
    private @Nullable String stateFile;

    /**
     * Fills in what {@code --output} stands for, and makes its folder.
     *
     * @param read the folder with the submissions, in which nothing is to be written
     */
    void prepare(Path read) {
        if (folder != null) {
            makeFolder(folder);
            csvFile = csvFile == null ? in(folder, "marks.csv") : csvFile;
            jsonFile = jsonFile == null ? in(folder, "marks.json") : jsonFile;
            htmlFolder = htmlFolder == null ? folder : htmlFolder;
            stateFile = stateFile == null ? in(folder, "so-far.json") : stateFile;
        }
        if (htmlFolder != null) {
            makeFolder(htmlFolder);
            PageFolder.check(InputFiles.path(in(htmlFolder, MarkPages.STUDENTS)), PAGES);
        }
        if ("-".equals(csvFile) && "-".equals(jsonFile)) {
            throw new Failure("--csv and --json cannot both go to standard output");
        }
        for (String file : RunInputs.given(folder, csvFile, jsonFile, htmlFolder, stateFile)) {
            checkOutside(file, read);
        }
    }

    private static String in(String folder, String file) {
        return InputFiles.path(folder).resolve(file).toString();
    }

    private static void makeFolder(String name) {
        Path path = InputFiles.path(name);
        try {
            if (!Files.isDirectory(path)) {
                Files.createDirectory(path);
            }
        } catch (IOException e) {
            throw new Failure("%s: %s".formatted(name, InputFiles.reason(e)));
        }
    }

    /** What is written among the submissions would be taken for one the next time. */
    private static void checkOutside(String file, Path read) {
        if (file.equals("-")) {
            return;
        }
        try {
            Path path = InputFiles.path(file).toAbsolutePath().normalize();
            Path there = path;
            while (there != null && !Files.exists(there)) {
                there = there.getParent();
            }
            if (there != null && there.toRealPath().startsWith(read)) {
                throw new Failure("%s: lies in the folder with the submissions; name a place outside".formatted(file));
            }
        } catch (IOException e) {
            throw new Failure("%s: %s".formatted(file, InputFiles.reason(e)));
        }
    }

    // ---- what was done before

    /** The marks that were kept, or null if there are none. */
    @Nullable
    Marks kept() {
        Marks kept = stateFile == null ? null : read(stateFile);
        return kept != null || folder == null || jsonFile == null || jsonFile.equals("-") ? kept : read(jsonFile);
    }

    private static @Nullable Marks read(String file) {
        Path path = InputFiles.path(file);
        if (!Files.exists(path)) {
            return null;
        }
        if (!Files.isRegularFile(path)) {
            throw new Failure("%s: is no file".formatted(file));
        }
        try {
            return MarksReader.read(new ByteArrayInputStream(Files.readAllBytes(path)));
        } catch (MarksReader.NoMarks e) {
            throw new Failure("%s: %s; it would be written over, so take it away or name another place"
                    .formatted(file, e.reason()));
        } catch (IOException e) {
            throw new Failure("%s: %s".formatted(file, InputFiles.reason(e)));
        }
    }

    /** Whether what is done is kept. */
    boolean keeps() {
        return stateFile != null;
    }

    /** Keeps what is done. */
    void keep(Marks sofar, Surroundings surroundings) {
        if (stateFile != null) {
            try (OutputFile file = OutputFile.open(stateFile, surroundings, List.of())) {
                file.write(out -> MarksJson.write(sofar, out));
            }
        }
    }

    private void forget() throws IOException {
        if (stateFile != null) {
            Files.deleteIfExists(InputFiles.path(stateFile));
        }
    }

    // ---- the outputs

    /** Files that are opened before the work begins, so that a place that cannot be written to is found out at once. */
    final class Open implements AutoCloseable {

        private final Surroundings surroundings;
        private final List<OutputFile> files = new ArrayList<>();
        private final @Nullable OutputFile table;
        private final @Nullable OutputFile report;
        private final @Nullable OutputFile page;

        private Open(Surroundings surroundings, List<String> inputs) {
            this.surroundings = surroundings;
            this.table = open(csvFile, inputs);
            this.report = open(jsonFile, inputs);
            this.page = open(htmlFolder == null ? null : in(htmlFolder, MarkPages.CLASS_PAGE), inputs);
        }

        private @Nullable OutputFile open(@Nullable String name, List<String> inputs) {
            if (name == null) {
                return null;
            }
            try {
                OutputFile file = OutputFile.open(name, surroundings, inputs);
                files.add(file);
                return file;
            } catch (Failure e) {
                close();
                throw e;
            }
        }

        /**
         * Writes all.
         *
         * @param source the lines of a piece of work
         */
        void write(Marks marks, BiFunction<Row, Work, List<String>> source) throws IOException {
            if (report != null) {
                report.write(out -> MarksJson.write(marks, out));
            }
            if (table != null) {
                table.write(out -> MarksCsv.write(marks, out));
            }
            if (page != null && htmlFolder != null) {
                MarkPages pages = new MarkPages(marks, source);
                Map<String, String> students = new LinkedHashMap<>();
                for (int i = 0; i < marks.rows().size(); i++) {
                    students.put(pages.files().get(i), pages.studentPage(i));
                }
                Path folderOfStudents = InputFiles.path(in(htmlFolder, MarkPages.STUDENTS));
                PageFolder.write(folderOfStudents, PAGES, students, surroundings);
                page.write(out -> out.write(pages.classPage().getBytes(StandardCharsets.UTF_8)));
            }
            forget();
            boolean taken =
                    (table != null && table.isStandardOutput()) || (report != null && report.isStandardOutput());
            if (!taken) {
                surroundings.print(
                        MarkView.lines(marks, files.isEmpty(), surroundings.glyphs(), surroundings.columns()));
            }
        }

        @Override
        public void close() {
            files.forEach(OutputFile::close);
        }
    }

    /** Opens the files; {@code inputs} are those that are read. */
    Open open(Surroundings surroundings, List<String> inputs) {
        return new Open(surroundings, inputs);
    }
}
