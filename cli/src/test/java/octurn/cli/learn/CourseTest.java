package octurn.cli.learn;

import static octurn.cli.learn.Learners.UNICODE;
import static octurn.cli.learn.Learners.doing;
import static octurn.cli.learn.Learners.refusal;
import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import octurn.cli.learn.Learners.Drawer;
import octurn.cli.learn.Learners.Memory;
import octurn.cli.view.Frame;
import octurn.cli.view.Glyphs;
import octurn.lessons.Step;
import octurn.run.Progress;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The course that comes with the program, as a student meets it. */
class CourseTest {

    /** What a screen of 24 rows has room for beside a run of eight cores. */
    private static final int ROWS_OF_A_NOTE = 6;

    static List<CourseLesson> lessons() {
        return Learners.courseLessons();
    }

    /** Each walk can be walked: the stepper does all that its script says, and what is said fits below the lanes. */
    @ParameterizedTest
    @MethodSource("lessons")
    void lesson_eachStep_canBeComeToAndWatched(CourseLesson lesson) {
        for (String student : List.of("", "Ada")) {
            Drawer desk = new Drawer();
            Learner learner = new Learner("course", List.of(lesson), student, new Memory(), desk, UNICODE);
            doing(learner, "open 1");
            for (Step step : lesson.lesson().steps()) {
                assertThat(learner.told().toString()).doesNotContain("has a mistake in it");
                if (step instanceof Step.Watch) {
                    walk(doing(learner, "watch"));
                } else if (step instanceof Step.Predict) {
                    assertThat(refusal(learner, "watch")).contains("answer first");
                } else if (step instanceof Step.Task task) {
                    assertThat(task(learner, desk, lesson, task)).isTrue();
                }
                doing(learner, "skip");
            }
        }
    }

    private static void walk(Learner learner) {
        Walk walk = learner.walk();
        List<String> said = new ArrayList<>();
        boolean goOn = true;
        while (goOn) {
            said.addAll(walk.saying());
            int rows = walk.saying().stream()
                    .mapToInt(text -> UNICODE.wrapped(UNICODE.visible(text), 79).size())
                    .sum();
            assertThat(rows).as(String.join(" ", walk.saying())).isBetween(1, ROWS_OF_A_NOTE);
            Frame frame = walk.show().frame(24, 80);
            assertThat(frame.lines())
                    .allSatisfy(line -> assertThat(Glyphs.width(line.plain())).isLessThanOrEqualTo(80));
            goOn = walk.next();
        }
        assertThat(said).noneMatch(text -> text.contains("which cannot be done"));
        doing(learner, "quit");
    }

    /** What a student begins with does not pass, and the author's own answer does. */
    private static boolean task(Learner learner, Drawer desk, CourseLesson lesson, Step.Task task) {
        Reply begun = learner.run("next", Progress.NONE);
        assertThat(begun.kind()).isEqualTo(Reply.Kind.DONE);
        assertThat(learner.run("check", Progress.NONE).line()).endsWith("not yet");
        String file = begun.line().substring("your file is ".length());
        byte[] model = lesson.files().read(task.model().text());
        desk.save(file, new String(model, StandardCharsets.UTF_8));
        return learner.run("check", Progress.NONE).line().endsWith("passed");
    }
}
