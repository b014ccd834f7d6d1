package octurn.cli.stepper;

import java.io.BufferedReader;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import octurn.run.Progress;

/** The stepper as lines of words: one command a line comes in, its answer goes out. */
public final class Conversation {

    private static final int LONGEST = 2000;

    private final Stepper stepper;
    private boolean refused;
    private boolean left;

    /** A conversation with this stepper. */
    public Conversation(Stepper stepper) {
        this.stepper = stepper;
    }

    /** Takes lines of words. */
    @FunctionalInterface
    public interface Output {
        /** Says some lines, each to be shown as it is or made visible. */
        void say(List<String> lines) throws IOException;
    }

    /**
     * Talks until there are no more commands, or one says to leave.
     *
     * @return whether every command was understood and done
     */
    public boolean run(BufferedReader commands, Output output) throws IOException {
        output.say(greeting());
        String line = commands.readLine();
        while (line != null) {
            List<String> words = reply(line);
            if (!words.isEmpty()) {
                output.say(words);
            }
            line = left ? null : commands.readLine();
        }
        String trouble = stepper.close();
        if (!trouble.isEmpty()) {
            refused = true;
            output.say(List.of("Not done: " + trouble));
        }
        return !refused;
    }

    /** What is answered to one command. */
    public List<String> reply(String line) {
        Answer answer = line.length() > LONGEST
                ? Answer.refused("a command of %d characters is too long".formatted(line.length()))
                : stepper.run(line, Progress.NONE);
        refused |= answer.kind() == Answer.Kind.REFUSED;
        left |= answer.kind() == Answer.Kind.QUIT;
        return words(answer);
    }

    /** Whether the last command said to leave. */
    public boolean hasLeft() {
        return left;
    }

    /** Whether any command was not understood or not possible. */
    public boolean hasRefused() {
        return refused;
    }

    /** Where the run is, in words. */
    public List<String> present() {
        return new Teller(stepper).present();
    }

    private List<String> greeting() {
        List<String> lines = new ArrayList<>();
        lines.add("%s on \"%s\". One command a line; help lists them."
                .formatted(stepper.timeline().program().name(), stepper.design().name()));
        lines.addAll(new Teller(stepper).present());
        return lines;
    }

    /** What an answer comes to when it is told. */
    private List<String> words(Answer answer) {
        List<String> reasons = stepper.takeReasons();
        if (!reasons.isEmpty()) {
            return reasons;
        }
        return switch (answer.kind()) {
            case MOVED -> {
                List<String> lines = new ArrayList<>();
                // The end of the run is told with the present cycle.
                if (!answer.line().isEmpty() && !stepper.timeline().isOver()) {
                    lines.add(sentence(answer.line()));
                }
                lines.addAll(new Teller(stepper).present());
                yield lines;
            }
            case DONE -> answer.line().isEmpty() ? List.of() : List.of(sentence(answer.line()));
            case TEXT -> answer.lines();
            case REFUSED -> List.of("Not done: %s.".formatted(answer.line()));
            case QUIT -> List.of();
        };
    }

    private static String sentence(String line) {
        String capital = Character.toUpperCase(line.charAt(0)) + line.substring(1);
        return capital.endsWith(".") ? capital : capital + ".";
    }
}
