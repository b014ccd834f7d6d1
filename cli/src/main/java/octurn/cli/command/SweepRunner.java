package octurn.cli.command;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicReferenceArray;
import octurn.cli.process.Crew;
import octurn.sweep.SweepRow;
import octurn.sweep.SweepTask;
import org.jspecify.annotations.Nullable;

/** Runs the points of a sweep side by side. Which thread runs which point makes no difference to the rows. */
final class SweepRunner {

    private final SweepTask task;
    private final AtomicReferenceArray<@Nullable SweepRow> rows;
    private final int known;
    private final Crew crew;

    /**
     * @param points those to be run, ascending
     * @param known rows that are there already
     */
    SweepRunner(SweepTask task, List<Integer> points, List<SweepRow> known) {
        this.task = task;
        this.rows = new AtomicReferenceArray<>(task.grid().size());
        known.forEach(row -> rows.set(row.point(), row));
        this.known = known.size();
        List<Integer> left =
                points.stream().filter(point -> rows.get(point) == null).toList();
        this.crew = new Crew("sweep", left.size(), i -> run(left.get(i)));
    }

    /** How many points are done, those known before included. */
    int done() {
        return known + crew.done();
    }

    /** The rows that there are, by point. Can be asked for at any time, from any thread. */
    List<SweepRow> rows() {
        List<SweepRow> list = new ArrayList<>();
        for (int point = 0; point < rows.length(); point++) {
            SweepRow row = rows.get(point);
            if (row != null) {
                list.add(row);
            }
        }
        return list;
    }

    /**
     * Runs all points.
     *
     * @param jobs how many at a time
     * @param look is called every now and then, and at the end
     */
    void run(int jobs, Runnable look) {
        crew.run(jobs, look);
    }

    private void run(int point) {
        rows.set(point, task.run(point));
    }
}
