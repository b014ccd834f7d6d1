package octurn.cli;

import java.util.List;
import java.util.Set;
import octurn.diag.Nearest;
import picocli.CommandLine;
import picocli.CommandLine.MissingParameterException;
import picocli.CommandLine.Model.ArgSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.OverwrittenOptionException;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.UnmatchedArgumentException;

/** A mistake in the command line, in one line. */
final class Usage {

    private Usage() {}

    static String message(ParameterException e) {
        CommandLine command = e.getCommandLine();
        String name = command.getCommandSpec().qualifiedName();
        return "%s; see %s --help".formatted(mistake(e, command), name);
    }

    private static String mistake(ParameterException e, CommandLine command) {
        if (e instanceof UnmatchedArgumentException unmatched
                && !unmatched.getUnmatched().isEmpty()) {
            return unmatched(unmatched.getUnmatched().get(0), command);
        }
        if (e instanceof MissingParameterException missing
                && !missing.getMissing().isEmpty()) {
            return missing(missing.getMissing().get(0));
        }
        if (e instanceof OverwrittenOptionException) {
            ArgSpec argument = e.getArgSpec();
            return (argument instanceof OptionSpec option ? option.longestName() : "an option") + " is given twice";
        }
        String message = String.valueOf(e.getMessage());
        return message.isEmpty() ? "bad usage" : message;
    }

    private static String unmatched(String argument, CommandLine command) {
        Set<String> commands = command.getSubcommands().keySet();
        boolean option = argument.startsWith("-") && argument.length() > 1;
        if (option) {
            String name = argument.contains("=") ? argument.substring(0, argument.indexOf('=')) : argument;
            List<String> known = command.getCommandSpec().options().stream()
                    .map(OptionSpec::longestName)
                    .toList();
            return "unknown option %s%s".formatted(name, suggestion(name, known));
        }
        return commands.isEmpty()
                ? "\"%s\" is one argument too many".formatted(argument)
                : "unknown command \"%s\"%s".formatted(argument, suggestion(argument, commands));
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
