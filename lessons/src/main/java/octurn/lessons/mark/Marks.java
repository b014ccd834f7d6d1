package octurn.lessons.mark;

import java.time.Instant;
import java.util.List;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/**
 * The marks of a class.
 *
 * @param heading what was marked, and how
 * @param rows one for each student, by name
 */
public record Marks(Heading heading, List<Row> rows) {

    public Marks {
        rows = List.copyOf(rows);
    }

    /**
     * What was marked, and how: two markings with the same heading give the same marks for the same files.
     *
     * @param lesson its id
     * @param title of the lesson
     * @param tasks those that were marked, in the order of the lesson
     * @param limits for each submission
     * @param due when work was due, or null if that did not matter
     * @param key stands for the lesson's files and the version of Octurn: 64 hexadecimal digits
     */
    public record Heading(
            String lesson,
            String title,
            List<Task> tasks,
            Limits limits,
            @Nullable Instant due,
            String key) {
        public Heading {
            tasks = List.copyOf(tasks);
        }
    }

    /**
     * A task.
     *
     * @param step its step in the lesson, from 1
     * @param title what it is about, in a few words
     * @param file the name of the file that students begin with
     */
    public record Task(int step, String title, String file) {}

    /**
     * What one submission may use up.
     *
     * @param cycles of each run; the lesson's own limit counts where it is less
     * @param bytes of the file
     * @param seconds for all runs of a task
     */
    public record Limits(long cycles, int bytes, int seconds) {}

    /** How many students' work on a task stands how, in the order of {@link Status}, without those of nobody. */
    public SortedMap<Status, Long> statuses(int task) {
        return rows.stream()
                .collect(Collectors.groupingBy(
                        row -> row.works().get(task).status(), TreeMap::new, Collectors.counting()));
    }

    /** The groups of students whose work is alike. */
    public List<Alike> alike() {
        return Alike.among(rows);
    }
}
