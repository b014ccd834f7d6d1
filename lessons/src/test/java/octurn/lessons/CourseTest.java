package octurn.lessons;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Function;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import octurn.diag.Diagnostic;
import octurn.json.Passage;
import octurn.lessons.check.CheckResult;
import octurn.lessons.check.LessonReview;
import octurn.lessons.check.Limits;
import octurn.lessons.check.TaskCheck;
import octurn.lessons.value.Expression;
import octurn.lessons.value.Unresolved;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Every lesson of the course is right as it is, and the course as a whole hangs together. */
class CourseTest {

    private static final Path CONCEPTS = Path.of("..", "docs", "concepts.md");

    /** Made-up people; what matters is that they are twenty. */
    private static final List<String> STUDENTS = List.of(
            "Amina", "Bela", "Chen", "Dora", "Elif", "Farid", "Greta", "Hugo", "Ines", "Jonas", "Kaya", "Lena", "Milo",
            "Noor", "Oskar", "Pia", "Quinn", "Rosa", "Sami", "Tove");

    private static final Pattern SUM =
            Pattern.compile("(?<![-+x*/.] )\\b(\\d+(?: [-+] \\d+)+) = (\\d+)(?![.0-9]| [-+x*/])");
    private static final Pattern PART = Pattern.compile("([-+]) (\\d+)");

    static List<String> ids() {
        return TheCourse.ids();
    }

    @Test
    void course_lessons_areTwentyFoldersAndNoOther() throws IOException {
        try (Stream<Path> folders = Files.list(TheCourse.FOLDER)) {
            List<String> names = folders.filter(Files::isDirectory)
                    .map(folder -> folder.getFileName().toString())
                    .toList();
            assertThat(TheCourse.ids()).hasSize(20).containsExactlyInAnyOrderElementsOf(names);
        }
    }

    /** The review works through the lesson with several students' numbers: models pass, starting programs do not. */
    @ParameterizedTest
    @MethodSource("ids")
    void lesson_review_findsNothing(String id) {
        Folder folder = TheCourse.folder(id);
        Course course = TheCourse.course();
        LessonReview.Around around = new LessonReview.Around(id, course, command -> null, CourseTest::isPage);

        List<Diagnostic> found = LessonReview.review(folder.accepted(), folder, around);

        assertThat(found).isEmpty();
    }

    private static boolean isPage(String target) {
        return Files.isRegularFile(CONCEPTS.resolveSibling(target.replaceFirst("#.*", "")));
    }

    @ParameterizedTest
    @MethodSource("ids")
    void lesson_ofTheCourse_takes10To20MinutesAndAsksSeveralThings(String id) {
        Lesson lesson = TheCourse.folder(id).accepted();
        Map<String, Long> kinds =
                lesson.steps().stream().collect(Collectors.groupingBy(Step::kind, Collectors.counting()));

        assertThat(lesson.minutes()).isBetween(10, 20);
        assertThat(kinds.getOrDefault("tell", 0L)).isPositive();
        assertThat(kinds.getOrDefault("watch", 0L)).isPositive();
        assertThat(kinds.getOrDefault("predict", 0L)).isGreaterThan(1);
        assertThat(kinds.getOrDefault("do", 0L)).isPositive();
        assertThat(lesson.vary()).isNotEmpty();
        assertThat(lesson.steps().get(lesson.steps().size() - 1).kind())
                .as("the last step is a question")
                .isEqualTo("predict");
    }

    @ParameterizedTest
    @MethodSource("ids")
    void lesson_forTwentyStudents_hasAllItsNumbersTextsAndAnswers(String id) throws Unresolved {
        Folder folder = TheCourse.folder(id);
        Set<Map<String, Long>> seen = new HashSet<>();
        for (String student : STUDENTS) {
            Sitting sitting = folder.sitting(student);
            if (!seen.add(sitting.variant().numbers())) {
                continue;
            }
            for (Expression value : sitting.lesson().values().values()) {
                assertThat(sitting.number(value)).as("for %s", student).isFinite();
            }
            for (Step step : sitting.lesson().steps()) {
                if (step instanceof Step.Tell tell) {
                    assertThat(sitting.prose(tell.text()).blocks()).isNotEmpty();
                } else if (step instanceof Step.Watch watch) {
                    assertThat(sitting.show(watch).script()).isNotEmpty();
                } else if (step instanceof Step.Predict predict) {
                    assertThat(sitting.question(predict).judge("no answer").toString())
                            .isNotEmpty();
                } else {
                    Step.Task task = (Step.Task) step;
                    assertThat(sitting.prose(task.text()).blocks()).isNotEmpty();
                    assertThat(sitting.start(task)).isNotEmpty();
                }
            }
        }
        assertThat(seen).as("students have numbers of their own").hasSizeGreaterThan(1);
    }

    /** A sum in a text whose parts come from a run must still be a sum: it once said 1 + 8 + 3 = 13. */
    @ParameterizedTest
    @MethodSource("ids")
    void lesson_sumsInItsTexts_addUp(String id) throws Unresolved {
        for (String student : STUDENTS.subList(0, 5)) {
            Sitting sitting = TheCourse.folder(id).sitting(student);
            for (Step step : sitting.lesson().steps()) {
                if (step instanceof Step.Tell tell) {
                    assertSumsAddUp(sitting.prose(tell.text()).plain());
                } else if (step instanceof Step.Predict predict) {
                    assertSumsAddUp(sitting.prose(predict.ask()).plain());
                    assertSumsAddUp(sitting.prose(predict.explain()).plain());
                }
            }
        }
    }

    private static void assertSumsAddUp(String text) {
        Matcher sum = SUM.matcher(text.replace(",", ""));
        while (sum.find()) {
            long total = 0;
            Matcher part = PART.matcher("+ " + sum.group(1));
            while (part.find()) {
                long number = Long.parseLong(part.group(2));
                total += part.group(1).equals("+") ? number : -number;
            }
            assertThat(total).as(sum.group()).isEqualTo(Long.parseLong(sum.group(2)));
        }
    }

    /** The default design is the first chip that a student meets; an answer that works only there is half an answer. */
    @ParameterizedTest
    @MethodSource("ids")
    void lesson_programsToChange_areCheckedOnTheDefaultDesignAndOnTwoOthers(String id) {
        for (Step.Task task : TheCourse.folder(id).accepted().tasks()) {
            if (!task.isDesign()) {
                List<String> designs =
                        task.on().stream().map(RunSetup::designName).distinct().toList();
                assertThat(designs).contains("default").hasSizeGreaterThanOrEqualTo(3);
            }
        }
    }

    @ParameterizedTest
    @MethodSource("ids")
    void lesson_modelAnswers_passAndStartingFilesFail_forTwoMoreStudents(String id) throws Unresolved {
        for (String student : STUDENTS.subList(0, 2)) {
            Sitting sitting = TheCourse.folder(id).sitting(student);
            for (Step.Task task : sitting.lesson().tasks()) {
                CheckResult model = TaskCheck.check(
                        sitting, task, task.model().text(), sitting.bytes(task.model()), Limits.OF_THE_TASK);
                CheckResult start =
                        TaskCheck.check(sitting, task, task.start().text(), sitting.start(task), Limits.OF_THE_TASK);

                assertThat(model.passed())
                        .as("the model, for %s: %s", student, model)
                        .isTrue();
                assertThat(start).isInstanceOf(CheckResult.Checked.class);
                assertThat(start.passed()).as("the start, for %s", student).isFalse();
            }
        }
    }

    /** The text says that the check sum has to come from the text in the shared memory. */
    @Test
    void bandwidth_textCopiedToPrivateRam_doesNotPass() throws Unresolved {
        Sitting sitting = TheCourse.folder("bandwidth").sitting("Amina");
        Step.Task task = sitting.lesson().tasks().get(0);
        String copied = new String(sitting.bytes(task.model()), StandardCharsets.UTF_8)
                .replace("set   r1, line", "set   r1, own")
                .replace("char:   fetch r4", "char:   load  r4")
                .replace("shared\n", "own:    text  \"123456789\"\n\nshared\n");

        CheckResult result = TaskCheck.check(
                sitting, task, "check.turn", copied.getBytes(StandardCharsets.UTF_8), Limits.OF_THE_TASK);
        assertThat(((CheckResult.Checked) result).outcomes().stream().filter(outcome -> !outcome.passed()))
                .hasSize(task.on().size())
                .allSatisfy(outcome -> assertThat(outcome.toString()).contains("It is 0, 9 less than 9."));
    }

    /** A guess of two lost cans is a near one: each student who makes it is told what to look at. */
    @Test
    void peterson_guessOfTwoLostCans_isAnswered() throws Unresolved {
        for (String student : STUDENTS) {
            Sitting sitting = TheCourse.folder("peterson").sitting(student);
            Step.Predict lost = sitting.lesson().steps().stream()
                    .filter(Step.Predict.class::isInstance)
                    .map(Step.Predict.class::cast)
                    .filter(predict -> predict.answer() instanceof Step.NumberAnswer number
                            && number.number().text().equals("lost"))
                    .findFirst()
                    .orElseThrow();

            assertThat(((Judgement.Wrong) sitting.question(lost).judge("2")).misconception())
                    .as(student)
                    .isNotNull();
        }
    }

    // ---- concepts

    @Test
    void concepts_ofTheCourse_areIntroducedOnceAndExaminedSomewhere() {
        List<String> introduced = all(Lesson::introduces);

        assertThat(introduced)
                .doesNotHaveDuplicates()
                .containsExactlyInAnyOrderElementsOf(
                        TheCourse.course().concepts().keySet());
    }

    @Test
    void concepts_usedOrExamined_areIntroducedInThatLessonOrBefore() {
        Set<String> known = new HashSet<>();
        for (Lesson lesson : TheCourse.lessons()) {
            assertThat(known).as("%s uses", lesson.id()).containsAll(texts(lesson.uses()));
            known.addAll(texts(lesson.introduces()));
            assertThat(known).as("%s examines", lesson.id()).containsAll(texts(lesson.examines()));
        }
    }

    /** Whoever follows the needs of a lesson backwards has met all that it uses. */
    @Test
    void needs_ofLessons_leadToTheFirstLessonWithoutACircle() {
        Map<String, Set<String>> before = new HashMap<>();
        for (Lesson lesson : TheCourse.lessons()) {
            Set<String> all = new HashSet<>();
            for (String need : texts(lesson.needs())) {
                assertThat(before)
                        .as("%s needs it, so it comes first", lesson.id())
                        .containsKey(need);
                all.add(need);
                all.addAll(before.getOrDefault(need, Set.of()));
            }
            if (!before.isEmpty()) {
                assertThat(all).as("%s", lesson.id()).contains(TheCourse.ids().get(0));
            }
            before.put(lesson.id(), all);
        }
    }

    /** When a lesson changes, run this test with {@code -Docturn.writeConcepts=true} to write the page anew. */
    @Test
    void conceptsPage_isMadeFromTheLessons() throws IOException {
        String page = new ConceptMap(TheCourse.course(), TheCourse.lessons()).markdown();
        if (Boolean.getBoolean("octurn.writeConcepts")) {
            Files.writeString(CONCEPTS, page);
        }
        assertThat(Files.readString(CONCEPTS)).isEqualTo(page);
    }

    private static List<String> all(Function<Lesson, List<Passage>> concepts) {
        List<String> all = new ArrayList<>();
        TheCourse.lessons().forEach(lesson -> all.addAll(texts(concepts.apply(lesson))));
        return all;
    }

    private static List<String> texts(List<Passage> passages) {
        return passages.stream().map(Passage::text).toList();
    }
}
