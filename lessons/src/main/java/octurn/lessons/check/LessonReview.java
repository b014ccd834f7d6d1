package octurn.lessons.check;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Predicate;
import java.util.function.UnaryOperator;
import octurn.diag.Diagnostic;
import octurn.diag.Nearest;
import octurn.diag.Span;
import octurn.json.Passage;
import octurn.lessons.Course;
import octurn.lessons.Judgement;
import octurn.lessons.Lesson;
import octurn.lessons.LessonFiles;
import octurn.lessons.Question;
import octurn.lessons.Sitting;
import octurn.lessons.Step;
import octurn.lessons.Variant;
import octurn.lessons.Vary;
import octurn.lessons.text.Links;
import octurn.lessons.text.Template;
import octurn.lessons.value.Expression;
import octurn.lessons.value.Numbers;
import octurn.lessons.value.Unresolved;
import org.jspecify.annotations.Nullable;

/**
 * What an author must hear of beyond what {@link octurn.lessons.LessonReader} says: everything that shows only when the
 * lesson is worked through. All of it is worked through with the numbers for nobody in particular, with the least and
 * the greatest of each number that varies, and with those of a few made-up students.
 */
public final class LessonReview {

    /** People whose numbers a lesson is tried with; any would do. */
    private static final List<String> STUDENTS = List.of("Ada", "Ben", "Chioma", "Dilek", "Emil");

    private final Lesson lesson;
    private final LessonFiles files;
    private final Around around;
    private final Set<Diagnostic> found = new LinkedHashSet<>();

    /**
     * What is known outside of the lesson.
     *
     * @param folder the name of the lesson's folder, or null if it is not known
     * @param course the course that the lesson belongs to, or null for none
     * @param command what is wrong with a command of the stepper's command line, or null if nothing is
     * @param page whether there is such a page of the documentation, as in {@code chip.md#time}
     */
    public record Around(
            @Nullable String folder,
            @Nullable Course course,
            UnaryOperator<@Nullable String> command,
            Predicate<String> page) {

        /** Nothing is known, and nothing outside is looked at. */
        public static final Around NOTHING = new Around(null, null, command -> null, page -> true);
    }

    private LessonReview(Lesson lesson, LessonFiles files, Around around) {
        this.lesson = lesson;
        this.files = files;
        this.around = around;
    }

    /** All that is wrong with a lesson or may be; errors and warnings, none twice. */
    public static List<Diagnostic> review(Lesson lesson, LessonFiles files, Around around) {
        LessonReview review = new LessonReview(lesson, files, around);
        review.names();
        review.links();
        review.strayFiles();
        review.time();
        for (Variant variant : review.variants()) {
            review.workThrough(variant);
        }
        return List.copyOf(review.found);
    }

    private void error(String message, @Nullable String hint) {
        found.add(Diagnostic.error(Span.file(LessonFiles.LESSON), message, hint, null));
    }

    private void warning(String message, @Nullable String hint) {
        found.add(Diagnostic.warning(Span.file(LessonFiles.LESSON), message, hint, null));
    }

    // ---- names, links, files, time

    private void names() {
        String folder = around.folder();
        if (folder != null && !folder.equals(lesson.id())) {
            error("id: %s is not the folder's name, %s".formatted(lesson.id(), folder), "name both alike");
        }
        Course course = around.course();
        if (course == null) {
            return;
        }
        int own = course.lessons().indexOf(lesson.id());
        for (Passage need : lesson.needs()) {
            int place = course.lessons().indexOf(need.text());
            if (place < 0) {
                found.add(unknown(need, "lesson", course.lessons()));
            } else if (own >= 0 && place >= own) {
                found.add(need.error("%s does not come before this lesson".formatted(need.text()), null));
            }
        }
        for (List<Passage> concepts : List.of(lesson.introduces(), lesson.uses(), lesson.examines())) {
            for (Passage concept : concepts) {
                if (!course.concepts().containsKey(concept.text())) {
                    found.add(unknown(
                            concept, "concept", List.copyOf(course.concepts().keySet())));
                }
            }
        }
    }

    private static Diagnostic unknown(Passage name, String what, List<String> known) {
        String nearest = Nearest.of(name.text(), known);
        String hint = (nearest == null ? "" : "did you mean \"%s\"? ".formatted(nearest)) + "the course has "
                + String.join(", ", known);
        return name.error("the course has no %s \"%s\"".formatted(what, name.text()), hint);
    }

    private void links() {
        for (Template text : LessonTexts.all(lesson)) {
            for (String target : text.links()) {
                if (!Links.isAllowed(target)) {
                    String hint = "allowed: pages of the documentation, as in chip.md#time, and http or https";
                    found.add(text.error("a link must not lead to %s".formatted(target), hint));
                } else if (Links.isPage(target) && !around.page().test(target)) {
                    found.add(text.error("the documentation has no %s".formatted(target), null));
                }
            }
        }
    }

    private void strayFiles() {
        Set<String> named = new HashSet<>(Set.of(LessonFiles.LESSON));
        LessonTexts.all(lesson).forEach(text -> named.add(text.passage().file()));
        lesson.runs().values().forEach(run -> {
            named.add(run.program().text());
            named.add(run.setup().designName());
            named.add(run.setup().scenarioName());
        });
        for (Step.Task task : lesson.tasks()) {
            named.add(task.start().text());
            named.add(task.model().text());
            Passage load = task.load();
            named.add(load == null ? "" : load.text());
            task.on().forEach(setup -> {
                named.add(setup.designName());
                named.add(setup.scenarioName());
            });
        }
        files.names().stream()
                .sorted()
                .filter(name -> !named.contains(name))
                .forEach(name -> warning(
                        "nothing in the lesson names the file %s".formatted(name), "take it out of the folder"));
    }

    private void time() {
        double estimate = ReadingTime.minutes(lesson);
        if (estimate > 1.5 * lesson.minutes() || estimate < 0.5 * lesson.minutes()) {
            warning(
                    "minutes: %d, but reading, questions and tasks take about %d"
                            .formatted(lesson.minutes(), Math.round(estimate)),
                    ReadingTime.RULE);
        }
    }

    // ---- with one student's numbers

    private List<Variant> variants() {
        Set<Map<String, Long>> seen = new HashSet<>();
        List<Variant> variants = new ArrayList<>(List.of(Variant.standard(lesson)));
        for (Map.Entry<String, Vary> entry : lesson.vary().entrySet()) {
            for (long extreme : entry.getValue().extremes()) {
                Map<String, Long> numbers = new LinkedHashMap<>(variants.get(0).numbers());
                numbers.put(entry.getKey(), extreme);
                variants.add(new Variant("", numbers));
            }
        }
        STUDENTS.forEach(student -> variants.add(Variant.of(lesson, student)));
        return variants.stream().filter(variant -> seen.add(variant.numbers())).toList();
    }

    private void workThrough(Variant variant) {
        Sitting sitting = new Sitting(lesson, files, variant);
        for (Expression value : lesson.values().values()) {
            attempt(() -> sitting.number(value));
        }
        for (String run : lesson.runs().keySet()) {
            attempt(() -> sitting.run(run));
        }
        for (int i = 0; i < lesson.steps().size(); i++) {
            String place = "steps[%d].%s".formatted(i, lesson.steps().get(i).kind());
            workThrough(sitting, lesson.steps().get(i), place);
        }
    }

    @FunctionalInterface
    private interface Attempt {
        void run() throws Unresolved;
    }

    /** Does something, and notes why it cannot be done. */
    private void attempt(Attempt attempt) {
        try {
            attempt.run();
        } catch (Unresolved e) {
            found.addAll(e.diagnostics());
        }
    }

    private void workThrough(Sitting sitting, Step step, String place) {
        if (step instanceof Step.Tell tell) {
            attempt(() -> sitting.prose(tell.text()));
        } else if (step instanceof Step.Watch watch) {
            attempt(() -> show(sitting.show(watch), watch));
        } else if (step instanceof Step.Predict predict) {
            attempt(() -> question(sitting, predict));
        } else {
            Step.Task task = (Step.Task) step;
            attempt(() -> sitting.prose(task.text()));
            task.hints().forEach(hint -> attempt(() -> sitting.prose(hint)));
            attempt(() -> task(sitting, task, place));
        }
    }

    private void show(Sitting.Show show, Step.Watch watch) {
        for (int i = 0; i < show.script().size(); i++) {
            String wrong = around.command().apply(show.script().get(i).command());
            if (wrong != null) {
                found.add(watch.script().get(i).command().error(wrong, null));
            }
        }
    }

    private void question(Sitting sitting, Step.Predict predict) throws Unresolved {
        Question question = sitting.question(predict);
        if (predict.answer() instanceof Step.NumberAnswer answer) {
            wrongNumbers(sitting, question, answer.wrong());
        } else if (predict.answer() instanceof Step.CoreAnswer answer) {
            wrongNumbers(sitting, question, answer.wrong());
        } else {
            Step.ChoiceAnswer answer = (Step.ChoiceAnswer) predict.answer();
            for (Step.WrongChoice wrong : answer.wrong()) {
                if (question.judge(String.valueOf(wrong.choice())) instanceof Judgement.Right) {
                    found.add(wrong.say().error("choice %d is right".formatted(wrong.choice()), null));
                }
            }
        }
    }

    private void wrongNumbers(Sitting sitting, Question question, List<Step.WrongNumber> wrong) throws Unresolved {
        Set<Double> seen = new HashSet<>();
        for (Step.WrongNumber one : wrong) {
            double gives = sitting.number(one.gives());
            if (question.judge(Numbers.plain(gives)) instanceof Judgement.Right) {
                found.add(one.gives()
                        .error(
                                "this gives the right answer, %s%s".formatted(Numbers.plain(gives), forWhom(sitting)),
                                null));
            }
            if (!seen.add(gives)) {
                found.add(one.gives()
                        .error(
                                "this gives %s, as one before it does%s"
                                        .formatted(Numbers.plain(gives), forWhom(sitting)),
                                null));
            }
        }
    }

    /** With which numbers something is so; empty where no number varies. */
    private static String forWhom(Sitting sitting) {
        Map<String, Long> numbers = sitting.variant().numbers();
        List<String> parts = numbers.entrySet().stream()
                .map(entry -> "%s = %d".formatted(entry.getKey(), entry.getValue()))
                .toList();
        return parts.isEmpty() ? "" : ", with " + String.join(", ", parts);
    }

    private void task(Sitting sitting, Step.Task task, String place) throws Unresolved {
        CheckResult model =
                TaskCheck.check(sitting, task, task.model().text(), sitting.bytes(task.model()), Limits.OF_THE_TASK);
        if (model instanceof CheckResult.Broken broken) {
            error("%s: the model answer has errors%s".formatted(place, forWhom(sitting)), null);
            found.addAll(broken.diagnostics());
        } else if (model instanceof CheckResult.Checked checked) {
            for (Outcome outcome : checked.outcomes()) {
                if (!outcome.passed()) {
                    String on = outcome.on().isEmpty() ? "" : " (%s)".formatted(outcome.on());
                    error(
                            "%s: the model answer fails \"%s\"%s%s: %s"
                                    .formatted(place, outcome.what(), on, forWhom(sitting), outcome.message()),
                            null);
                }
            }
        }
        CheckResult start =
                TaskCheck.check(sitting, task, task.start().text(), sitting.start(task), Limits.OF_THE_TASK);
        if (start.passed()) {
            String message = "%s: %s passes every check as it is%s, so there is nothing to do";
            error(message.formatted(place, task.start().text(), forWhom(sitting)), null);
        }
        if (start instanceof CheckResult.Broken broken) {
            warning("%s: %s has errors%s".formatted(place, task.start().text(), forWhom(sitting)), null);
            found.addAll(broken.diagnostics().stream()
                    .filter(Diagnostic::isError)
                    .map(LessonReview::asWarning)
                    .toList());
        }
    }

    private static Diagnostic asWarning(Diagnostic error) {
        return Diagnostic.warning(error.span(), error.message(), error.hint(), error.sourceLine());
    }
}
