package octurn.lessons;

import java.util.Set;
import org.jspecify.annotations.Nullable;

/** The files of one lesson, wherever they lie. */
public interface LessonFiles {

    /** The name of the file that says what the lesson is. */
    String LESSON = "lesson.json";

    /** The file in which a course stands, in the folder above those of its lessons. */
    String COURSE = "course.json";

    /** The names of all files, without any folder. */
    Set<String> names();

    /** What is in a file, or null if there is none of this name. */
    byte @Nullable [] read(String name);
}
