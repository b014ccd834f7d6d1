package octurn.cli.command;

import octurn.cli.Help;
import octurn.cli.Surroundings;
import picocli.CommandLine;
import picocli.CommandLine.Help.Ansi;
import picocli.CommandLine.IVersionProvider;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Spec;

/** The table of commands. */
public final class Commands {

    private static final int HELP_COLUMNS = 80;

    private Commands() {}

    @CommandLine.Command(
            name = "octurn",
            mixinStandardHelpOptions = true,
            versionProvider = Version.class,
            description = "Simulates a small teaching chip, cycle by cycle.",
            synopsisSubcommandLabel = "COMMAND")
    private static final class Root implements Runnable {

        @Spec
        @SuppressWarnings("NullAway.Init")
        private CommandSpec spec;

        @Override
        public void run() {
            throw new CommandLine.ParameterException(spec.commandLine(), "a command is missing");
        }
    }

    /** Answers {@code --version}. */
    static final class Version implements IVersionProvider {
        @Override
        public String[] getVersion() {
            return new String[] {Help.version()};
        }
    }

    /** All commands, ready to run one command line. */
    public static CommandLine commandLine(Surroundings surroundings) {
        CommandLine root = new CommandLine(new Root())
                .addSubcommand(new RunCommand(surroundings))
                .addSubcommand(new CheckCommand(surroundings))
                .addSubcommand(new ListCommand(surroundings))
                .addSubcommand(new DesignCommand(surroundings))
                .addSubcommand(new CompletionCommand(surroundings))
                .addSubcommand(new CommandLine.HelpCommand());
        Ansi ansi = surroundings.colour() ? Ansi.ON : Ansi.OFF;
        return root.setExpandAtFiles(false)
                .setInterpolateVariables(false)
                .setUsageHelpWidth(HELP_COLUMNS)
                .setColorScheme(CommandLine.Help.defaultColorScheme(ansi))
                .setOut(surroundings.outWriter())
                .setErr(surroundings.errWriter());
    }
}
