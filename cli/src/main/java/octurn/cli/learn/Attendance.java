package octurn.cli.learn;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.concurrent.CancellationException;
import java.util.function.BooleanSupplier;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.asm.Program;
import octurn.cli.view.Glyphs;
import octurn.cli.view.ProseView;
import octurn.cli.view.Section;
import octurn.cli.view.Section.Tone;
import octurn.design.Design;
import octurn.diag.Diagnostic;
import octurn.diag.Span;
import octurn.json.DesignReader;
import octurn.json.Passage;
import octurn.json.Reading;
import octurn.lessons.Judgement;
import octurn.lessons.Lesson;
import octurn.lessons.Question;
import octurn.lessons.RunSetup;
import octurn.lessons.Sitting;
import octurn.lessons.Step;
import octurn.lessons.Variant;
import octurn.lessons.check.CheckResult;
import octurn.lessons.check.Limits;
import octurn.lessons.check.Outcome;
import octurn.lessons.check.TaskCheck;
import octurn.lessons.text.Prose;
import octurn.lessons.value.Expression;
import octurn.lessons.value.Unresolved;
import octurn.run.Progress;
import octurn.run.Timeline;
import org.jspecify.annotations.Nullable;

/** A student in one lesson: at which step, and what came of it. */
final class Attendance {

    /** Checks that failed are all told, but no more than so many: the same mistake shows in run after run. */
    private static final int MOST_FAILED = 6;

    private final int index;
    private final CourseLesson courseLesson;
    private final Lesson lesson;
    private final Sitting sitting;
    private final Keeper keeper;
    private final Desk desk;
    private final Change.Where where;

    /** The step, from 1; one more than there are stands for the end of the lesson. */
    private int number;

    private Progress progress = Progress.NONE;
    private List<Section> text = List.of();
    private List<Section> results = List.of();
    private List<Section> hints = List.of();
    private @Nullable Question question;

    // Of a task:
    private String file = "";
    /** A file that is there already, of which nobody knows yet whether it is to be used; empty for none. */
    private String found = "";

    private @Nullable String stamp;
    private @Nullable String seen;
    private int checks;
    private boolean passes;

    /**
     * A student who comes to a lesson, at the step where it was left.
     *
     * @throws Refused if the lesson has mistakes
     */
    Attendance(
            int index,
            CourseLesson courseLesson,
            String course,
            String student,
            Keeper keeper,
            Desk desk,
            Progress progress) {
        Lesson read = courseLesson.lesson();
        if (read == null) {
            throw new Refused("this lesson has mistakes: " + courseLesson.mistake());
        }
        this.index = index;
        this.courseLesson = courseLesson;
        this.lesson = read;
        this.sitting = new Sitting(
                lesson,
                courseLesson.files(),
                Variant.of(lesson, student),
                () -> !this.progress.goOn(0, Long.MAX_VALUE));
        this.keeper = keeper;
        this.desk = desk;
        this.where = new Change.Where(student, course, courseLesson.id(), courseLesson.fingerprint());
        this.progress = progress;
        renew();
        Standing standing = standing();
        boolean done = courseLesson.isDone(standing);
        goTo(done ? 1 : Math.max(1, Math.min(standing.at(), end())), progress);
    }

    /** If the lesson has changed since, holds the answers that were right against it as it is now. */
    private void renew() {
        List<Change> changes = new ArrayList<>();
        standing().steps().forEach((at, step) -> {
            if (step.done() && !step.lesson().equals(where.fingerprint()) && at >= 1 && at < end()) {
                changes.add(stillHolds(at, step));
            }
        });
        if (!changes.isEmpty()) {
            keeper.note(changes);
        }
    }

    private Change stillHolds(int at, Standing.Step step) {
        if (lesson.steps().get(at - 1) instanceof Step.Predict predict) {
            try {
                return sitting.question(predict).judge(step.answer()) instanceof Judgement.Right
                        ? new Change.Answered(where, at, step.answer(), true)
                        : new Change.Lapsed(where, at);
            } catch (Unresolved | CancellationException e) {
                return new Change.Lapsed(where, at);
            }
        }
        // A task is checked again when the student comes to it.
        return lesson.steps().get(at - 1) instanceof Step.Task && step.file().isEmpty()
                ? new Change.Lapsed(where, at)
                : new Change.Went(where, at);
    }

    /** Who may end what takes long from now on. */
    void watch(Progress newProgress) {
        progress = newProgress;
    }

    // ---- where the student is ----

    int index() {
        return index;
    }

    int number() {
        return number;
    }

    private int end() {
        return lesson.steps().size() + 1;
    }

    boolean isAtEnd() {
        return number == end();
    }

    /** The present step; null at the end of the lesson. */
    @Nullable
    Step step() {
        return isAtEnd() ? null : lesson.steps().get(number - 1);
    }

    private Standing standing() {
        return keeper.book().standings(where.student(), where.course()).getOrDefault(where.lesson(), Standing.NONE);
    }

    private Standing.Step standingHere() {
        return standing().step(number);
    }

    boolean isDone() {
        return standingHere().done();
    }

    boolean isOpenQuestion() {
        return step() instanceof Step.Predict && !isDone();
    }

    boolean isOpenTask() {
        return step() instanceof Step.Task && !isDone();
    }

    /** Goes to a step of this number, which is made to be one. */
    void goTo(int newNumber, Progress newProgress) {
        Step left = number == 0 ? null : step();
        List<Change> changes = new ArrayList<>();
        if (newNumber > number && (left instanceof Step.Tell || left instanceof Step.Watch)) {
            changes.add(new Change.Went(where, number));
        }
        number = Math.max(1, Math.min(newNumber, end()));
        changes.add(new Change.Came(where, number));
        keeper.note(changes);
        progress = newProgress;
        arrive();
    }

    private void arrive() {
        text = List.of();
        results = List.of();
        hints = List.of();
        question = null;
        file = "";
        found = "";
        stamp = null;
        seen = null;
        checks = 0;
        passes = false;
        Step step = step();
        try {
            if (step instanceof Step.Tell tell) {
                text = List.of(Section.of(sitting.prose(tell.text())));
            } else if (step instanceof Step.Watch watch) {
                text = List.of(Section.of(sitting.prose(watch.text())));
            } else if (step instanceof Step.Predict predict) {
                arrive(sitting.question(predict));
            } else if (step instanceof Step.Task task) {
                arrive(task);
            } else {
                text = ending();
            }
        } catch (Unresolved e) {
            text = mistake(e);
        } catch (CancellationException e) {
            text = List.of(Section.of(
                    Tone.BAD,
                    "Interrupted.",
                    "What this step shows takes long to run. Go back and come again, or skip it."));
        }
    }

    private static List<Section> mistake(Unresolved e) {
        List<Section> sections = new ArrayList<>();
        sections.add(
                Section.of(Tone.BAD, "This step has a mistake in it, which only the lesson's author can mend.", ""));
        for (Diagnostic diagnostic : e.diagnostics()) {
            sections.add(diagnostic(diagnostic));
        }
        return sections;
    }

    /** What is wrong and where: the line itself, and what would be right. */
    private static Section diagnostic(Diagnostic diagnostic) {
        Span span = diagnostic.span();
        String sort = diagnostic.isError() ? "error" : "warning";
        String place = span.line() == 0
                ? "%s in %s".formatted(sort, span.file())
                : "%s in %s, line %d, column %d".formatted(sort, span.file(), span.line(), span.column());
        List<Prose.Block> blocks =
                new ArrayList<>(Prose.of(sentence(diagnostic.message())).blocks());
        String source = diagnostic.sourceLine();
        if (source != null) {
            blocks.add(new Prose.CodeBlock("", List.of(source.strip())));
        }
        String hint = diagnostic.hint();
        if (hint != null) {
            blocks.addAll(Prose.of(sentence("Hint: " + hint)).blocks());
        }
        return new Section(diagnostic.isError() ? Tone.BAD : Tone.NOTE, place, new Prose(blocks));
    }

    private static String sentence(String text) {
        return text.matches("(?s).*[.?!]") ? text : text + ".";
    }

    private void arrive(Question asked) {
        question = asked;
        List<Section> sections = new ArrayList<>();
        sections.add(Section.of(asked.ask()));
        if (!asked.options().isEmpty()) {
            List<List<Prose.Block>> items =
                    asked.options().stream().map(Prose::blocks).toList();
            sections.add(Section.of(new Prose(List.of(new Prose.Items(1, items)))));
        }
        text = sections;
        Standing.Step standing = standingHere();
        if (standing.done() && asked.judge(standing.answer()) instanceof Judgement.Right right) {
            results = right(right, "You have answered this");
        }
    }

    private void arrive(Step.Task task) throws Unresolved {
        text = List.of(Section.of(sitting.prose(task.text())));
        Standing.Step standing = standingHere();
        List<Section> shown = new ArrayList<>();
        for (int i = 0; i < Math.min(standing.hints(), task.hints().size()); i++) {
            shown.add(hint(task, i));
        }
        hints = shown;
        if (!standing.file().isEmpty() && desk.exists(standing.file())) {
            file = standing.file();
            check(progress);
        }
    }

    private List<Section> ending() {
        List<Section> sections = new ArrayList<>();
        List<Integer> open = courseLesson.asking().stream()
                .filter(at -> !standing().step(at).done())
                .toList();
        if (open.isEmpty()) {
            sections.add(Section.of(Tone.GOOD, "This lesson is done.", lesson.aim()));
        } else {
            sections.add(Section.of(
                    Tone.NOTE,
                    "This is the end of the lesson, but it is not done yet.",
                    "Still open: step %s. Go back with the left arrow, or come again later."
                            .formatted(String.join(
                                    ", ", open.stream().map(String::valueOf).toList()))));
        }
        return sections;
    }

    // ---- questions ----

    Reply answer(String typed) {
        Question asked = question;
        if (asked == null) {
            throw new Refused("there is no question here");
        }
        Judgement judgement = asked.judge(typed);
        if (judgement instanceof Judgement.Right right) {
            keeper.note(List.of(new Change.Answered(where, number, typed, true)));
            results = right(right, "Right");
        } else if (judgement instanceof Judgement.Wrong wrong) {
            keeper.note(List.of(new Change.Answered(where, number, typed, false)));
            List<Section> sections = new ArrayList<>();
            Prose slip = wrong.misconception();
            sections.add(new Section(Tone.BAD, "Not %s.".formatted(wrong.given()), slip == null ? Prose.EMPTY : slip));
            sections.add(Section.of(Tone.PLAIN, "", "Try again; or watch the run, and see for yourself."));
            results = sections;
        } else {
            throw new Refused(((Judgement.NoAnswer) judgement).message());
        }
        return Reply.done("", results);
    }

    private static List<Section> right(Judgement.Right right, String label) {
        return List.of(new Section(Tone.GOOD, "%s: %s.".formatted(label, right.right()), right.explanation()));
    }

    // ---- watching ----

    /** The walk through what this step is about. */
    Walk walk(Glyphs glyphs) {
        Step step = step();
        try {
            if (step instanceof Step.Watch watch) {
                return led(sitting.show(watch), glyphs);
            }
            if (step instanceof Step.Predict predict) {
                if (standingHere().tries() == 0) {
                    throw new Refused("answer first: the run would tell you");
                }
                return asked(predict, glyphs);
            }
            if (step instanceof Step.Task task) {
                return trial(task, glyphs);
            }
        } catch (Unresolved e) {
            results = mistake(e);
            throw new Refused("this step has a mistake, which only the lesson's author can mend; skip it");
        }
        throw new Refused("there is nothing to watch here");
    }

    private Walk led(Sitting.Show show, Glyphs glyphs) {
        List<Walk.Moment> script = show.script().stream()
                .map(line -> new Walk.Moment(line.command(), ProseView.paragraphs(line.say())))
                .toList();
        return Walk.led(
                lesson.title(), () -> Timeline.of(show.program(), show.scenario(), show.limit()), script, glyphs);
    }

    private Walk asked(Step.Predict predict, Glyphs glyphs) throws Unresolved {
        String name = run(predict);
        Lesson.ProgramRun run = lesson.runs().get(name);
        if (run == null) {
            throw new Refused("there is no run to watch for this question");
        }
        RunSetup setup = run.setup();
        Program program = sitting.program(run.program(), setup);
        return new Walk(
                "the run of the question",
                () -> Timeline.of(program, setup.scenario(), setup.cycles()),
                ProseView.paragraphs(sitting.prose(predict.ask())),
                glyphs);
    }

    /** The name of the first run that the right answer comes from, or of the lesson's first. */
    private String run(Step.Predict predict) {
        List<Expression> expressions = new ArrayList<>();
        if (predict.answer() instanceof Step.NumberAnswer number) {
            expressions.add(number.number());
        } else if (predict.answer() instanceof Step.CoreAnswer core) {
            expressions.add(core.core());
        } else if (predict.answer() instanceof Step.ChoiceAnswer choice) {
            choice.options().forEach(option -> expressions.add(option.value()));
        }
        for (int i = 0; i < expressions.size(); i++) {
            for (Expression.Use use : expressions.get(i).uses()) {
                if (use.isRun()) {
                    return use.name();
                }
                Expression value = lesson.values().get(use.name());
                if (value != null && !expressions.contains(value)) {
                    expressions.add(value);
                }
            }
        }
        return lesson.runs().keySet().stream().findFirst().orElse("");
    }

    private Walk trial(Step.Task task, Glyphs glyphs) throws Unresolved {
        if (file.isEmpty()) {
            throw new Refused("there is no program of yours yet: Enter writes it, e opens it in your editor");
        }
        RunSetup setup = task.on().get(0);
        byte[] source = desk.read(file);
        Assembly assembly;
        Passage load = task.load();
        if (load == null) {
            assembly = Assembler.assemble(file, source, setup.design(), sitting.constants(setup));
        } else {
            Reading<Design> reading = DesignReader.read(file, source);
            if (!(reading instanceof Reading.Accepted<Design> accepted)) {
                throw new Refused("the design has errors: see the check");
            }
            assembly = Assembler.assemble(load.text(), sitting.bytes(load), accepted.value(), sitting.constants(setup));
        }
        if (!(assembly instanceof Assembly.Assembled assembled)) {
            throw new Refused("the program has errors: see the check");
        }
        return new Walk(
                "your program",
                () -> Timeline.of(assembled.program(), setup.scenario(), setup.cycles()),
                List.of(file),
                glyphs);
    }

    // ---- tasks ----

    boolean hasFile() {
        return !file.isEmpty();
    }

    String file() {
        return file;
    }

    Step.Task needTask() {
        if (step() instanceof Step.Task task) {
            return task;
        }
        throw new Refused("there is no task here");
    }

    /** The name of the student's file: that of the lesson, with a number if the lesson has more than one task. */
    private String name(Step.Task task, int version) {
        int which = lesson.tasks().indexOf(task);
        String ending = task.isDesign() ? ".design.json" : ".turn";
        return lesson.id() + (which > 0 ? "-" + (which + 1) : "") + (version > 1 ? "-v" + version : "") + ending;
    }

    /** Writes the program to begin with, unless there is a file of that name: then the student says what to do. */
    Reply begin() {
        Step.Task task = needTask();
        String wanted = desk.file(name(task, 1));
        if (desk.exists(wanted)) {
            found = wanted;
            results = List.of(Section.of(
                    Tone.NOTE,
                    "%s is there already.".formatted(wanted),
                    "u takes it as it is; n writes the program to begin with under another name."));
            return Reply.done("", results);
        }
        return write(task, wanted);
    }

    Reply startAnew() {
        Step.Task task = needTask();
        int version = 1;
        while (desk.exists(desk.file(name(task, version)))) {
            version++;
        }
        return write(task, desk.file(name(task, version)));
    }

    private Reply write(Step.Task task, String newFile) {
        try {
            desk.write(newFile, sitting.start(task));
            Passage load = task.load();
            if (load != null && !desk.exists(desk.file(load.text()))) {
                desk.write(desk.file(load.text()), sitting.bytes(load));
            }
        } catch (Unresolved e) {
            throw new Refused("the lesson has a mistake: " + e.getMessage());
        }
        return take(newFile);
    }

    private Reply take(String newFile) {
        file = newFile;
        found = "";
        keeper.note(List.of(new Change.Began(where, number, newFile)));
        check(progress);
        return Reply.done("your file is " + newFile, results);
    }

    Reply use(Progress newProgress) {
        needTask();
        if (found.isEmpty()) {
            throw new Refused("there is no file to be used");
        }
        progress = newProgress;
        return take(found);
    }

    /** Checks the file if it has been saved anew, and the saving is over; null if not. */
    @Nullable
    Reply checkIfSaved(Progress newProgress) {
        if (file.isEmpty()) {
            return null;
        }
        String now = desk.stamp(file);
        boolean settled = Objects.equals(now, seen);
        seen = now;
        if (now == null || Objects.equals(now, stamp) || !settled) {
            return null;
        }
        Reply reply = check(newProgress);
        return reply.kind() == Reply.Kind.DONE ? Reply.done("saved, " + reply.line(), reply.news()) : reply;
    }

    Reply check(Progress newProgress) {
        Step.Task task = needTask();
        if (file.isEmpty()) {
            throw new Refused("there is no file to check yet: Enter writes it");
        }
        progress = newProgress;
        stamp = desk.stamp(file);
        seen = stamp;
        byte[] source = desk.read(file);
        BooleanSupplier stop = () -> !newProgress.goOn(0, Long.MAX_VALUE);
        try {
            CheckResult result = TaskCheck.check(
                    sitting, task, desk.shortName(file), source, new Limits(Limits.OF_THE_TASK.cycles(), stop));
            if (result instanceof CheckResult.Stopped) {
                return Reply.refused("the check was interrupted; c checks again");
            }
            checks++;
            passes = result.passed();
            keeper.note(List.of(new Change.Checked(where, number, CourseLesson.fingerprint(source), passes)));
            results = outcome(result);
        } catch (Unresolved e) {
            results = mistake(e);
        }
        return Reply.done(
                passes ? "check %d: passed".formatted(checks) : "check %d: not yet".formatted(checks), results);
    }

    private List<Section> outcome(CheckResult result) {
        List<Section> sections = new ArrayList<>();
        if (result instanceof CheckResult.Broken broken) {
            sections.add(
                    Section.of(Tone.BAD, "Check %d: the file has errors, so nothing was run.".formatted(checks), ""));
            broken.diagnostics().forEach(one -> sections.add(diagnostic(one)));
            return sections;
        }
        CheckResult.Checked checked = (CheckResult.Checked) result;
        List<Outcome> outcomes = checked.outcomes();
        long passed = outcomes.stream().filter(Outcome::passed).count();
        if (passes) {
            sections.add(Section.of(Tone.GOOD, "Check %d: passed, all %d.".formatted(checks, passed), ""));
        } else {
            sections.add(
                    Section.of(Tone.BAD, "Check %d: %d of %d passed.".formatted(checks, passed, outcomes.size()), ""));
        }
        List<Outcome> failed = outcomes.stream().filter(one -> !one.passed()).toList();
        for (int i = 0; i < Math.min(MOST_FAILED, failed.size()); i++) {
            Outcome outcome = failed.get(i);
            // What the author says to a check is said once, though it failed on several runs.
            boolean again =
                    failed.subList(0, i).stream().anyMatch(one -> one.check().equals(outcome.check()));
            sections.add(failed(outcome, again));
        }
        int more = failed.size() - MOST_FAILED;
        if (more > 0) {
            sections.add(Section.of(Tone.PLAIN, "", "And %d more that did not pass.".formatted(more)));
        }
        checked.warnings().forEach(one -> sections.add(diagnostic(one)));
        sections.add(new Section(Tone.PLAIN, "", new Prose(List.of(passedList(outcomes)))));
        return sections;
    }

    private static Section failed(Outcome outcome, boolean again) {
        String what = outcome.on().isEmpty() ? outcome.what() : "%s, %s".formatted(outcome.what(), outcome.on());
        List<Prose.Block> blocks = new ArrayList<>(Prose.of(outcome.message()).blocks());
        if (!again) {
            blocks.addAll(outcome.say().blocks());
        }
        return new Section(Tone.BAD, "not yet: " + what, new Prose(blocks));
    }

    /** What passed, each check once, and on how many runs if there are several. */
    private static Prose.Block passedList(List<Outcome> outcomes) {
        Map<String, Integer> passed = new LinkedHashMap<>();
        for (Outcome outcome : outcomes) {
            if (outcome.passed()) {
                passed.merge(outcome.what(), 1, Integer::sum);
            }
        }
        List<List<Prose.Block>> items = new ArrayList<>();
        passed.forEach((what, runs) ->
                items.add(Prose.of("passed: " + what + (runs > 1 ? ", on %d runs".formatted(runs) : ""))
                        .blocks()));
        return new Prose.Items(-1, items);
    }

    Reply hint() {
        Step.Task task = needTask();
        int shown = hints.size();
        if (shown == task.hints().size()) {
            throw new Refused(shown == 0 ? "there are no hints for this task" : "there are no more hints than these");
        }
        try {
            Section next = hint(task, shown);
            List<Section> more = new ArrayList<>(hints);
            more.add(next);
            hints = more;
            keeper.note(List.of(new Change.Hinted(where, number, more.size())));
            return Reply.done("", List.of(next));
        } catch (Unresolved e) {
            throw new Refused("the lesson has a mistake: " + e.getMessage());
        }
    }

    private Section hint(Step.Task task, int which) throws Unresolved {
        return new Section(
                Tone.NOTE,
                "hint %d of %d".formatted(which + 1, task.hints().size()),
                sitting.prose(task.hints().get(which)));
    }

    // ---- what there is to show ----

    String title() {
        return lesson.title();
    }

    String place() {
        return isAtEnd()
                ? "the end"
                : "step %d of %d, %s".formatted(number, lesson.steps().size(), kind());
    }

    private String kind() {
        Step step = step();
        if (step instanceof Step.Watch) {
            return "watch";
        }
        if (step instanceof Step.Predict) {
            return isDone() ? "a question, answered" : "a question";
        }
        if (step instanceof Step.Task) {
            return isDone() ? "a task, done" : "a task";
        }
        return "read";
    }

    /** What the step says. */
    List<Section> text() {
        if (!(step() instanceof Step.Task)) {
            return text;
        }
        List<Section> all = new ArrayList<>(text);
        if (!file.isEmpty()) {
            all.add(Section.of(
                    Tone.NOTE,
                    "Your file: " + file,
                    "It is checked here whenever you save it."
                            + (isDone() && !passes ? " It passed before, but does not as it is now." : "")));
        }
        return all;
    }

    /** What came of what the student did. */
    List<Section> results() {
        if (hints.isEmpty()) {
            return results;
        }
        List<Section> all = new ArrayList<>(hints);
        all.addAll(results);
        return all;
    }

    /** What is asked for, before the place where the answer is typed. */
    String ask() {
        Question asked = question;
        if (asked == null) {
            return "answer:";
        }
        return switch (asked.kind()) {
            case NUMBER -> asked.unit().isEmpty() ? "a number:" : "how many %s:".formatted(asked.unit());
            case CORE -> "core:";
            case CHOICE -> "which, 1..%d:".formatted(asked.options().size());
        };
    }

    /** What could be done next on a screen. */
    String hint(Glyphs glyphs, boolean isTyping) {
        String back = glyphs.sign("\u2190", "Left") + " back";
        String skip = glyphs.sign("\u2192", "Right") + " skip";
        Step step = step();
        if (isAtEnd()) {
            return "Enter next lesson  %s  Esc lessons  q quit".formatted(back);
        }
        if (isOpenQuestion()) {
            String watch = standingHere().tries() > 0 ? "Tab watch the run  " : "";
            return isTyping
                    ? "Enter gives the answer"
                    : "Type your answer, then Enter  %s%s  %s  Esc lessons".formatted(watch, skip, back);
        }
        if (step instanceof Step.Predict) {
            return "Enter goes on  w watch the run  %s  Esc lessons  ? help".formatted(back);
        }
        if (step instanceof Step.Watch) {
            return isDone()
                    ? "Enter goes on  w watch again  %s  Esc lessons  ? help".formatted(back)
                    : "Enter opens the run  %s  %s  Esc lessons  ? help".formatted(skip, back);
        }
        if (step instanceof Step.Task task) {
            return taskHint(task, skip, back);
        }
        return "Enter goes on  %s  Esc lessons  ? help  q quit".formatted(back);
    }

    private String taskHint(Step.Task task, String skip, String back) {
        if (!found.isEmpty()) {
            return "u use it  n new name  %s  %s  Esc lessons  ? help".formatted(skip, back);
        }
        if (file.isEmpty()) {
            return "Enter writes your file  e and opens it  %s  %s  Esc lessons  ? help".formatted(skip, back);
        }
        String more = hints.size() < task.hints().size() ? "h hint  " : "";
        return isDone()
                ? "Enter goes on  e edit  w watch it run  %s  Esc lessons  ? help".formatted(back)
                : "e edit  c check  %sw watch it run  n begin anew  %s  ? help".formatted(more, skip);
    }

    /** What could be done next, for those who type lines. */
    String prompt() {
        Step step = step();
        if (isAtEnd()) {
            return "Enter opens the next lesson; back, lessons, quit.";
        }
        if (isOpenQuestion()) {
            String watch = standingHere().tries() > 0 ? "watch, " : "";
            return "Type your answer (%s); or %sskip, back, lessons, quit.".formatted(ask().replace(":", ""), watch);
        }
        if (step instanceof Step.Watch && !isDone()) {
            return "Enter opens the run; skip, back, lessons, quit.";
        }
        if (step instanceof Step.Task task && !isDone()) {
            if (!found.isEmpty()) {
                return "use takes that file; new writes one under another name; skip, back, lessons, quit.";
            }
            if (file.isEmpty()) {
                return "Enter writes your file; skip, back, lessons, quit.";
            }
            String more = hints.size() < task.hints().size() ? "hint, " : "";
            return "Change the file and save it, then check; %swatch, new, skip, back, lessons, quit.".formatted(more);
        }
        String watch = step instanceof Step.Tell ? "" : "watch, ";
        return "Enter goes on; %sback, lessons, quit.".formatted(watch);
    }
}
