package octurn.cli.command;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.concurrent.Callable;
import octurn.cli.process.Exit;
import octurn.cli.process.InputFiles;
import octurn.cli.process.LessonFolder;
import octurn.cli.process.Surroundings;
import octurn.cli.stepper.Answer;
import octurn.cli.stepper.ScriptFiles;
import octurn.cli.stepper.Stepper;
import octurn.cli.view.Ink;
import octurn.cli.view.Line;
import octurn.diag.Diagnostic;
import octurn.json.Reading;
import octurn.lessons.Course;
import octurn.lessons.CourseReader;
import octurn.lessons.Lesson;
import octurn.lessons.LessonFiles;
import octurn.lessons.LessonReader;
import octurn.lessons.Sitting;
import octurn.lessons.Step;
import octurn.lessons.Variant;
import octurn.lessons.check.LessonReview;
import octurn.lessons.check.LessonReview.Around;
import octurn.lessons.value.Unresolved;
import octurn.run.Progress;
import octurn.run.Timeline;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Parameters;

/** {@code octurn lesson check}: says what is wrong with a lesson. */
@Command(
        name = "check",
        customSynopsis = "octurn lesson check FOLDER",
        description =
                "Works a lesson through and says what is wrong with it: whether all it names is there, every number"
                        + " can be computed, the model answer passes all checks and the starting program fails one.",
        footer = {
            "Besides the errors, warnings tell of links, concepts and commands that are not",
            "known, of files that nobody uses, and of a reading time that does not fit."
        },
        exitCodeList = {"0:no errors", "1:an internal error", "2:bad usage, or a lesson with errors"})
final class LessonCheckCommand implements Callable<Integer> {

    /** The pages of the documentation, to which lessons may link. */
    static final Set<String> PAGES = Set.of(
            "README.md",
            "authors.md",
            "by-hand.md",
            "card.md",
            "chip.md",
            "clock.md",
            "concepts.md",
            "design-files.md",
            "instructions.md",
            "learn.md",
            "lesson-form.md",
            "library.md",
            "marking.md",
            "measure.md",
            "page.md",
            "pictures.md",
            "program-files.md",
            "report.md",
            "speed.md",
            "stalls.md",
            "stepper.md",
            "waves.md");

    private final Surroundings surroundings;

    @Parameters(paramLabel = "FOLDER", description = "the lesson's folder, or a packed lesson (zip)")
    @SuppressWarnings("NullAway.Init")
    private String folder;

    LessonCheckCommand(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    @Override
    public Integer call() throws IOException {
        Sources sources = new Sources(surroundings);
        LessonFiles files = LessonPlace.find(folder, null, surroundings);
        LessonFolder place = LessonPlace.folder(folder);
        Course course = place == null ? null : course(place, sources);
        Lesson lesson = sources.value(LessonReader.read(files));
        if (lesson != null) {
            String name = place == null ? null : String.valueOf(place.path().getFileName());
            Around around = new Around(name, course, command -> null, LessonCheckCommand::isPage);
            sources.add(LessonReview.review(lesson, files, around));
            sources.add(scripts(lesson, files));
        }
        sources.tell();
        if (lesson == null || sources.wrong()) {
            return Exit.USAGE;
        }
        surroundings.print(List.of(told(lesson, sources.told().size())));
        return Exit.OK;
    }

    /** The course that the lesson lies in, if there is one around it. */
    private static @Nullable Course course(LessonFolder place, Sources sources) {
        Path above = place.path().getParent();
        if (above == null || !Files.isRegularFile(above.resolve(LessonFiles.COURSE))) {
            return null;
        }
        String file = above.resolve(LessonFiles.COURSE).toString();
        Reading<Course> reading = CourseReader.read(file, InputFiles.read(file));
        return sources.value(reading);
    }

    private static boolean isPage(String target) {
        int mark = target.indexOf('#');
        return PAGES.contains(mark < 0 ? target : target.substring(0, mark));
    }

    /** Does what the scripts of the lesson say, as the stepper would, and tells what it refuses. */
    private List<Diagnostic> scripts(Lesson lesson, LessonFiles files) {
        List<Diagnostic> refused = new ArrayList<>();
        Sitting sitting = new Sitting(lesson, files, Variant.standard(lesson));
        for (Step step : lesson.steps()) {
            if (step instanceof Step.Watch watch) {
                try {
                    script(watch, sitting.show(watch), refused);
                } catch (Unresolved e) {
                    // The review has told this already.
                }
            }
        }
        return refused;
    }

    private void script(Step.Watch watch, Sitting.Show show, List<Diagnostic> refused) {
        Timeline timeline = Timeline.of(show.program(), show.scenario(), show.limit());
        Stepper stepper = new Stepper(timeline, ScriptFiles.NONE, surroundings.glyphs());
        for (int i = 0; i < show.script().size(); i++) {
            String command = show.script().get(i).command();
            Answer answer = stepper.run(command, Progress.NONE);
            if (answer.kind() == Answer.Kind.REFUSED) {
                String message = "the stepper refuses \"%s\": %s".formatted(command, answer.line());
                refused.add(watch.script().get(i).command().error(message, null));
            }
        }
    }

    private Line told(Lesson lesson, int warnings) {
        List<String> parts = new ArrayList<>();
        count(parts, lesson, Step.Tell.class, "text");
        count(parts, lesson, Step.Watch.class, "moment to watch");
        count(parts, lesson, Step.Predict.class, "question");
        count(parts, lesson, Step.Task.class, "task");
        String found = warnings == 0 ? "" : ", %d warning%s".formatted(warnings, warnings == 1 ? "" : "s");
        String rest =
                ": no errors%s (%s)".formatted(found, String.join(", ", parts).toLowerCase(Locale.ROOT));
        return Line.of(Ink.STRONG, surroundings.glyphs().visible(lesson.id())).and(rest);
    }

    private static void count(List<String> parts, Lesson lesson, Class<? extends Step> kind, String noun) {
        long count = lesson.steps().stream().filter(kind::isInstance).count();
        if (count > 0) {
            parts.add(
                    count == 1
                            ? "1 " + noun
                            : count + " " + (noun.startsWith("moment") ? "moments to watch" : noun + "s"));
        }
    }
}
