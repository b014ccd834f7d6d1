package octurn.cli.command;

import java.util.List;
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

    /** The commands, in the order in which the help lists them. */
    static final List<String> NAMES = List.of(
            "run",
            "step",
            "stalls",
            "draw",
            "compare",
            "sweep",
            "merge",
            "predict",
            "workload",
            "page",
            "pins",
            "waves",
            "check",
            "list",
            "design",
            "learn",
            "clock",
            "mark",
            "lesson",
            "completion",
            "help");

    private static Object command(String name, Surroundings surroundings) {
        return switch (name) {
            case "run" -> new RunCommand(surroundings);
            case "step" -> new StepCommand(surroundings);
            case "stalls" -> new StallsCommand(surroundings);
            case "draw" -> new DrawCommand(surroundings);
            case "compare" -> new CompareCommand(surroundings);
            case "sweep" -> new SweepCommand(surroundings);
            case "merge" -> new MergeCommand(surroundings);
            case "predict" -> new PredictCommand(surroundings);
            case "workload" -> new WorkloadCommand(surroundings);
            case "page" -> new PageCommand(surroundings);
            case "pins" -> new PinsCommand(surroundings);
            case "waves" -> new WavesCommand(surroundings);
            case "check" -> new CheckCommand(surroundings);
            case "list" -> new ListCommand(surroundings);
            case "design" -> new DesignCommand(surroundings);
            case "learn" -> new LearnCommand(surroundings);
            case "clock" -> new ClockCommand(surroundings);
            case "mark" -> new MarkCommand(surroundings);
            case "lesson" -> LessonCommand.commandLine(surroundings);
            case "completion" -> new CompletionCommand(surroundings);
            case "help" -> new HelpCommand(surroundings);
            default -> throw new IllegalArgumentException("no command: " + name);
        };
    }

    /** All commands, ready to run one command line. */
    public static CommandLine commandLine(Surroundings surroundings) {
        return commandLine(surroundings, NAMES);
    }

    /**
     * What it takes to run this one command line. Each command costs time before anything is run, so where the first
     * word names one that has no need of the others, it alone is there.
     */
    static CommandLine commandLine(Surroundings surroundings, String... args) {
        boolean alone =
                args.length > 0 && NAMES.contains(args[0]) && !args[0].equals("help") && !args[0].equals("completion");
        return commandLine(surroundings, alone ? List.of(args[0]) : NAMES);
    }

    private static CommandLine commandLine(Surroundings surroundings, List<String> names) {
        CommandLine root = new CommandLine(new Root());
        names.forEach(name -> root.addSubcommand(command(name, surroundings)));
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
