package octurn.cli.command;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.Callable;
import java.util.concurrent.TimeUnit;
import octurn.cli.command.MarkRunner.Candidate;
import octurn.cli.process.Exit;
import octurn.cli.process.Failure;
import octurn.cli.process.InputFiles;
import octurn.cli.process.SubmissionFolder;
import octurn.cli.process.Surroundings;
import octurn.lessons.Lesson;
import octurn.lessons.LessonFiles;
import octurn.lessons.LessonReader;
import octurn.lessons.Step;
import octurn.lessons.mark.Due;
import octurn.lessons.mark.Handed;
import octurn.lessons.mark.Item;
import octurn.lessons.mark.Marker;
import octurn.lessons.mark.Marks;
import octurn.lessons.mark.NameList;
import octurn.lessons.mark.Row;
import octurn.lessons.mark.Work;
import octurn.lessons.value.Unresolved;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code octurn mark}: marks what a class handed in. */
@Command(
        name = "mark",
        customSynopsis = {
            "octurn mark FOLDER --lesson LESSON [--step N] [--course FOLDER]",
            "            [--output FOLDER] [--csv FILE] [--json FILE] [--html FOLDER]",
            "            [--state FILE] [--names FILE] [--due TIME] [--cycles N]",
            "            [--seconds S] [--bytes N] [--workers N]"
        },
        description = "Marks what a class handed in for the tasks of a lesson: one file or folder a student."
                + " Whatever is wrong with a submission is a row of the result.",
        footer = {
            "A folder's files are known by the name of the file that the task began with,",
            "or by the step, as in step-3.turn. Files in a folder that nobody handed in",
            "(names with a leading point and the like) are passed over; links are not",
            "followed. Given again with the same -o, what has not changed is not marked",
            "anew."
        },
        exitCodeList = {"0:marked, whatever the marks", "1:an internal error", "2:bad usage, or a lesson with errors"})
final class MarkCommand implements Callable<Integer> {

    private static final int MOST_WORKERS = 256;
    private static final int MOST_SECONDS = 3600;
    private static final int MOST_BYTES = 1 << 20;
    private static final long SAVE_AFTER = TimeUnit.SECONDS.toNanos(5);

    private final Surroundings surroundings;

    @Parameters(paramLabel = "FOLDER", description = "the folder with the submissions")
    @SuppressWarnings("NullAway.Init")
    private String folderName;

    @Option(
            names = "--lesson",
            required = true,
            paramLabel = "LESSON",
            description = "the lesson: its id in the course, its folder, or a packed one (zip)")
    @SuppressWarnings("NullAway.Init")
    private String lessonName;

    @Option(names = "--step", paramLabel = "N", description = "mark the task in this step alone; without it all tasks")
    private @Nullable Integer step;

    @Option(
            names = "--course",
            paramLabel = "FOLDER",
            description = "the course that has the lesson; without it the one that comes with Octurn")
    private @Nullable String course;

    @Mixin
    private final MarkOutputs outputs = new MarkOutputs();

    @Option(
            names = "--names",
            paramLabel = "FILE",
            description = "who is who: a row file-or-folder,student for each (CSV); who has no file gets a row, too")
    private @Nullable String namesFile;

    @Option(
            names = "--due",
            paramLabel = "TIME",
            description = "files last changed after it are late: 2026-03-01, 2026-03-01T18:00 (this machine's time) or"
                    + " 2026-03-01T18:00+01:00")
    private @Nullable String due;

    @Option(
            names = "--cycles",
            paramLabel = "N",
            converter = RunCommand.Cycles.class,
            description = "end each run after so many cycles at the latest; without it at 50,000,000, or where the"
                    + " lesson says")
    private long cycles = octurn.run.Run.DEFAULT_LIMIT;

    @Option(
            names = "--seconds",
            paramLabel = "S",
            description = "give up a submission's task after so many seconds, at most 3600; without it 10")
    private int seconds = 10;

    @Option(
            names = "--bytes",
            paramLabel = "N",
            description = "refuse files of more than so many bytes, at most 1,048,576; without it 131,072")
    private int bytes = 1 << 17;

    @Option(
            names = "--workers",
            paramLabel = "N",
            description = "mark so many at a time; without it one for each processor")
    private @Nullable Integer workers;

    MarkCommand(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    @Override
    public Integer call() throws IOException {
        int threads = workers == null ? Runtime.getRuntime().availableProcessors() : workers;
        require("--workers", threads, MOST_WORKERS);
        require("--seconds", seconds, MOST_SECONDS);
        require("--bytes", bytes, MOST_BYTES);
        Instant dueAt = dueAt();
        Sources sources = new Sources(surroundings);
        LessonFiles files = LessonPlace.find(lessonName, course, surroundings);
        Lesson lesson = sources.value(LessonReader.read(files));
        NameList names =
                namesFile == null ? NameList.NONE : sources.value(NameList.read(namesFile, InputFiles.read(namesFile)));
        Marks.Limits limits = new Marks.Limits(cycles, bytes, seconds);
        Marker marker = lesson == null ? null : marker(lesson, files, limits, sources);
        sources.tell();
        if (lesson == null || names == null || marker == null) {
            return Exit.USAGE;
        }
        SubmissionFolder folder = SubmissionFolder.open(folderName);
        outputs.prepare(folder.path());
        Marks.Heading heading =
                new Marks.Heading(lesson.id(), lesson.title(), marker.tasks(), limits, dueAt, key(files));
        List<Candidate> candidates = candidates(folder, names);
        List<String> read = RunInputs.given(namesFile);
        try (MarkOutputs.Open open = outputs.open(surroundings, read)) {
            MarkRunner runner =
                    new MarkRunner(marker, folder, heading, candidates, before(heading), surroundings.nanoTime());
            run(runner, heading, threads);
            Map<String, Item> items = items(folder);
            open.write(new Marks(heading, runner.rows()), (row, work) -> lines(folder, items, work));
        }
        return Exit.OK;
    }

    private static void require(String option, int number, int most) {
        if (number < 1 || number > most) {
            throw new Failure("%s: %d is not in 1..%d".formatted(option, number, most));
        }
    }

    private @Nullable Instant dueAt() {
        try {
            return due == null ? null : Due.parse(due, ZoneId.systemDefault());
        } catch (IllegalArgumentException e) {
            throw new Failure("--due: " + e.getMessage());
        }
    }

    private @Nullable Marker marker(Lesson lesson, LessonFiles files, Marks.Limits limits, Sources sources) {
        List<Integer> tasks = new ArrayList<>();
        for (int i = 0; i < lesson.steps().size(); i++) {
            if (lesson.steps().get(i) instanceof Step.Task) {
                tasks.add(i + 1);
            }
        }
        if (tasks.isEmpty()) {
            throw new Failure("%s: has no task, so nothing can be marked".formatted(lesson.id()));
        }
        if (step != null && !tasks.contains(step)) {
            throw new Failure("--step: %d is no task of %s; %s"
                    .formatted(
                            step,
                            lesson.id(),
                            tasks.size() == 1
                                    ? "step %d is the only one".formatted(tasks.get(0))
                                    : "its tasks are the steps "
                                            + String.join(
                                                    ", ",
                                                    tasks.stream()
                                                            .map(String::valueOf)
                                                            .toList())));
        }
        try {
            return new Marker(lesson, files, step == null ? tasks : List.of(step), limits);
        } catch (Unresolved e) {
            sources.refuse(e.diagnostics());
            return null;
        }
    }

    /** Stands for the lesson and the version: with another one, marks of before count no more. */
    private static String key(LessonFiles files) {
        StringBuilder all = new StringBuilder(Help.version());
        for (byte[] part : LessonPlace.contents(files)) {
            all.append('\n').append(Marker.hash(part));
        }
        return Marker.hash(all.toString().getBytes(StandardCharsets.UTF_8));
    }

    // ---- who

    private List<Candidate> candidates(SubmissionFolder folder, NameList names) {
        Map<String, Integer> times = new HashMap<>();
        for (Handed handed : folder.entries()) {
            times.merge(plain(student(handed, names)), 1, Integer::sum);
        }
        List<Candidate> candidates = new ArrayList<>();
        for (Handed handed : folder.entries()) {
            String student = student(handed, names);
            List<String> notes = new ArrayList<>();
            if (times.getOrDefault(plain(student), 0) > 1) {
                notes.add("handed in more than once under this name");
            }
            if (namesFile != null && names.student(handed) == null) {
                notes.add("not on the list of names");
            }
            candidates.add(new Candidate(handed, student, notes));
        }
        names.without(folder.entries())
                .forEach((entry, student) -> candidates.add(new Candidate(null, student, List.of())));
        candidates.sort(Comparator.comparing(Candidate::student, Handed.BY_NAME)
                .thenComparing(Candidate::entry, Handed.BY_NAME));
        return candidates;
    }

    private static String student(Handed handed, NameList names) {
        String listed = names.student(handed);
        return listed != null ? listed : handed.student();
    }

    private static String plain(String student) {
        return student.strip().replaceAll("\\s+", " ").toLowerCase(Locale.ROOT);
    }

    // ---- doing it

    private List<Row> before(Marks.Heading heading) {
        Marks kept = outputs.kept();
        if (kept == null) {
            return List.of();
        }
        boolean same = kept.heading().key().equals(heading.key())
                && kept.heading().limits().equals(heading.limits());
        if (!same) {
            surroundings.complain("octurn: the lesson, the limits or Octurn itself have changed; all is marked anew\n");
        }
        return same ? kept.rows() : List.of();
    }

    private void run(MarkRunner runner, Marks.Heading heading, int threads) {
        CountProgress progress = new CountProgress(surroundings, "students", 0, runner.all());
        Runnable brokenOff = () -> brokenOff(progress, runner, heading);
        surroundings.cleanups().add(brokenOff);
        Saving saving = new Saving(runner, heading);
        runner.run(threads, () -> {
            progress.tell(runner.done());
            saving.look();
        });
        surroundings.cleanups().remove(brokenOff);
        progress.erase();
    }

    private void brokenOff(CountProgress progress, MarkRunner runner, Marks.Heading heading) {
        progress.erase();
        if (outputs.keeps()) {
            outputs.keep(new Marks(heading, runner.rowsToKeep()), surroundings);
            surroundings.complain("octurn: broken off with %,d of %,d students marked; the same command goes on there\n"
                    .formatted(runner.done(), runner.all()));
        } else {
            surroundings.complain("octurn: broken off; with -o FOLDER or --state FILE what is done would be kept\n");
        }
    }

    /** Saves every now and then. */
    private final class Saving {
        private final MarkRunner runner;
        private final Marks.Heading heading;
        private long next;

        private Saving(MarkRunner runner, Marks.Heading heading) {
            this.runner = runner;
            this.heading = heading;
            this.next = surroundings.nanoTime().getAsLong() + SAVE_AFTER;
        }

        void look() {
            long now = surroundings.nanoTime().getAsLong();
            if (outputs.keeps() && now - next >= 0) {
                outputs.keep(new Marks(heading, runner.rowsToKeep()), surroundings);
                next = now + SAVE_AFTER;
            }
        }
    }

    // ---- the texts, for the pages

    private static Map<String, Item> items(SubmissionFolder folder) {
        Map<String, Item> items = new HashMap<>();
        for (Handed handed : folder.entries()) {
            handed.items().forEach(item -> items.put(item.path(), item));
        }
        return items;
    }

    /** The lines of a file that was marked, if it is still the same. */
    private List<String> lines(SubmissionFolder folder, Map<String, Item> items, Work work) {
        Item item = items.get(work.file());
        if (item == null || !work.status().isRead()) {
            return List.of();
        }
        try {
            byte[] text = folder.read(item, bytes + 1);
            return Marker.hash(text).equals(work.sha256())
                    ? List.of(new String(text, StandardCharsets.UTF_8).split("\r?\n"))
                    : List.of();
        } catch (IOException e) {
            return List.of();
        }
    }
}
