package octurn.cli.view;

import java.util.List;
import octurn.cli.view.Scene.Prompt;
import org.jspecify.annotations.Nullable;

/** What a screen of a course shows. */
public sealed interface LearnScene {

    /** In the first line, on the left. */
    String title();

    /** In the first line, on the right. */
    String place();

    /** The answer to what was done last, one line; empty for none. */
    String message();

    /** Whether that answer is a complaint. */
    boolean isError();

    /** What could be done next. */
    String hint();

    /**
     * The lessons of a course.
     *
     * @param rows one for each lesson
     * @param chosen which of them, from 0
     */
    record Lessons(String title, String place, List<Row> rows, int chosen, String message, boolean isError, String hint)
            implements LearnScene {
        public Lessons {
            rows = List.copyOf(rows);
        }
    }

    /**
     * A lesson in the list.
     *
     * @param standing how far the student is, in a few words
     * @param isDone whether nothing is left to do
     * @param about what is said of it when it is chosen
     */
    record Row(String title, String minutes, String standing, boolean isDone, List<Section> about) {
        public Row {
            about = List.copyOf(about);
        }
    }

    /**
     * A step of a lesson.
     *
     * @param text what it says
     * @param results what came of what the student did; empty for none
     * @param scroll lines that it is moved up by
     * @param ask what is asked for, before the place where the answer is typed
     * @param prompt the answer being typed, or null if none is
     */
    record Page(
            String title,
            String place,
            List<Section> text,
            List<Section> results,
            int scroll,
            String ask,
            @Nullable Prompt prompt,
            String message,
            boolean isError,
            String hint)
            implements LearnScene {
        public Page {
            text = List.copyOf(text);
            results = List.copyOf(results);
        }
    }
}
