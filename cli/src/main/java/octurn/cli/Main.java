package octurn.cli;

import java.io.IOException;
import java.util.Locale;
import octurn.cli.command.Application;
import octurn.cli.command.Help;
import octurn.cli.process.Exit;
import octurn.cli.process.Surroundings;

/** Entry point of the {@code octurn} command. */
public final class Main {

    private Main() {}

    /**
     * Runs one command and ends the JVM with its exit code ({@link Exit}).
     *
     * @param args the command line, without the command's name
     */
    public static void main(String[] args) {
        // Digits, commas and points are the same for everybody.
        Locale.setDefault(Locale.ROOT);
        System.exit(run(args, Surroundings.ofProcess()));
    }

    private static int run(String[] args, Surroundings surroundings) {
        // What is asked most often is answered before the library for command lines is even loaded.
        String answer = args.length == 1 ? Help.answer(args[0]) : null;
        if (answer != null) {
            return print(answer, surroundings);
        }
        Runtime.getRuntime().addShutdownHook(new Thread(surroundings.cleanups()::run));
        return new Application(surroundings).run(args);
    }

    private static int print(String text, Surroundings surroundings) {
        try {
            surroundings.writeOut(text);
            return Exit.OK;
        } catch (IOException e) {
            surroundings.complain("octurn: standard output cannot be written to\n");
            return Exit.USAGE;
        }
    }
}
