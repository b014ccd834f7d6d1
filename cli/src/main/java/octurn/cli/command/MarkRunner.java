package octurn.cli.command;

import java.io.IOException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicReferenceArray;
import java.util.function.BooleanSupplier;
import java.util.function.LongSupplier;
import octurn.cli.process.Crew;
import octurn.cli.process.InputFiles;
import octurn.cli.process.SubmissionFolder;
import octurn.lessons.mark.Handed;
import octurn.lessons.mark.Marker;
import octurn.lessons.mark.Marks;
import octurn.lessons.mark.Row;
import octurn.lessons.mark.Status;
import octurn.lessons.mark.Work;
import org.jspecify.annotations.Nullable;

/** Marks a folder of submissions, several at a time. Which thread marks whom makes no difference to the rows. */
final class MarkRunner {

    /**
     * One student.
     *
     * @param handed what there is, or null for one who is on the list of names alone
     * @param student the name from which the lesson's numbers come
     * @param notes what is known of the entry beforehand
     */
    record Candidate(@Nullable Handed handed, String student, List<String> notes) {

        String entry() {
            return handed == null ? "" : handed.entry();
        }
    }

    private final Marker marker;
    private final SubmissionFolder folder;
    private final Marks.Heading heading;
    private final List<Candidate> candidates;
    private final LongSupplier nanoTime;
    private final Map<String, Row> known = new HashMap<>();
    private final AtomicReferenceArray<@Nullable Row> rows;
    private final Crew crew;

    /**
     * @param candidates in the order of the rows
     * @param before rows that were marked before under the same heading; what has not changed since is taken from there
     */
    MarkRunner(
            Marker marker,
            SubmissionFolder folder,
            Marks.Heading heading,
            List<Candidate> candidates,
            List<Row> before,
            LongSupplier nanoTime) {
        this.marker = marker;
        this.folder = folder;
        this.heading = heading;
        this.candidates = List.copyOf(candidates);
        this.nanoTime = nanoTime;
        this.rows = new AtomicReferenceArray<>(candidates.size());
        this.crew = new Crew("mark", this.candidates.size(), i -> rows.set(i, row(this.candidates.get(i))));
        before.forEach(row -> known.put(key(row.entry(), row.student()), row));
    }

    private static String key(String entry, String student) {
        return entry + "\n" + student;
    }

    /** How many students are marked. */
    int done() {
        return crew.done();
    }

    int all() {
        return candidates.size();
    }

    /** The rows that there are, in order. Can be asked for at any time, from any thread. */
    List<Row> rows() {
        List<Row> list = new ArrayList<>();
        for (int i = 0; i < rows.length(); i++) {
            Row row = rows.get(i);
            if (row != null) {
                list.add(row);
            }
        }
        return list;
    }

    /**
     * The rows that there are, and of those who were not yet reached the ones of before: they will be looked at again, and
     * taken over if nothing has changed.
     */
    List<Row> rowsToKeep() {
        List<Row> list = new ArrayList<>();
        for (int i = 0; i < rows.length(); i++) {
            Candidate candidate = candidates.get(i);
            Row row = rows.get(i);
            Row kept = row != null ? row : known.get(key(candidate.entry(), candidate.student()));
            if (kept != null) {
                list.add(kept);
            }
        }
        return list;
    }

    /**
     * Marks all.
     *
     * @param workers how many at a time
     * @param look is called every now and then, and at the end
     */
    void run(int workers, Runnable look) {
        crew.run(workers, look);
    }

    private Row row(Candidate candidate) {
        List<Work> works = new ArrayList<>();
        Handed handed = candidate.handed();
        if (handed == null) {
            for (Marks.Task task : heading.tasks()) {
                works.add(Work.none(task.step(), Status.MISSING, "", "nothing was handed in under this name"));
            }
            return new Row("", candidate.student(), null, false, candidate.notes(), works);
        }
        Instant newest = null;
        List<Handed.Wanted> wanted = marker.wanted();
        Row before = known.get(key(candidate.entry(), candidate.student()));
        for (int task = 0; task < wanted.size(); task++) {
            Handed.Choice choice = handed.choose(wanted.get(task), wanted.size() == 1);
            if (choice instanceof Handed.Chosen chosen) {
                Instant modified = chosen.item().modified();
                newest = newest == null || modified.isAfter(newest) ? modified : newest;
                works.add(work(task, candidate.student(), chosen, before));
            } else {
                Handed.Unfit unfit = (Handed.Unfit) choice;
                works.add(Work.none(wanted.get(task).step(), unfit.status(), unfit.path(), unfit.message()));
            }
        }
        Instant due = heading.due();
        boolean late = due != null && newest != null && newest.isAfter(due);
        return new Row(candidate.entry(), candidate.student(), newest, late, candidate.notes(), works);
    }

    private Work work(int task, String student, Handed.Chosen chosen, @Nullable Row before) {
        int step = heading.tasks().get(task).step();
        String path = chosen.item().path();
        byte[] bytes;
        try {
            bytes = folder.read(chosen.item(), heading.limits().bytes() + 1);
        } catch (IOException e) {
            return Work.none(step, Status.UNREADABLE, path, "cannot be read: " + InputFiles.reason(e));
        }
        Work same = before == null ? null : same(before, step, path, bytes);
        return same != null ? same : marker.mark(task, student, path, bytes, deadline());
    }

    /** What this file got before, if it is as it was then and no haste or mistake of ours was to blame for the outcome. */
    private static @Nullable Work same(Row before, int step, String path, byte[] bytes) {
        for (Work work : before.works()) {
            boolean again = work.status() == Status.OVER_TIME || work.status() == Status.INTERNAL;
            if (work.step() == step
                    && !again
                    && work.file().equals(path)
                    && !work.sha256().isEmpty()
                    && work.sha256().equals(Marker.hash(bytes))) {
                return work;
            }
        }
        return null;
    }

    private BooleanSupplier deadline() {
        long end =
                nanoTime.getAsLong() + TimeUnit.SECONDS.toNanos(heading.limits().seconds());
        return () -> nanoTime.getAsLong() - end > 0;
    }
}
