package octurn.lessons;

import static org.assertj.core.api.Assertions.fail;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import octurn.json.Reading;

/** The course that comes with Octurn, as it lies in {@code lessons/course}. */
final class TheCourse {

    static final Path FOLDER = Path.of("course");

    private TheCourse() {}

    static Course course() {
        try {
            Path file = FOLDER.resolve("course.json");
            Reading<Course> reading = CourseReader.read(file.getFileName().toString(), Files.readAllBytes(file));
            return reading instanceof Reading.Accepted<Course> accepted
                    ? accepted.value()
                    : fail("refused: %s", ((Reading.Refused<Course>) reading).problems());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** The names of the lessons, in order. */
    static List<String> ids() {
        return course().lessons();
    }

    static Folder folder(String id) {
        return Folder.of(FOLDER.resolve(id));
    }

    /** All lessons, in order. */
    static List<Lesson> lessons() {
        return ids().stream().map(id -> folder(id).accepted()).toList();
    }
}
