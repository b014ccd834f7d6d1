package octurn.cli.command;

import octurn.cli.process.Surroundings;
import picocli.CommandLine;
import picocli.CommandLine.Help.Ansi;
import picocli.CommandLine.IVersionProvider;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.Spec;

/** The table of commands. */
public final class Commands {

    private static final int HELP_COLUMNS = 80;

    private Commands() {}

    @CommandLine.Command(
            name = "octurn",
            customSynopsis = "octurn COMMAND [OPTIONS] ..",
            description = "Simulates a small teaching chip, cycle by cycle: several cores share one memory, and each is"
                    + " admitted for a slot of its own in strict rotation.",
            exitCodeList = {
                "0:fine",
                "1:an internal error",
                "2:bad usage or a file with errors",
                "3:a core is in fault",
                "4:the run is stuck"
            })
    private static final class Root implements Runnable {

        @Spec
        @SuppressWarnings("NullAway.Init")
        private CommandSpec spec;

        @Override
        public void run() {
            throw new CommandLine.ParameterException(spec.commandLine(), "a command is missing");
        }
    }

    /** What is the same for all commands. */
    private static void arrangeHelp(CommandSpec spec) {
        spec.versionProvider(new Version());
        spec.addOption(OptionSpec.builder("-h", "--help")
                .usageHelp(true)
                .description("say how the command is used")
                .build());
        spec.addOption(OptionSpec.builder("-V", "--version")
                .versionHelp(true)
                .description("say which version this is")
                .build());
        spec.usageMessage()
                .sortOptions(false)
                .descriptionHeading("%n")
                .parameterListHeading("%n")
                .optionListHeading("%n")
                .commandListHeading("%nCommands:%n")
                .footerHeading("%n")
                .exitCodeListHeading("%nExit status:%n");
    }

    private static void arrangeHelpOfAll(CommandLine above) {
        above.getSubcommands().values().forEach(command -> {
            arrangeHelp(command.getCommandSpec());
            arrangeHelpOfAll(command);
        });
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
                .addSubcommand(new StepCommand(surroundings))
                .addSubcommand(new StallsCommand(surroundings))
                .addSubcommand(new DrawCommand(surroundings))
                .addSubcommand(new CompareCommand(surroundings))
                .addSubcommand(new SweepCommand(surroundings))
                .addSubcommand(new MergeCommand(surroundings))
                .addSubcommand(new PredictCommand(surroundings))
                .addSubcommand(new WorkloadCommand(surroundings))
                .addSubcommand(new PageCommand(surroundings))
                .addSubcommand(new PinsCommand(surroundings))
                .addSubcommand(new WavesCommand(surroundings))
                .addSubcommand(new CheckCommand(surroundings))
                .addSubcommand(new ListCommand(surroundings))
                .addSubcommand(new DesignCommand(surroundings))
                .addSubcommand(new LearnCommand(surroundings))
                .addSubcommand(new ClockCommand(surroundings))
                .addSubcommand(new MarkCommand(surroundings))
                .addSubcommand(LessonCommand.commandLine(surroundings))
                .addSubcommand(new CompletionCommand(surroundings))
                .addSubcommand(new HelpCommand(surroundings));
        arrangeHelp(root.getCommandSpec());
        arrangeHelpOfAll(root);
        Ansi ansi = surroundings.colour() ? Ansi.ON : Ansi.OFF;
        return root.setExpandAtFiles(false)
                .setUsageHelpWidth(HELP_COLUMNS)
                .setColorScheme(CommandLine.Help.defaultColorScheme(ansi))
                .setOut(surroundings.outWriter())
                .setErr(surroundings.errWriter());
    }
}
