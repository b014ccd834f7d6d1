package octurn.lessons.mark;

import java.time.Instant;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * One student.
 *
 * @param entry the name of the student's file or folder; empty for one who is on the list of names alone
 * @param student the student's name, from which the lesson's numbers come
 * @param handedIn when the newest of the marked files was last changed, or null if there is none
 * @param late whether that is after the time by which it was due
 * @param notes what else is to be told
 * @param works one for each task that is marked, in the order of the lesson
 */
public record Row(
        String entry, String student, @Nullable Instant handedIn, boolean late, List<String> notes, List<Work> works) {

    public Row {
        notes = List.copyOf(notes);
        works = List.copyOf(works);
    }

    /** How many tasks are passed. */
    public int passed() {
        return (int)
                works.stream().filter(work -> work.status() == Status.PASSED).count();
    }

    /** Whether all tasks are passed. */
    public boolean isAllPassed() {
        return passed() == works.size();
    }
}
