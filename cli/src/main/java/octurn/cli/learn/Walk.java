package octurn.cli.learn;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Supplier;
import octurn.cli.stepper.Answer;
import octurn.cli.stepper.Conversation;
import octurn.cli.stepper.ScriptFiles;
import octurn.cli.stepper.Stepper;
import octurn.cli.stepper.StepperShow;
import octurn.cli.view.Glyphs;
import octurn.cli.view.Note;
import octurn.run.Progress;
import octurn.run.Timeline;

/** A run in the stepper, and a script that leads through it moment by moment. In between one may step as one likes. */
final class Walk {

    /**
     * A line of the script.
     *
     * @param command for the stepper
     * @param say what there is to see then; empty if that is still to come with the next line
     */
    record Moment(String command, List<String> say) {
        Moment {
            say = List.copyOf(say);
        }
    }

    private final String title;
    private final Supplier<Timeline> run;
    private final List<Moment> script;
    private final Glyphs glyphs;

    /** How many lines of the script have been done. */
    private int done;

    private Stepper stepper;
    private StepperShow show;
    private Conversation conversation;
    private List<String> saying;

    /**
     * A run to be stepped through as one likes.
     *
     * @param title what is being watched
     * @param run makes the run anew
     * @param saying what it is watched for
     */
    Walk(String title, Supplier<Timeline> run, List<String> saying, Glyphs glyphs) {
        this(title, run, List.of(), saying, glyphs);
    }

    /**
     * A walk at its first moment.
     *
     * @param title what is being watched
     * @param run makes the run anew
     * @param script at least one line
     */
    static Walk led(String title, Supplier<Timeline> run, List<Moment> script, Glyphs glyphs) {
        Walk walk = new Walk(title, run, script, List.of(), glyphs);
        walk.next();
        return walk;
    }

    private Walk(String title, Supplier<Timeline> run, List<Moment> script, List<String> saying, Glyphs glyphs) {
        this.title = title;
        this.run = run;
        this.script = List.copyOf(script);
        this.saying = List.copyOf(saying);
        this.glyphs = glyphs;
        this.stepper = new Stepper(run.get(), ScriptFiles.NONE, glyphs);
        this.show = new StepperShow(stepper, glyphs);
        this.conversation = new Conversation(stepper);
        stepper.note(new Note(heading(), this.saying, hint()));
    }

    /** Goes to the next moment; false if there is none. */
    boolean next() {
        if (done == script.size()) {
            return false;
        }
        List<String> said = new ArrayList<>();
        while (done < script.size() && said.isEmpty()) {
            Moment moment = script.get(done);
            done++;
            Answer answer = stepper.run(moment.command(), Progress.NONE);
            if (answer.kind() == Answer.Kind.REFUSED) {
                said.add("(Here the lesson says \"%s\", which cannot be done: %s.)"
                        .formatted(moment.command(), answer.line()));
            }
            said.addAll(moment.say());
        }
        // Where the script does something without a word, what was said still stands.
        saying = said.isEmpty() ? saying : List.copyOf(said);
        stepper.note(new Note(heading(), saying, hint()));
        return true;
    }

    /** Goes to the moment before; at the first one, to where it began. */
    void back() {
        int moments = 0;
        int last = 0;
        for (int i = 0; i < done; i++) {
            if (!script.get(i).say().isEmpty()) {
                moments++;
                last = i;
            }
        }
        int target = moments <= 1 ? 1 : last;
        stepper = new Stepper(run.get(), ScriptFiles.NONE, glyphs);
        show = new StepperShow(stepper, glyphs);
        conversation = new Conversation(stepper);
        done = 0;
        while (done < target && next()) {
            // From the beginning on: a step back in a script cannot be told from what was done by hand.
        }
    }

    private String heading() {
        return script.isEmpty() ? title : "%s, %d of %d".formatted(title, moment(done), moment(script.size()));
    }

    /** How many of the first lines of the script have something to say. */
    private int moment(int lines) {
        return (int) script.subList(0, lines).stream()
                .filter(one -> !one.say().isEmpty())
                .count();
    }

    /** Whether the last moment has been reached. */
    boolean isAtEnd() {
        return done == script.size();
    }

    /** Whether there is a script at all. */
    boolean isLed() {
        return !script.isEmpty();
    }

    private String hint() {
        String arrows = glyphs.sign("\u2192 \u2190", "Right Left");
        if (!isLed()) {
            return "%s cycle  w request  y why it waits  ? help  : command  q back to the lesson".formatted(arrows);
        }
        String rest = "  Backspace back  %s cycle  y why it waits  ? help".formatted(arrows);
        // At the end Enter leaves, too; and both would not fit.
        return isAtEnd() ? "Enter back to the lesson" + rest : "Enter goes on" + rest + "  q leaves";
    }

    /** The stepper on the screen. */
    StepperShow show() {
        return show;
    }

    /** The stepper in lines of words. */
    Conversation conversation() {
        return conversation;
    }

    /** What there is to see now. */
    List<String> saying() {
        return saying;
    }

    /** What could be done next, for those who type lines. */
    String prompt() {
        if (!isLed()) {
            return "The stepper: why, next request, tell cores, help; quit goes back to the lesson.";
        }
        return isAtEnd()
                ? "Enter goes back to the lesson; or commands of the stepper: why, step, tell cores."
                : "Enter goes on; or commands of the stepper: why, step, tell cores; quit leaves.";
    }
}
