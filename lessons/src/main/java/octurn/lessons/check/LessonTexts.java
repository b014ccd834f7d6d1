package octurn.lessons.check;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.stream.Stream;
import octurn.lessons.Check;
import octurn.lessons.Lesson;
import octurn.lessons.Step;
import octurn.lessons.text.Template;
import org.jspecify.annotations.Nullable;

/** Every text of a lesson. */
final class LessonTexts {

    private LessonTexts() {}

    /** All texts, in the order of the steps. */
    static List<Template> all(Lesson lesson) {
        return lesson.steps().stream().flatMap(LessonTexts::of).toList();
    }

    /** All texts of one step, but not what a failed check says, for that needs a failed run. */
    static Stream<Template> of(Step step) {
        if (step instanceof Step.Tell tell) {
            return Stream.of(tell.text());
        } else if (step instanceof Step.Watch watch) {
            return given(watch.text(), watch.script().stream().map(Step.Cue::say));
        } else if (step instanceof Step.Predict predict) {
            return given(predict.ask(), Stream.concat(of(predict.answer()), Stream.of(predict.explain())));
        } else {
            Step.Task task = (Step.Task) step;
            return given(task.text(), Stream.concat(task.checks().stream().map(Check::say), task.hints().stream()));
        }
    }

    private static Stream<Template> given(Template first, Stream<@Nullable Template> more) {
        List<Template> texts = new ArrayList<>(List.of(first));
        more.filter(Objects::nonNull).map(Objects::requireNonNull).forEach(texts::add);
        return texts.stream();
    }

    private static Stream<@Nullable Template> of(Step.Answer answer) {
        if (answer instanceof Step.NumberAnswer number) {
            return number.wrong().stream().map(Step.WrongNumber::say);
        } else if (answer instanceof Step.CoreAnswer core) {
            return core.wrong().stream().map(Step.WrongNumber::say);
        } else {
            Step.ChoiceAnswer choice = (Step.ChoiceAnswer) answer;
            return Stream.concat(
                    choice.options().stream().map(Step.Option::text),
                    choice.wrong().stream().map(Step.WrongChoice::say));
        }
    }
}
