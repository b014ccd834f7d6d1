package octurn.cli.stepper;

import octurn.cli.view.Frame;
import octurn.cli.view.Glyphs;
import octurn.cli.view.StepScreen;
import octurn.run.Progress;

/** The stepper on a whole screen, with its command line. */
public final class StepperShow implements Show {

    private final Stepper stepper;
    private final CommandLineEditor editor;
    private final Glyphs glyphs;

    /** This stepper, on a screen that can show these characters. */
    public StepperShow(Stepper stepper, Glyphs glyphs) {
        this.stepper = stepper;
        this.editor = new CommandLineEditor(stepper);
        this.glyphs = glyphs;
    }

    @Override
    public Frame frame(int rows, int columns) {
        return StepScreen.render(
                stepper.scene(rows, columns, editor.isOpen() ? editor.prompt() : null), rows, columns, glyphs);
    }

    /** Whether a command line is being typed, so that all keys belong to it. */
    public boolean isTyping() {
        return editor.isOpen();
    }

    @Override
    public Next press(String key, Progress progress) {
        if (editor.isOpen()) {
            String line = editor.press(key);
            return line == null || line.isEmpty() ? Next.GO_ON : run(line, progress);
        }
        if (key.equals(":")) {
            editor.open("");
            return Next.GO_ON;
        }
        if (key.equals("ctrl-d")) {
            return Next.LEAVE;
        }
        String line = stepper.table().line(key);
        if (line.isEmpty()) {
            if (!key.equals("unknown")) {
                stepper.answerWith(key);
            }
            return Next.GO_ON;
        }
        if (line.endsWith(" ")) {
            editor.open(line);
            return Next.GO_ON;
        }
        return run(line, progress);
    }

    @Override
    public Next command(String line, Progress progress) {
        return editor.isOpen() ? Next.GO_ON : run(line, progress);
    }

    private Next run(String line, Progress progress) {
        return stepper.run(line, progress).kind() == Answer.Kind.QUIT ? Next.LEAVE : Next.GO_ON;
    }

    @Override
    public int playingSpeed() {
        return stepper.playingSpeed();
    }

    @Override
    public void playOn(long cycles) {
        stepper.playOn(cycles);
    }
}
