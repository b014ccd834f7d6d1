package octurn.cli;

import java.io.IOException;
import java.util.Locale;

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

    /** What is asked most often is answered before the library for command lines is even loaded. */
    private static int run(String[] args, Surroundings surroundings) {
        if (args.length == 1) {
            String text = switch (args[0]) {
                case "--version", "-V" -> Help.version() + "\n";
                case "--help", "-h", "help" -> Help.TEXT;
                default -> "";
            };
            if (!text.isEmpty()) {
                return answer(surroundings, text);
            }
        }
        Runtime.getRuntime().addShutdownHook(new Thread(surroundings.cleanups()::run));
        return new Application(surroundings).run(args);
    }

    private static int answer(Surroundings surroundings, String text) {
        try {
            surroundings.writeOut(text);
            return Exit.OK;
        } catch (IOException e) {
            surroundings.complain("octurn: standard output: cannot be written to\n");
            return Exit.USAGE;
        }
    }
}
