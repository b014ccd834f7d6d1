package octurn.cli.command;

import java.util.List;
import java.util.Set;
import octurn.diag.Nearest;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.MissingParameterException;
import picocli.CommandLine.Model.ArgSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.OverwrittenOptionException;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.TypeConversionException;
import picocli.CommandLine.UnmatchedArgumentException;

/** A mistake in the command line, in one line. */
final class Usage {

    private Usage() {}

    /**
     * The line.
     *
     * @param given the whole command line
     */
    static String message(ParameterException e, String... given) {
        CommandLine command = e.getCommandLine();
        String name = command.getCommandSpec().qualifiedName();
        return "%s; see %s --help".formatted(mistake(e, command, given), name);
    }

    private static String mistake(ParameterException e, CommandLine command, String... given) {
        if (e instanceof UnmatchedArgumentException unmatched
                && !unmatched.getUnmatched().isEmpty()) {
            return unmatched(unmatched.getUnmatched().get(0), command);
        }
        if (e instanceof MissingParameterException missing
                && !missing.getMissing().isEmpty()) {
            // With an option misspelt the rest may seem to be missing, too.
            String unknown = unknownOption(command, given);
            return unknown != null
                    ? unmatched(unknown, command)
                    : missing(missing.getMissing().get(0));
        }
        if (e instanceof OverwrittenOptionException overwritten) {
            ArgSpec argument = overwritten.getOverwritten();
            return (argument instanceof OptionSpec option ? option.longestName() : "an option") + " is given twice";
        }
        if (e.getCause() instanceof TypeConversionException unreadable) {
            return String.valueOf(unreadable.getMessage());
        }
        String message = String.valueOf(e.getMessage());
        return message.isEmpty() ? "bad usage" : message;
    }

    /** The first word of the command line that looks like an option but is none, or null. */
    private static @Nullable String unknownOption(CommandLine command, String... given) {
        for (String word : given) {
            if (word.equals("--")) {
                return null;
            }
            boolean option = word.startsWith("-") && word.length() > 1;
            if (option && command.getCommandSpec().findOption(nameOf(word)) == null) {
                return word;
            }
        }
        return null;
    }

    private static String nameOf(String option) {
        return option.contains("=") ? option.substring(0, option.indexOf('=')) : option;
    }

    private static String unmatched(String argument, CommandLine command) {
        Set<String> commands = command.getSubcommands().keySet();
        boolean option = argument.startsWith("-") && argument.length() > 1;
        if (option) {
            String name = nameOf(argument);
            List<String> known = command.getCommandSpec().options().stream()
                    .map(OptionSpec::longestName)
                    .toList();
            return "unknown option %s%s".formatted(name, suggestion(name, known));
        }
        return commands.isEmpty()
                ? "\"%s\" is one argument too many".formatted(argument)
                : unknownCommand(argument, command);
    }

    static String unknownCommand(String argument, CommandLine root) {
        Set<String> commands = root.getSubcommands().keySet();
        return "unknown command \"%s\"%s".formatted(argument, suggestion(argument, commands));
    }

    private static String suggestion(String word, Iterable<String> known) {
        String nearest = Nearest.of(word, known);
        return nearest == null ? "" : " (did you mean %s?)".formatted(nearest);
    }

    private static String missing(ArgSpec argument) {
        return argument instanceof OptionSpec option
                ? "%s needs a value, %s".formatted(option.longestName(), option.paramLabel())
                : "%s is missing".formatted(argument.paramLabel());
    }
}
