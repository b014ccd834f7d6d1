package octurn.cli.command;

import java.io.IOException;
import java.util.List;
import java.util.concurrent.Callable;
import octurn.cli.process.Exit;
import octurn.cli.process.Surroundings;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code octurn help}: says how a command is used. */
@Command(
        name = "help",
        customSynopsis = "octurn help [COMMAND [COMMAND]]",
        description = "Says how a command is used.",
        exitCodeList = {"0:done", "1:an internal error", "2:bad usage"})
final class HelpCommand implements Callable<Integer> {

    private final Surroundings surroundings;

    @Spec
    @SuppressWarnings("NullAway.Init")
    private CommandSpec spec;

    @Parameters(
            paramLabel = "COMMAND",
            arity = "0..2",
            description = "the command, and a command of that one; without it the list of all")
    private List<String> commands = List.of();

    HelpCommand(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    @Override
    public Integer call() throws IOException {
        if (commands.isEmpty()) {
            surroundings.writeOut(Help.TEXT);
            return Exit.OK;
        }
        CommandLine root = spec.root().commandLine();
        CommandLine asked = root;
        for (String command : commands) {
            CommandLine above = asked;
            asked = above.getSubcommands().get(command);
            if (asked == null) {
                throw new CommandLine.ParameterException(above, Usage.unknownCommand(command, above));
            }
        }
        surroundings.writeOut(asked.getUsageMessage(root.getColorScheme()));
        return Exit.OK;
    }
}
