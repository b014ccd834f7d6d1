package octurn.cli.command;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.util.function.Function;
import octurn.cli.process.Exit;
import octurn.cli.process.Pausing;
import octurn.cli.process.Surroundings;
import octurn.cli.stepper.Conversation;
import octurn.cli.stepper.Show;
import octurn.cli.terminal.FullScreen;
import octurn.cli.view.Glyphs;
import octurn.cli.view.Line;
import picocli.CommandLine.Option;

/** The option {@code --say} of every command that is talked with: on the whole screen, or in lines of words. */
final class SayOption {

    @Option(names = "--say", description = "lines of words instead of a screen")
    private boolean say;

    /** What is said in lines of words. */
    @FunctionalInterface
    interface Words {
        /**
         * Talks until there are no more lines, or one says to leave.
         *
         * @return whether every command was understood and possible
         */
        boolean run(BufferedReader in, Conversation.Output out) throws IOException;
    }

    /**
     * Talks with the user until one of them is done: in words if the option asks for them, or where there is no screen.
     *
     * @param show what is on the screen, for a terminal with these characters
     * @param words the same in lines of words
     * @return the exit code
     */
    int run(Surroundings surroundings, Function<Glyphs, Show> show, Words words) throws IOException {
        if (!say && surroundings.isScreen()) {
            try (FullScreen screen = FullScreen.open(
                    show.apply(surroundings.glyphs()),
                    surroundings.environment().variable("TERM"),
                    surroundings.charset(),
                    surroundings.colour(),
                    surroundings.nanoTime(),
                    Pausing::pause)) {
                if (screen != null) {
                    Runnable leave = screen::leave;
                    surroundings.cleanups().add(leave);
                    screen.run();
                    surroundings.cleanups().remove(leave);
                    return Exit.OK;
                }
            }
        }
        Glyphs glyphs = surroundings.glyphs();
        BufferedReader in = new BufferedReader(new InputStreamReader(surroundings.in(), surroundings.charset()));
        boolean fine = words.run(
                in,
                lines -> surroundings.print(lines.stream()
                        .map(line -> Line.of(glyphs.visible(line)))
                        .toList()));
        return fine ? Exit.OK : Exit.USAGE;
    }
}
