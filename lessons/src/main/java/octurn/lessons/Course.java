package octurn.lessons;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * A row of lessons.
 *
 * @param title what the course is called
 * @param concepts what the lessons are about: by name, each in one line
 * @param lessons the names of the lessons' folders, in the order in which they are taught
 */
public record Course(String title, Map<String, String> concepts, List<String> lessons) {
    public Course {
        concepts = Collections.unmodifiableMap(new LinkedHashMap<>(concepts));
        lessons = List.copyOf(lessons);
    }
}
