package octurn.lessons;

import java.util.List;

/**
 * What a list of lessons shows of a lesson, and what it takes to say how far a student is in it.
 *
 * @param aim what one can do after it, in one sentence
 * @param minutes how long it takes
 * @param needs the lessons that come before it, by id
 * @param asking of each step, in order, whether it is a question or a task
 */
public record LessonOutline(String title, String aim, int minutes, List<String> needs, List<Boolean> asking) {
    public LessonOutline {
        needs = List.copyOf(needs);
        asking = List.copyOf(asking);
    }
}
