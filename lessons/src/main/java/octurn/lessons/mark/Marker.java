package octurn.lessons.mark;

import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CancellationException;
import java.util.function.BooleanSupplier;
import octurn.asm.Skeleton;
import octurn.design.Design;
import octurn.diag.Diagnostic;
import octurn.lessons.Lesson;
import octurn.lessons.LessonFiles;
import octurn.lessons.Sitting;
import octurn.lessons.Step;
import octurn.lessons.Variant;
import octurn.lessons.check.CheckResult;
import octurn.lessons.check.Limits;
import octurn.lessons.check.Outcome;
import octurn.lessons.check.TaskCheck;
import octurn.lessons.text.Prose;
import octurn.lessons.value.Unresolved;

/** Marks files against the tasks of a lesson. It keeps nothing from one to the next, so several threads may share it. */
public final class Marker {

    /** As many remarks on one file as somebody may read. */
    private static final int MOST_REMARKS = 20;

    private static final int LONGEST_MESSAGE = 1000;

    private final Lesson lesson;
    private final LessonFiles files;
    private final Marks.Limits limits;
    private final List<Assignment> tasks = new ArrayList<>();

    /** A task, and what its files are compared with. */
    private record Assignment(
            Step.Task task,
            Marks.Task heading,
            byte[] start,
            Map<String, Long> constants,
            String begun,
            String model) {}

    /**
     * Marks work on this lesson.
     *
     * @param steps which of its steps, from 1; each a task
     * @throws Unresolved if the lesson has a mistake
     */
    public Marker(Lesson lesson, LessonFiles files, List<Integer> steps, Marks.Limits limits) throws Unresolved {
        this.lesson = lesson;
        this.files = files;
        this.limits = limits;
        Sitting sitting = new Sitting(lesson, files, Variant.standard(lesson));
        for (int step : steps) {
            if (lesson.steps().get(step - 1) instanceof Step.Task task) {
                tasks.add(prepared(sitting, step, task));
            } else {
                throw new IllegalArgumentException("step %d is no task".formatted(step));
            }
        }
    }

    private static Assignment prepared(Sitting sitting, int step, Step.Task task) throws Unresolved {
        byte[] start = sitting.bytes(task.start());
        Map<String, Long> constants =
                task.isDesign() ? Map.of() : sitting.constants(task.on().get(0));
        Marks.Task heading = new Marks.Task(
                step, title(sitting.prose(task.text())), task.start().text());
        Assignment plain = new Assignment(task, heading, start, constants, "", "");
        String begun = structure(plain, start).print();
        return new Assignment(
                task,
                heading,
                start,
                constants,
                begun,
                structure(plain, sitting.bytes(task.model())).print());
    }

    /** The first heading of a task's text; empty if it has none. */
    private static String title(Prose text) {
        for (Prose.Block block : text.blocks()) {
            if (block instanceof Prose.Heading heading) {
                return Prose.plain(heading.inlines());
            }
        }
        return "";
    }

    private static Structure structure(Assignment task, byte[] bytes) {
        return task.task().isDesign()
                ? Structure.ofDesign(bytes, task.start())
                : Structure.ofProgram(bytes, task.start(), design(task), task.constants());
    }

    private static Design design(Assignment task) {
        return task.task().on().get(0).design();
    }

    /** The tasks that are marked, in the order of the lesson. */
    public List<Marks.Task> tasks() {
        return tasks.stream().map(Assignment::heading).toList();
    }

    /** What is to be handed in for each of them. */
    public List<Handed.Wanted> wanted() {
        return tasks.stream()
                .map(task -> new Handed.Wanted(
                        task.heading().step(),
                        task.heading().file(),
                        task.task().isDesign() ? ".design.json" : ".turn"))
                .toList();
    }

    /**
     * Marks a file.
     *
     * @param task its place in {@link #tasks}
     * @param student the student's name, from which the lesson's numbers come
     * @param file the file's name, for messages
     * @param bytes what is in it, or the beginning of it if that is more than the limit
     * @param stop asked now and then whether time is over
     */
    public Work mark(int task, String student, String file, byte[] bytes, BooleanSupplier stop) {
        Assignment wanted = tasks.get(task);
        int step = wanted.heading().step();
        if (bytes.length > limits.bytes()) {
            return Work.none(
                    step, Status.TOO_LARGE, file, "the file has more than %,d bytes".formatted(limits.bytes()));
        }
        if (!isText(bytes)) {
            return Work.none(step, Status.NO_TEXT, file, "the file is no UTF-8 text");
        }
        String hash = hash(bytes);
        if (isEmpty(bytes, wanted.task().isDesign())) {
            return new Work(
                    step,
                    Status.EMPTY,
                    file,
                    hash,
                    Structure.NONE,
                    false,
                    "there is nothing in the file",
                    List.of(),
                    List.of());
        }
        Structure structure = structure(wanted, bytes);
        try {
            Sitting sitting = new Sitting(lesson, files, Variant.of(lesson, student), stop);
            CheckResult result =
                    TaskCheck.check(sitting, wanted.task(), file, bytes, new Limits(limits.cycles(), stop));
            return work(wanted, file, hash, structure, result);
        } catch (CancellationException e) {
            return work(wanted, file, hash, structure, new CheckResult.Stopped());
        } catch (Unresolved e) {
            return unmarked(step, file, hash, "the lesson has a mistake for this student: " + e.getMessage());
        } catch (RuntimeException | StackOverflowError e) {
            // One file that trips us up must not cost the rest of the class its marks.
            return unmarked(step, file, hash, "a mistake of ours: " + e);
        }
    }

    private static Work unmarked(int step, String file, String hash, String message) {
        return new Work(step, Status.INTERNAL, file, hash, Structure.NONE, false, cut(message), List.of(), List.of());
    }

    private Work work(Assignment wanted, String file, String hash, Structure structure, CheckResult result) {
        Status status;
        String message = "";
        List<Diagnostic> diagnostics = List.of();
        List<Checked> checks = List.of();
        if (result instanceof CheckResult.Broken broken) {
            status = Status.ERRORS;
            diagnostics = broken.diagnostics();
        } else if (result instanceof CheckResult.Checked checked) {
            diagnostics = checked.warnings();
            boolean design = wanted.task().isDesign();
            checks = checked.outcomes().stream()
                    .map(outcome -> checked(outcome, design))
                    .toList();
            status = checked.passed() ? Status.PASSED : Status.FAILED;
            if (status == Status.FAILED && structure.print().equals(wanted.begun())) {
                status = Status.UNCHANGED;
                message = "the starting program, as it was given out";
            }
        } else {
            status = Status.OVER_TIME;
            message = "checking it took more than %d s".formatted(limits.seconds());
        }
        boolean asModel = structure.isThere() && structure.print().equals(wanted.model());
        return new Work(
                wanted.heading().step(), status, file, hash, structure, asModel, message, remarks(diagnostics), checks);
    }

    private static List<Remark> remarks(List<Diagnostic> diagnostics) {
        List<Remark> remarks = new ArrayList<>();
        for (Diagnostic diagnostic : diagnostics) {
            if (remarks.size() == MOST_REMARKS) {
                String more = "and %d more".formatted(diagnostics.size() - MOST_REMARKS);
                remarks.add(new Remark(0, 0, false, more, null));
                break;
            }
            Remark remark = Remark.of(diagnostic);
            remarks.add(
                    new Remark(remark.line(), remark.column(), remark.error(), cut(remark.message()), remark.hint()));
        }
        return remarks;
    }

    /** Lines of a run on a student's design are those of the lesson's program, so none is named. */
    private static Checked checked(Outcome outcome, boolean design) {
        String say = outcome.say().plain();
        String message = say.isEmpty() ? outcome.message() : "%s (%s)".formatted(outcome.message(), say);
        return new Checked(
                outcome.what(),
                outcome.on(),
                outcome.passed(),
                cut(message),
                design ? 0 : outcome.line(),
                outcome.cycle());
    }

    private static String cut(String text) {
        return text.length() <= LONGEST_MESSAGE ? text : text.substring(0, LONGEST_MESSAGE) + "..";
    }

    /** The SHA-256 of a file, 64 hexadecimal digits: by it a file is known that was marked before. */
    public static String hash(byte[] bytes) {
        return HexFormat.of().formatHex(Hash.sha256(bytes));
    }

    private static boolean isText(byte[] bytes) {
        for (byte b : bytes) {
            if (b == 0) {
                return false;
            }
        }
        try {
            StandardCharsets.UTF_8.newDecoder().decode(ByteBuffer.wrap(bytes));
            return true;
        } catch (CharacterCodingException e) {
            return false;
        }
    }

    private static boolean isEmpty(byte[] bytes, boolean design) {
        return design
                ? new String(bytes, StandardCharsets.UTF_8).isBlank()
                : Skeleton.of(bytes).map(String::isBlank).orElse(false);
    }
}
