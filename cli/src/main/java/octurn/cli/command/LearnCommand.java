package octurn.cli.command;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import octurn.cli.learn.CourseLesson;
import octurn.cli.learn.LearnConversation;
import octurn.cli.learn.LearnShow;
import octurn.cli.learn.Learner;
import octurn.cli.process.Exit;
import octurn.cli.process.Failure;
import octurn.cli.process.InputFiles;
import octurn.cli.process.LessonFolder;
import octurn.cli.process.Surroundings;
import octurn.json.Reading;
import octurn.lessons.Course;
import octurn.lessons.CourseReader;
import octurn.lessons.LessonFiles;
import octurn.lessons.pack.LessonZip;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code octurn learn}: takes a student through a course. */
@Command(
        name = "learn",
        customSynopsis = {
            "octurn learn [LESSON] [--name STUDENT] [--course FOLDER] [--work FOLDER]",
            "                    [--data FOLDER] [--say]"
        },
        description = "Takes you through a course: read, predict, watch, change a program until its checks pass. It"
                + " goes on where you stopped; on the whole screen, or with --say, and where there is no screen, in"
                + " lines of words from standard input.",
        exitCodeList = {
            "0:done",
            "1:an internal error",
            "2:bad usage or a course with errors; with --say also: a command was not understood or not possible"
        })
final class LearnCommand implements Callable<Integer> {

    private static final int LONGEST_NAME = 80;

    private final Surroundings surroundings;

    @Parameters(
            paramLabel = "LESSON",
            arity = "0..1",
            description = "the lesson to begin with, by its number or name; without it the list of lessons")
    private @Nullable String lesson;

    @Option(
            names = "--name",
            paramLabel = "STUDENT",
            description =
                    "your name: the numbers in the lessons depend on it, and progress is kept for each name; without"
                            + " it the name given last")
    private @Nullable String name;

    @Option(
            names = "--course",
            paramLabel = "FOLDER",
            description =
                    "the folder of another course, or of a single lesson, which can be packed; without it the course that comes with"
                            + " Octurn")
    private @Nullable String courseFolder;

    @Option(
            names = "--work",
            paramLabel = "FOLDER",
            description =
                    "where the programs that you change are written; without it the folder of OCTURN_WORK, or else"
                            + " octurn in your home folder")
    private @Nullable String workFolder;

    @Option(
            names = "--data",
            paramLabel = "FOLDER",
            description =
                    "where your progress is kept; without it the folder of OCTURN_DATA, or else octurn in your data"
                            + " folder")
    private @Nullable String dataFolder;

    @Mixin
    private final SayOption talk = new SayOption();

    LearnCommand(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    @Override
    public Integer call() throws IOException {
        if (name != null && name.codePointCount(0, name.length()) > LONGEST_NAME) {
            throw new Failure("--name: longer than %d characters".formatted(LONGEST_NAME));
        }
        Lessons lessons = lessons();
        if (lessons == null) {
            return Exit.USAGE;
        }
        ProgressStore store = new ProgressStore(data(), surroundings);
        String student = name != null ? name.strip() : store.book().lastStudent();
        Learner learner = new Learner(
                lessons.title(),
                lessons.lessons(),
                student,
                store,
                new StudentDesk(work(student), surroundings),
                surroundings.glyphs());
        if (lesson != null) {
            String trouble = learner.begin(lesson);
            if (!trouble.isEmpty()) {
                throw new Failure(trouble);
            }
        }
        return talk.run(surroundings, glyphs -> new LearnShow(learner, glyphs), new LearnConversation(learner)::run);
    }

    // ---- the student's folders ----

    private Path data() {
        String given =
                dataFolder != null ? dataFolder : surroundings.environment().variable("OCTURN_DATA");
        return given == null ? surroundings.environment().dataFolder() : InputFiles.path(given);
    }

    private Path work(String student) {
        String given =
                workFolder != null ? workFolder : surroundings.environment().variable("OCTURN_WORK");
        Path folder = given == null ? surroundings.environment().home().resolve("octurn") : InputFiles.path(given);
        return student.isEmpty() ? folder : folder.resolve(FolderName.of(student));
    }

    // ---- the course ----

    private record Lessons(String title, List<CourseLesson> lessons) {}

    /** The course's lessons; null if its own file has mistakes, which have then been told. */
    private @Nullable Lessons lessons() {
        if (courseFolder != null
                && courseFolder.toLowerCase(Locale.ROOT).endsWith(".zip")
                && Files.isRegularFile(InputFiles.path(courseFolder))) {
            LessonZip zip = LessonPlace.zip(courseFolder);
            return single(new CourseLesson(zip.id(), LessonPlace.files(zip)));
        }
        LessonFolder folder = courseFolder != null ? LessonFolder.open(courseFolder) : ownCourse();
        if (folder.names().contains(LessonFiles.LESSON) && !folder.names().contains(LessonFiles.COURSE)) {
            return single(new CourseLesson(String.valueOf(folder.path().getFileName()), LessonPlace.files(folder)));
        }
        byte[] bytes = folder.read(LessonFiles.COURSE);
        if (bytes == null) {
            throw new Failure("%s: there is no %s in it, and no %s"
                    .formatted(folder.path(), LessonFiles.COURSE, LessonFiles.LESSON));
        }
        Reading<Course> reading =
                CourseReader.read(folder.path().resolve(LessonFiles.COURSE).toString(), bytes);
        if (reading instanceof Reading.Refused<Course> refused) {
            Sources sources = new Sources(surroundings);
            sources.refuse(refused.problems());
            sources.tell();
            return null;
        }
        Course course = ((Reading.Accepted<Course>) reading).value();
        List<CourseLesson> lessons = new ArrayList<>();
        for (String id : course.lessons()) {
            lessons.add(new CourseLesson(id, LessonPlace.files(folder.folder(id))));
        }
        return new Lessons(course.title(), lessons);
    }

    private static Lessons single(CourseLesson lesson) {
        return new Lessons(lesson.title(), List.of(lesson));
    }

    private LessonFolder ownCourse() {
        Path folder = surroundings.environment().courseFolder();
        if (folder == null) {
            throw new Failure("the course that comes with Octurn is not there; name its folder with --course");
        }
        return LessonFolder.open(folder.toString());
    }
}
