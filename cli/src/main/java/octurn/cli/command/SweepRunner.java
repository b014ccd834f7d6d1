package octurn.cli.command;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicReference;
import java.util.concurrent.atomic.AtomicReferenceArray;
import octurn.sweep.SweepRow;
import octurn.sweep.SweepTask;
import org.jspecify.annotations.Nullable;

/** Runs the points of a sweep side by side. Which thread runs which point makes no difference to the rows. */
final class SweepRunner {

    private static final long LOOK_MILLIS = 100;

    private final SweepTask task;
    private final List<Integer> points;
    private final AtomicReferenceArray<@Nullable SweepRow> rows;
    private final AtomicInteger next = new AtomicInteger();
    private final AtomicInteger done = new AtomicInteger();
    private final AtomicReference<@Nullable Throwable> trouble = new AtomicReference<>();

    /**
     * @param points those to be run, ascending
     * @param known rows that are there already
     */
    SweepRunner(SweepTask task, List<Integer> points, List<SweepRow> known) {
        this.task = task;
        this.rows = new AtomicReferenceArray<>(task.grid().size());
        known.forEach(row -> rows.set(row.point(), row));
        this.points = points.stream().filter(point -> rows.get(point) == null).toList();
        done.set(known.size());
    }

    /** How many points are done, those known before included. */
    int done() {
        return done.get();
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
        int threads = Math.max(1, Math.min(jobs, points.size()));
        CountDownLatch working = new CountDownLatch(threads);
        for (int i = 0; i < threads; i++) {
            Thread thread = new Thread(() -> work(working), "sweep " + i);
            thread.setDaemon(true);
            thread.start();
        }
        try {
            while (!working.await(LOOK_MILLIS, TimeUnit.MILLISECONDS)) {
                look.run();
            }
        } catch (InterruptedException e) {
            next.set(points.size());
            Thread.currentThread().interrupt();
        }
        look.run();
        Throwable thrown = trouble.get();
        if (thrown instanceof Error error) {
            throw error;
        }
        if (thrown != null) {
            throw new IllegalStateException(thrown);
        }
    }

    private void work(CountDownLatch working) {
        try {
            while (true) {
                int i = next.getAndIncrement();
                if (i >= points.size()) {
                    return;
                }
                int point = points.get(i);
                rows.set(point, task.run(point));
                done.incrementAndGet();
            }
        } catch (RuntimeException | Error e) {
            trouble.compareAndSet(null, e);
            next.set(points.size());
        } finally {
            working.countDown();
        }
    }
}
