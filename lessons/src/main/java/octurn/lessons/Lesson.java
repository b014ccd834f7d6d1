package octurn.lessons;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import octurn.json.Passage;
import octurn.lessons.value.Expression;

/**
 * One lesson, as its author wrote it.
 *
 * @param id the name of its folder
 * @param aim what one can do after it, in one sentence
 * @param minutes how long it takes
 * @param needs the lessons that come before it, by id
 * @param introduces the concepts that are new in it
 * @param uses the concepts that it takes for known
 * @param examines the concepts that its questions and tasks are about
 * @param vary numbers that differ from student to student, by name
 * @param runs what its numbers come from, by name
 * @param values its numbers, by name
 * @param steps what one does in it, in order; at least one
 */
public record Lesson(
        String id,
        String title,
        String aim,
        int minutes,
        List<Passage> needs,
        List<Passage> introduces,
        List<Passage> uses,
        List<Passage> examines,
        Map<String, Vary> vary,
        Map<String, ProgramRun> runs,
        Map<String, Expression> values,
        List<Step> steps) {

    /**
     * A run of one of the lesson's programs.
     *
     * @param program its file
     */
    public record ProgramRun(Passage program, RunSetup setup) {}

    public Lesson {
        needs = List.copyOf(needs);
        introduces = List.copyOf(introduces);
        uses = List.copyOf(uses);
        examines = List.copyOf(examines);
        vary = Collections.unmodifiableMap(new LinkedHashMap<>(vary));
        runs = Collections.unmodifiableMap(new LinkedHashMap<>(runs));
        values = Collections.unmodifiableMap(new LinkedHashMap<>(values));
        steps = List.copyOf(steps);
    }

    /** The tasks among the steps, in order. */
    public List<Step.Task> tasks() {
        return steps.stream()
                .filter(Step.Task.class::isInstance)
                .map(Step.Task.class::cast)
                .toList();
    }
}
