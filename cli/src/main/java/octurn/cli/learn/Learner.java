package octurn.cli.learn;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.CancellationException;
import octurn.cli.view.Glyphs;
import octurn.cli.view.LearnScene;
import octurn.cli.view.Scene.Prompt;
import octurn.cli.view.Section;
import octurn.cli.view.Section.Tone;
import octurn.diag.Nearest;
import octurn.lessons.Step;
import octurn.run.Progress;
import org.jspecify.annotations.Nullable;

/** A student in a course: commands go in, replies and scenes come out. */
public final class Learner {

    private static final int LONGEST = 2000;

    /** A part of a name so short is in too many. */
    private static final int LEAST_PART = 3;

    private final String course;
    private final List<CourseLesson> lessons;
    private final String student;
    private final Keeper keeper;
    private final Desk desk;
    private final Glyphs glyphs;
    private final LearnTable table = new LearnTable();

    private int chosen;
    private @Nullable Attendance attendance;
    private @Nullable Walk walk;
    private Progress progress = Progress.NONE;

    /**
     * A student before the list of lessons, at the one to go on with.
     *
     * @param course its title
     * @param lessons in the order in which they are taught; at least one
     * @param student the name; empty for none
     */
    public Learner(String course, List<CourseLesson> lessons, String student, Keeper keeper, Desk desk, Glyphs glyphs) {
        this.course = course;
        this.lessons = List.copyOf(lessons);
        this.student = student;
        this.keeper = keeper;
        this.desk = desk;
        this.glyphs = glyphs;
        this.chosen = whereToGoOn();
    }

    /** The lesson that was begun last and is not done, or else the first that is not done. */
    private int whereToGoOn() {
        String last = keeper.book().lastLesson(student, course);
        for (int i = 0; i < lessons.size(); i++) {
            if (lessons.get(i).id().equals(last) && !isDone(i)) {
                return i;
            }
        }
        return Math.max(0, firstNotDone());
    }

    // ---- commands in, replies out ----

    /** The table of commands. */
    public LearnTable table() {
        return table;
    }

    /**
     * Does what a command line says.
     *
     * @param newProgress is asked now and then while something takes long, and may end it
     */
    Reply run(String line, Progress newProgress) {
        if (line.length() > LONGEST) {
            return Reply.refused("%d characters are too long".formatted(line.length()));
        }
        Progress outer = progress;
        progress = newProgress;
        if (attendance != null) {
            attendance.watch(newProgress);
        }
        try {
            String[] words = line.strip().split("\\s+", 2);
            LearnTable.Command command = table.find(words[0]);
            if (command == null) {
                String nearest = Nearest.of(words[0], table.names());
                throw new Refused("there is no command \"%s\"%s"
                        .formatted(
                                words[0],
                                nearest == null ? "; help lists all" : "; did you mean %s?".formatted(nearest)));
            }
            return command.action().run(this, words.length > 1 ? words[1].strip() : "");
        } catch (CancellationException e) {
            return Reply.refused("interrupted");
        } catch (Refused e) {
            return Reply.refused(e.line());
        } finally {
            progress = outer;
        }
    }

    /** What there is to tell about the keeping of the progress since this was asked last; empty for nothing. */
    String takeTrouble() {
        return keeper.takeTrouble();
    }

    /** The walk through a run that is under way, or null. */
    @Nullable
    Walk walk() {
        return walk;
    }

    /** Whether a page of a lesson is open. */
    boolean isInLesson() {
        return attendance != null;
    }

    private Attendance here() {
        Attendance now = attendance;
        if (now == null) {
            throw new Refused("this is the list of lessons; open one first");
        }
        return now;
    }

    /**
     * Begins with this lesson instead of the list.
     *
     * @return what is wrong, or nothing
     */
    public String begin(String which) {
        Reply reply = run("open " + which, Progress.NONE);
        return reply.kind() == Reply.Kind.REFUSED ? reply.line() : "";
    }

    // ---- moving about ----

    Reply next(String nothing) {
        Walk walking = walk;
        if (walking != null) {
            return walking.next() ? Reply.done(nothing) : leaveWalk(true);
        }
        Attendance now = attendance;
        if (now == null) {
            return open(chosen);
        }
        if (now.isAtEnd()) {
            return nextLesson(now);
        }
        if (now.isOpenQuestion()) {
            throw new Refused("the question is still open: answer it, or skip it");
        }
        if (now.isOpenTask()) {
            return now.hasFile() ? refuseOpenTask(now) : begin(now);
        }
        if (now.step() instanceof Step.Watch && !now.isDone()) {
            return watch(nothing);
        }
        return advance(now);
    }

    private Reply refuseOpenTask(Attendance now) {
        now.checkIfSaved(progress);
        if (!now.isOpenTask()) {
            return Reply.done("saved, and it passes", now.results());
        }
        throw new Refused("the task is not done yet: change your file and save it, or skip the task");
    }

    Reply skip(String nothing) {
        if (walk != null) {
            return leaveWalk(true);
        }
        Attendance now = here();
        return now.isAtEnd() ? nextLesson(now) : advance(now);
    }

    private Reply advance(Attendance now) {
        now.goTo(now.number() + 1, progress);
        return Reply.moved();
    }

    Reply back(String nothing) {
        Walk walking = walk;
        if (walking != null) {
            walking.back();
            return Reply.done(nothing);
        }
        Attendance now = here();
        if (now.number() == 1) {
            return lessons(nothing);
        }
        now.goTo(now.number() - 1, progress);
        return Reply.moved();
    }

    /** Ends the walk, and comes back to the lesson; after the last moment of a walk the lesson goes on. */
    Reply leaveWalk(boolean goOn) {
        walk = null;
        Attendance now = here();
        if (goOn && now.step() instanceof Step.Watch) {
            return advance(now);
        }
        return Reply.moved();
    }

    Reply lessons(String nothing) {
        if (walk != null) {
            return leaveWalk(false);
        }
        attendance = null;
        return Reply.moved(nothing);
    }

    private Reply nextLesson(Attendance now) {
        int after = now.index() + 1;
        if (after >= lessons.size()) {
            attendance = null;
            return Reply.moved("that was the last lesson");
        }
        return open(after);
    }

    Reply choose(String which) {
        if (attendance != null) {
            throw new Refused("this is for the list of lessons");
        }
        switch (which) {
            case "up" -> chosen = Math.max(0, chosen - 1);
            case "down" -> chosen = Math.min(lessons.size() - 1, chosen + 1);
            default -> chosen = index(which);
        }
        return Reply.done("");
    }

    /** The lesson of this number or id, from 0. */
    private int index(String which) {
        if (which.matches("[0-9]{1,4}")) {
            int number = Integer.parseInt(which);
            if (number >= 1 && number <= lessons.size()) {
                return number - 1;
            }
            throw new Refused("there is no lesson %d: 1..%d".formatted(number, lessons.size()));
        }
        List<String> ids = lessons.stream().map(CourseLesson::id).toList();
        int found = ids.indexOf(which);
        if (found < 0) {
            String near = near(which, ids);
            throw new Refused("there is no lesson \"%s\"%s"
                    .formatted(
                            which,
                            near == null
                                    ? ": 1..%d, or a name such as %s".formatted(lessons.size(), ids.get(0))
                                    : "; did you mean %s?".formatted(near)));
        }
        return found;
    }

    /** The name that was meant: one with a slip, or one that was given in part, or by the lesson's title. */
    private @Nullable String near(String which, List<String> ids) {
        String nearest = Nearest.of(which, ids);
        String part = which.strip().toLowerCase(Locale.ROOT);
        if (nearest != null || part.length() < LEAST_PART) {
            return nearest;
        }
        return lessons.stream()
                .filter(lesson -> lesson.id().contains(part)
                        || lesson.title().toLowerCase(Locale.ROOT).contains(part))
                .map(CourseLesson::id)
                .findFirst()
                .orElse(null);
    }

    Reply open(String which) {
        return open(which.isEmpty() ? chosen : index(which));
    }

    private Reply open(int index) {
        walk = null;
        chosen = index;
        attendance = null;
        attendance = new Attendance(index, lessons.get(index), course, student, keeper, desk, progress);
        return Reply.moved();
    }

    // ---- steps ----

    Reply answer(String text) {
        Attendance now = here();
        if (text.isEmpty()) {
            throw new Refused("the answer is missing");
        }
        return now.answer(text);
    }

    Reply watch(String nothing) {
        if (walk != null) {
            throw new Refused("you are watching already");
        }
        Attendance now = here();
        walk = now.walk(glyphs);
        return Reply.moved(nothing);
    }

    Reply edit(String nothing) {
        Attendance now = here();
        now.needTask();
        if (!now.hasFile()) {
            Reply begun = begin(now);
            if (!now.hasFile()) {
                return begun;
            }
        }
        if (desk.editor().isEmpty()) {
            throw new Refused("VISUAL and EDITOR name no editor; open it in one yourself and save it: " + now.file());
        }
        return new Reply(Reply.Kind.EDIT, nothing, List.of());
    }

    /** Opens the editor, waits for its end, and checks what is in the file then. */
    Reply editNow(Progress newProgress) {
        Attendance now = here();
        try {
            desk.edit(now.file());
            return now.check(newProgress);
        } catch (Refused e) {
            return Reply.refused(e.line());
        }
    }

    private static Reply begin(Attendance now) {
        return now.begin();
    }

    Reply startAnew(String nothing) {
        return here().startAnew();
    }

    Reply use(String nothing) {
        return here().use(progress);
    }

    Reply check(String nothing) {
        return here().check(progress);
    }

    Reply hint(String nothing) {
        return here().hint();
    }

    /** Checks the student's file if it has been saved since it was checked last; null if not. */
    @Nullable
    Reply checkIfSaved(Progress newProgress) {
        Attendance now = attendance;
        try {
            return now == null || walk != null ? null : now.checkIfSaved(newProgress);
        } catch (Refused e) {
            return Reply.refused(e.line());
        }
    }

    // ---- the session ----

    Reply tell(String nothing) {
        return Reply.moved(nothing);
    }

    Reply help(String nothing) {
        return Reply.done(nothing, help());
    }

    /** The help: what there is in a course, and all commands with their keys. */
    List<Section> help() {
        List<Section> help = new ArrayList<>();
        help.add(Section.of(
                Tone.PLAIN,
                "",
                "A lesson is a row of steps: something to read; a moment to watch in the stepper; a question, whose answer"
                        + " you work out before you see the run; a task, for which you change a program in a file of your"
                        + " own until its checks pass. In the stepper its own keys are as always; q leads back here."));
        for (List<String> row : table.rows()) {
            String keys = row.get(0).isEmpty() ? "" : row.get(0) + ": ";
            help.add(Section.of(Tone.PLAIN, keys + row.get(1), row.get(2)));
        }
        return help;
    }

    Reply quit(String nothing) {
        return walk != null ? leaveWalk(false) : new Reply(Reply.Kind.QUIT, nothing, List.of());
    }

    // ---- what there is to show ----

    private Map<String, Standing> standings() {
        return keeper.book().standings(student, course);
    }

    private boolean isDone(int index) {
        CourseLesson lesson = lessons.get(index);
        return lesson.isDone(standings().getOrDefault(lesson.id(), Standing.NONE));
    }

    /** How far the student is in a lesson, in a few words. */
    private String standing(int index, int next) {
        CourseLesson lesson = lessons.get(index);
        if (!lesson.mistake().isEmpty()) {
            return "has mistakes";
        }
        Standing standing = standings().getOrDefault(lesson.id(), Standing.NONE);
        if (lesson.isDone(standing)) {
            return "done";
        }
        String begun = standing.at() == 0
                ? ""
                : "begun, step %d of %d".formatted(Math.min(standing.at(), lesson.steps()), lesson.steps());
        return index == next && begun.isEmpty() ? "next" : begun;
    }

    private String whoAndHowFar() {
        long done = 0;
        for (int i = 0; i < lessons.size(); i++) {
            done += isDone(i) ? 1 : 0;
        }
        String far = "%d of %d done".formatted(done, lessons.size());
        return student.isEmpty() ? far : student + glyphs.sign(" \u00b7 ", " - ") + far;
    }

    /**
     * The scene for the screen.
     *
     * @param message the answer to what was done last
     * @param typing the answer being typed, for a question that waits for one
     */
    LearnScene scene(String message, boolean isError, int scroll, Prompt typing) {
        Attendance now = attendance;
        if (now == null) {
            return lessonsScene(message, isError);
        }
        boolean asks = now.isOpenQuestion();
        return new LearnScene.Page(
                now.title(),
                now.place(),
                now.text(),
                now.results(),
                scroll,
                asks ? now.ask() : "",
                asks ? typing : null,
                message,
                isError,
                now.hint(glyphs, !typing.text().isEmpty()));
    }

    private LearnScene lessonsScene(String message, boolean isError) {
        int next = firstNotDone();
        List<LearnScene.Row> rows = new ArrayList<>();
        for (int i = 0; i < lessons.size(); i++) {
            rows.add(lessons.get(i).row(standing(i, next), isDone(i), this::title));
        }
        String arrows = glyphs.sign("\u2191 \u2193", "Up Down");
        return new LearnScene.Lessons(
                course,
                whoAndHowFar(),
                rows,
                chosen,
                message,
                isError,
                "Enter opens lesson %d  %s choose another  ? help  q quit".formatted(chosen + 1, arrows));
    }

    /** The first lesson that is not done and has no mistakes that are known, from 0; -1 if there is none. */
    private int firstNotDone() {
        for (int i = 0; i < lessons.size(); i++) {
            if (!isDone(i) && lessons.get(i).mistake().isEmpty()) {
                return i;
            }
        }
        return -1;
    }

    private String title(String id) {
        return lessons.stream()
                .filter(lesson -> lesson.id().equals(id))
                .map(CourseLesson::title)
                .findFirst()
                .orElse(id);
    }

    /** The present page as sections to be read out. */
    List<Section> told() {
        Attendance now = attendance;
        List<Section> told = new ArrayList<>();
        if (now == null) {
            told.add(Section.of(Tone.PLAIN, "%s, %s.".formatted(course, whoAndHowFar()), ""));
            int next = firstNotDone();
            for (int i = 0; i < lessons.size(); i++) {
                String standing = standing(i, next);
                told.add(Section.of(
                        Tone.PLAIN,
                        "%d. %s%s"
                                .formatted(
                                        i + 1, lessons.get(i).titleAndId(), standing.isEmpty() ? "" : ": " + standing),
                        ""));
            }
            told.addAll(lessons.get(chosen).row("", false, this::title).about());
            return told;
        }
        told.add(Section.of(Tone.PLAIN, "%s, %s.".formatted(now.title(), now.place()), ""));
        told.addAll(now.text());
        told.addAll(now.results());
        return told;
    }

    /** What could be done next, for those who type lines. */
    String prompt() {
        Walk walking = walk;
        if (walking != null) {
            return walking.prompt();
        }
        Attendance now = attendance;
        return now == null
                ? "Enter opens lesson %d; open N another one; help, quit.".formatted(chosen + 1)
                : now.prompt();
    }

    /** The commands of which a line can be one. */
    boolean isCommand(String line) {
        return table.find(line.strip().split("\\s+", -1)[0]) != null;
    }

    /** Whether a question waits for an answer. */
    boolean isAsking() {
        Attendance now = attendance;
        return walk == null && now != null && now.isOpenQuestion();
    }
}
