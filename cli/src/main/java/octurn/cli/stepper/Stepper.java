package octurn.cli.stepper;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import octurn.cli.view.Glyphs;
import octurn.cli.view.Look;
import octurn.cli.view.Look.Overlay;
import octurn.cli.view.Note;
import octurn.cli.view.Scene;
import octurn.cli.view.StepScreen;
import octurn.design.Design;
import octurn.diag.Nearest;
import octurn.report.Reasons;
import octurn.report.Sentences;
import octurn.run.Alteration;
import octurn.run.Moment;
import octurn.run.Progress;
import octurn.run.Timeline;
import octurn.run.Watch;
import octurn.trace.Sink;
import org.jspecify.annotations.Nullable;

/**
 * A run being looked at: commands go in, answers and scenes come out. Everything that a command changed can be undone,
 * going elsewhere in the run included.
 */
public final class Stepper {

    /** How far to look around the present cycle for what the words tell. */
    private static final int PAST = 256;

    private static final int COMING = 512;

    private static final int MOST_UNDO = 1000;
    private static final int FIRST_SPEED = 10;

    private final Timeline timeline;
    private final Sentences sentences;
    private final Reasons reasons;
    private final ScriptFiles files;
    private final Glyphs glyphs;
    private final CommandTable table = new CommandTable();

    private State state;
    private final Deque<State> before = new ArrayDeque<>();
    private final Deque<State> undone = new ArrayDeque<>();

    private Answer answer = Answer.done("");
    private boolean playing;
    private boolean touched;
    private Progress progress = Progress.NONE;
    private int scriptDepth;
    private @Nullable Recording recording;

    /** Commands being written down. */
    private record Recording(String file, List<String> lines) {}

    /**
     * A stepper at the present cycle of a timeline.
     *
     * @param files where scripts are read from and written to
     * @param glyphs what the place can show that the answers go to
     */
    public Stepper(Timeline timeline, ScriptFiles files, Glyphs glyphs) {
        this.timeline = timeline;
        this.files = files;
        this.glyphs = glyphs;
        this.sentences = new Sentences(timeline.program());
        this.reasons = new Reasons(sentences);
        this.state = new State(
                timeline.cycle(), Look.at(firstCore()), List.of(), new LinkedHashMap<>(), List.of(), FIRST_SPEED, "");
    }

    /** The first core that has something to do. */
    private int firstCore() {
        for (int core = 0; core < design().cores(); core++) {
            if (timeline.program().core(core) != null) {
                return core;
            }
        }
        return 0;
    }

    // ---- commands in, answers out ----

    /** The table of commands. */
    public CommandTable table() {
        return table;
    }

    /**
     * Does what a command line says; an empty line or one that begins with {@code #} does nothing.
     *
     * @param progress is told how far long moves have come, and may interrupt them
     */
    public Answer run(String line, Progress progress) {
        String text = line.strip();
        if (text.isEmpty() || text.startsWith("#")) {
            return Answer.done("");
        }
        Progress outer = this.progress;
        this.progress = progress;
        try {
            answer = dispatch(text);
        } catch (Mistake e) {
            answer = Answer.refused(e.line());
        } finally {
            this.progress = outer;
        }
        touched = true;
        return answer;
    }

    private Answer dispatch(String text) {
        Words words = new Words(text);
        String name = words.next("a command");
        Command command = table.find(name);
        if (command == null) {
            String nearest = Nearest.of(name, table.names());
            throw new Mistake("there is no command \"%s\"%s"
                    .formatted(name, nearest == null ? "; help lists all" : "; did you mean %s?".formatted(nearest)));
        }
        State old = state;
        boolean wasPlaying = playing;
        if (!CommandTable.KEEPS_PLAYING.contains(command.name())) {
            playing = false;
        }
        Answer given = command.action().run(this, words);
        if (given.kind() == Answer.Kind.REFUSED) {
            return given;
        }
        closeAnswer(command, given);
        boolean isUndo = CommandTable.UNDOES.contains(command.name());
        if (!isUndo && !sameButOverlay(old, state) && !(wasPlaying && playing)) {
            remember(old);
        }
        record(command, text, given);
        return given;
    }

    /** An answer that was being read goes away when something else is done; the reasons stay and change with the moment. */
    private void closeAnswer(Command command, Answer given) {
        Overlay overlay = state.look().overlay();
        boolean reading = overlay == Overlay.ANSWER || overlay == Overlay.HELP;
        if (given.kind() == Answer.Kind.TEXT) {
            Overlay shown = command.name().equals("help") ? Overlay.HELP : Overlay.ANSWER;
            state = state.withLook(state.look().withOverlay(shown));
        } else if (reading && !CommandTable.KEEPS_OVERLAY.contains(command.name())) {
            state = state.withLook(state.look().withOverlay(Overlay.NONE));
        }
    }

    private static boolean sameButOverlay(State a, State b) {
        return a.withLook(a.look().withOverlay(Overlay.NONE))
                .equals(b.withLook(b.look().withOverlay(Overlay.NONE)));
    }

    private void remember(State old) {
        before.push(old);
        if (before.size() > MOST_UNDO) {
            before.removeLast();
        }
        undone.clear();
    }

    private void record(Command command, String text, Answer given) {
        boolean worth = given.kind() != Answer.Kind.QUIT && !CommandTable.NOT_RECORDED.contains(command.name());
        if (recording != null && worth && scriptDepth == 0) {
            recording.lines().add(text);
        }
    }

    /** The answer to the last command. */
    public Answer answer() {
        return answer;
    }

    /** Says of a key that it means nothing. */
    public void answerWith(String key) {
        answer = Answer.refused("the key %s means nothing here; ? lists those that do".formatted(key));
    }

    // ---- what commands work with ----

    Timeline timeline() {
        return timeline;
    }

    Sentences sentences() {
        return sentences;
    }

    Design design() {
        return timeline.program().design();
    }

    Glyphs glyphs() {
        return glyphs;
    }

    ScriptFiles files() {
        return files;
    }

    State state() {
        return state;
    }

    void set(State newState) {
        state = newState;
    }

    Look look() {
        return state.look();
    }

    void look(Look look) {
        state = state.withLook(look);
    }

    int core() {
        return state.look().core();
    }

    long cycle() {
        return timeline.cycle();
    }

    /** Tells a listener the run up to the present cycle; false if the user broke it off. */
    boolean replay(Sink listener) {
        return timeline.replay(listener, progress);
    }

    /** Goes to a cycle, and says why it came to rest elsewhere if it did. */
    Answer moveTo(long cycle) {
        if (cycle < 0) {
            timeline.moveTo(0, progress);
            return arrived("this is the start of the run");
        }
        long reached = timeline.moveTo(cycle, progress);
        if (reached < cycle && !timeline.isOver()) {
            return arrived("interrupted at cycle " + reached);
        }
        return arrived(timeline.isOver() ? sentences.end(timeline.chip()) : "");
    }

    private Answer arrived(String why) {
        state = state.withCycle(timeline.cycle());
        return why.isEmpty() ? Answer.moved() : Answer.moved(why);
    }

    /**
     * Goes to the nearest cycle that meets a watch.
     *
     * @param what it is called, for the answer if there is none
     */
    Answer seek(Watch watch, boolean forward, String what) {
        Timeline.Sought sought =
                forward ? timeline.seekNext(List.of(watch), progress) : timeline.seekPrevious(List.of(watch), progress);
        return switch (sought.outcome()) {
            case FOUND -> arrived("");
            case INTERRUPTED -> arrived("interrupted at cycle " + timeline.cycle());
            case NOT_FOUND ->
                throw new Mistake(
                        forward
                                ? "there is no %s from here to the end of the run".formatted(what)
                                : "there is no %s from here back to the start".formatted(what));
        };
    }

    /** Goes to the nearest stop, or to the end or the start of the run if there is none. */
    Answer runToStop(boolean forward) {
        List<Stop> stops = state.stops();
        List<Watch> watches = new ArrayList<>();
        stops.forEach(stop -> watches.add(stop.watch().get()));
        Timeline.Sought sought =
                forward ? timeline.seekNext(watches, progress) : timeline.seekPrevious(watches, progress);
        return switch (sought.outcome()) {
            case FOUND ->
                arrived("stop %d: %s"
                        .formatted(sought.watch() + 1, stops.get(sought.watch()).text()));
            case INTERRUPTED -> arrived("interrupted at cycle " + timeline.cycle());
            case NOT_FOUND -> {
                timeline.moveTo(forward ? Long.MAX_VALUE : 0, progress);
                yield arrived(
                        forward
                                ? "no stop was met. " + sentences.end(timeline.chip())
                                : "no stop was met; this is the start of the run");
            }
        };
    }

    /** Makes these the changes by hand. */
    void alter(List<Alteration> alterations) {
        timeline.alter(alterations);
        state = state.withAlterations(timeline.alterations()).withCycle(timeline.cycle());
    }

    /** The present cycle with what lies around it, as far as the words need it. */
    Moment moment() {
        return timeline.moment(PAST, COMING);
    }

    /** If it has just been asked why the chosen core waits: the reasons, once. */
    List<String> takeReasons() {
        if (look().overlay() != Overlay.WHY) {
            return List.of();
        }
        look(look().withOverlay(Overlay.NONE));
        return reasons.of(moment(), core());
    }

    // ---- undo ----

    Answer undo() {
        if (before.isEmpty()) {
            throw new Mistake("there is nothing to undo");
        }
        undone.push(state);
        return restore(before.pop());
    }

    Answer redo() {
        if (undone.isEmpty()) {
            throw new Mistake("there is nothing to do again");
        }
        before.push(state);
        return restore(undone.pop());
    }

    private Answer restore(State old) {
        state = old;
        timeline.alter(old.alterations());
        timeline.moveTo(old.cycle(), progress);
        return arrived("");
    }

    // ---- playing ----

    boolean isPlaying() {
        return playing;
    }

    void play(boolean on) {
        playing = on;
    }

    /** Cycles a second while playing; 0 while not. */
    public int playingSpeed() {
        return playing ? state.speed() : 0;
    }

    /** Goes on by so many cycles while playing; ends it at a stop or at the end of the run. */
    public void playOn(long cycles) {
        long target = timeline.cycle() + cycles;
        if (state.stops().isEmpty()) {
            timeline.moveTo(target, Progress.NONE);
        } else {
            playToStop(target);
        }
        if (timeline.isOver()) {
            playing = false;
            answer = Answer.moved(sentences.end(timeline.chip()));
        }
        state = state.withCycle(timeline.cycle());
    }

    private void playToStop(long target) {
        long start = timeline.cycle();
        List<Watch> watches = new ArrayList<>();
        state.stops().forEach(stop -> watches.add(stop.watch().get()));
        Timeline.Sought sought = timeline.seekNext(watches, (cycle, end) -> cycle < target);
        if (sought.outcome() == Timeline.Outcome.FOUND && timeline.cycle() <= target) {
            playing = false;
            answer = Answer.moved("stop %d: %s"
                    .formatted(
                            sought.watch() + 1,
                            state.stops().get(sought.watch()).text()));
        } else {
            timeline.moveTo(Math.max(start, target), Progress.NONE);
        }
    }

    // ---- scripts ----

    /** Follows the commands of a script, and says how it went. */
    Answer follow(String name) {
        if (scriptDepth > 0) {
            throw new Mistake("a script cannot follow another one");
        }
        List<String> lines = files.read(name);
        scriptDepth++;
        try {
            int number = 0;
            for (String line : lines) {
                number++;
                Answer given = run(line, progress);
                if (given.kind() == Answer.Kind.REFUSED) {
                    throw new Mistake(
                            "line %d of the script, \"%s\": %s".formatted(number, line.strip(), given.line()));
                }
                if (given.kind() == Answer.Kind.QUIT) {
                    return given;
                }
            }
        } finally {
            scriptDepth--;
        }
        return Answer.moved("the script is done");
    }

    Answer startRecording(String file) {
        if (scriptDepth > 0) {
            throw new Mistake("a script cannot record");
        }
        if (recording != null) {
            throw new Mistake("already recording to %s; record end ends that".formatted(recording.file()));
        }
        files.check(file);
        recording = new Recording(file, new ArrayList<>());
        recording.lines().add("go " + timeline.cycle());
        return Answer.done("recording commands for %s; record end writes it".formatted(file));
    }

    Answer endRecording() {
        Recording done = recording;
        if (done == null) {
            throw new Mistake("nothing is being recorded");
        }
        files.write(done.file(), done.lines());
        recording = null;
        return Answer.done("%d commands written to %s".formatted(done.lines().size(), done.file()));
    }

    /** Writes down a recording that is under way, at the end of the session; returns what went wrong, or nothing. */
    public String close() {
        try {
            if (recording != null) {
                endRecording();
            }
            return "";
        } catch (Mistake e) {
            return e.line();
        }
    }

    // ---- what there is to show ----

    /** The scene for a screen of this size. */
    public Scene scene(int rows, int columns, Scene.@Nullable Prompt prompt) {
        Look look = state.look();
        int past = Math.max(PAST, StepScreen.past(rows, columns, design()));
        int coming = Math.max(COMING, StepScreen.coming(rows, columns, design()));
        Moment moment = timeline.moment(past, coming);
        long pinsFrom = Math.max(0, timeline.cycle() + 1 - StepScreen.pinCycles(look));
        Set<Integer> stopLines = new HashSet<>();
        state.stops().forEach(stop -> stopLines.add(stop.line()));
        boolean isText = answer.kind() == Answer.Kind.TEXT;
        return new Scene(
                moment,
                timeline.pinEvents(pinsFrom, timeline.cycle() + 1),
                sentences,
                reasons,
                look,
                stopLines,
                flags(),
                isText ? "" : answer.line(),
                answer.kind() == Answer.Kind.REFUSED,
                hint(),
                prompt,
                look.overlay() == Overlay.WHY ? "why core %d waits".formatted(look.core()) : overlayTitle,
                overlayText,
                note);
    }

    private @Nullable Note note;

    /** Says this beside the run from now on; null for nothing. */
    public void note(@Nullable Note newNote) {
        note = newNote;
    }

    private String overlayTitle = "";
    private List<String> overlayText = List.of();

    /** Keeps a text that is to be read. */
    Answer text(String title, List<String> lines) {
        overlayTitle = title;
        overlayText = List.copyOf(lines);
        return Answer.text(title, lines);
    }

    private List<String> flags() {
        List<String> flags = new ArrayList<>();
        if (timeline.isOver()) {
            flags.add("end");
        }
        if (playing) {
            flags.add("playing, %d a second".formatted(state.speed()));
        }
        if (recording != null) {
            flags.add("recording");
        }
        if (!state.alterations().isEmpty()) {
            flags.add("altered");
        }
        return flags;
    }

    private String hint() {
        if (note != null) {
            return note.hint();
        }
        String arrows = glyphs.sign("\u2192 \u2190", "Right Left");
        String upDown = glyphs.sign("\u2191 \u2193", "Up Down");
        if (!touched) {
            return "New here? %s step, %s choose a core, y says why it waits, ? helps, u undoes"
                    .formatted(arrows, upDown);
        }
        if (timeline.chip().core(core()).state().isWaiting()) {
            return "y why it waits  a to its admission  %s cycle  i instruction  ? help  : command".formatted(arrows);
        }
        return "%s cycle  i instruction  s slot  r rotation  w request  ? help  : command".formatted(arrows);
    }

    /** The bookmarks, by name. */
    Map<String, Long> marks() {
        return state.marks();
    }
}
