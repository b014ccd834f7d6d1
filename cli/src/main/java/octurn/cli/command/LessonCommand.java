package octurn.cli.command;

import octurn.cli.process.Surroundings;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Spec;

/** {@code octurn lesson}: what authors of lessons need. */
@Command(
        name = "lesson",
        customSynopsis = {
            "octurn lesson new FOLDER",
            "       octurn lesson check FOLDER",
            "       octurn lesson pack FOLDER --output FILE.zip",
            "       octurn lesson unpack FILE.zip [--output FOLDER]"
        },
        description = "Helps to write lessons: makes a small one to start from, checks one, packs it into one file, and"
                + " unpacks it again.",
        exitCodeList = {"0:done", "1:an internal error", "2:bad usage, or a lesson with errors"})
final class LessonCommand implements Runnable {

    @Spec
    @SuppressWarnings("NullAway.Init")
    private CommandSpec spec;

    /** The command with its four commands. */
    static CommandLine commandLine(Surroundings surroundings) {
        return new CommandLine(new LessonCommand())
                .addSubcommand(new LessonNewCommand(surroundings))
                .addSubcommand(new LessonCheckCommand(surroundings))
                .addSubcommand(new LessonPackCommand(surroundings))
                .addSubcommand(new LessonUnpackCommand(surroundings));
    }

    @Override
    public void run() {
        throw new CommandLine.ParameterException(
                spec.commandLine(), "what is to be done is missing: new, check, pack or unpack");
    }
}
