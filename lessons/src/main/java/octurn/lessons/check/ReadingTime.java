package octurn.lessons.check;

import octurn.lessons.Lesson;
import octurn.lessons.Step;
import octurn.lessons.text.Template;

/** How long a lesson takes, roughly. */
final class ReadingTime {

    /** What the estimate rests on, for the author. */
    static final String RULE =
            "200 words a minute; 1 minute for a question, half a minute for a line of a script, 5 for a task";

    /** Below the mean of 238 for English prose (Brysbaert, Journal of Memory and Language 109, 2019): this is no novel. */
    private static final double WORDS_A_MINUTE = 200;

    private static final double QUESTION_MINUTES = 1;
    private static final double CUE_MINUTES = 0.5;
    private static final double TASK_MINUTES = 5;

    private ReadingTime() {}

    static double minutes(Lesson lesson) {
        double words =
                LessonTexts.all(lesson).stream().mapToInt(Template::words).sum();
        double minutes = words / WORDS_A_MINUTE;
        for (Step step : lesson.steps()) {
            minutes += minutes(step);
        }
        return minutes;
    }

    private static double minutes(Step step) {
        if (step instanceof Step.Watch watch) {
            return CUE_MINUTES * watch.script().size();
        } else if (step instanceof Step.Predict) {
            return QUESTION_MINUTES;
        } else {
            return step instanceof Step.Task ? TASK_MINUTES : 0;
        }
    }
}
