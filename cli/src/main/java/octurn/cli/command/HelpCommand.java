package octurn.cli.command;

import java.io.IOException;
import java.util.concurrent.Callable;
import octurn.cli.process.Exit;
import octurn.cli.process.Surroundings;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code octurn help}: says how a command is used. */
@Command(
        name = "help",
        customSynopsis = "octurn help [COMMAND]",
        description = "Says how a command is used.",
        exitCodeList = {"0:done", "1:an internal error", "2:bad usage"})
final class HelpCommand implements Callable<Integer> {

    private final Surroundings surroundings;

    @Spec
    @SuppressWarnings("NullAway.Init")
    private CommandSpec spec;

    @Parameters(paramLabel = "COMMAND", arity = "0..1", description = "the command; without it the list of all")
    private @Nullable String command;

    HelpCommand(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    @Override
    public Integer call() throws IOException {
        if (command == null) {
            surroundings.writeOut(Help.TEXT);
            return Exit.OK;
        }
        CommandLine root = spec.root().commandLine();
        CommandLine asked = root.getSubcommands().get(command);
        if (asked == null) {
            throw new CommandLine.ParameterException(root, Usage.unknownCommand(command, root));
        }
        surroundings.writeOut(asked.getUsageMessage(root.getColorScheme()));
        return Exit.OK;
    }
}
