package octurn.lessons;

import octurn.lessons.text.Prose;
import org.jspecify.annotations.Nullable;

/** What an answer is worth. */
public sealed interface Judgement {

    /**
     * A right answer.
     *
     * @param right the answer as the run gives it, as in {@code 18 cycles}
     * @param explanation why, by the run
     */
    record Right(String right, Prose explanation) implements Judgement {}

    /**
     * A wrong answer.
     *
     * @param given the answer as it was understood
     * @param right the answer as the run gives it
     * @param explanation why, by the run
     * @param misconception what would have made this answer right, where that is known; it does not say the right answer
     */
    record Wrong(
            String given,
            String right,
            Prose explanation,
            @Nullable Prose misconception) implements Judgement {}

    /**
     * No answer at all: it says nothing about what is right.
     *
     * @param message what would be one, in a sentence
     */
    record NoAnswer(String message) implements Judgement {}
}
