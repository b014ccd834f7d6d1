package octurn.cli.command;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.Callable;
import java.util.stream.Stream;
import octurn.asm.Program;
import octurn.cli.process.Exit;
import octurn.cli.process.Failure;
import octurn.cli.process.InputFiles;
import octurn.cli.process.OutputFile;
import octurn.cli.process.Surroundings;
import octurn.cli.stepper.Answer;
import octurn.cli.stepper.Conversation;
import octurn.cli.stepper.ScriptFiles;
import octurn.cli.stepper.Stepper;
import octurn.cli.stepper.StepperShow;
import octurn.design.Scenario;
import octurn.run.Progress;
import octurn.run.Timeline;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code octurn step}: looks at a run cycle by cycle, forwards and backwards. */
@Command(
        name = "step",
        customSynopsis = {
            "octurn step PROGRAM [--design FILE] [--scenario FILE] [--cycles N]",
            "                   [--set NAME=VALUE].. [--at CYCLE] [--follow SCRIPT] [--say]"
        },
        description = "Looks at a run cycle by cycle, forwards and backwards, on the whole screen; or with --say, and"
                + " where there is no screen, in lines of words, one command a line from standard input.",
        exitCodeList = {
            "0:done",
            "1:an internal error",
            "2:bad usage or a file with errors; with --say also: a command was not understood or not possible"
        })
final class StepCommand implements Callable<Integer> {

    private final Surroundings surroundings;

    @Parameters(paramLabel = "PROGRAM", description = "the program file, *.turn")
    @SuppressWarnings("NullAway.Init")
    private String programFile;

    @Option(
            names = "--design",
            paramLabel = "FILE",
            description = "the chip's design, *.design.json or a name; without it eight cores in plain rotation")
    private @Nullable String designFile;

    @Mixin
    private final RunInputs inputs = new RunInputs();

    @Option(names = "--at", paramLabel = "CYCLE", description = "begin at this cycle: a number, or a time like 12.5us")
    private @Nullable String at;

    @Option(names = "--follow", paramLabel = "SCRIPT", description = "begin with the commands of this script")
    private @Nullable String script;

    @Mixin
    private final SayOption talk = new SayOption();

    StepCommand(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    @Override
    public Integer call() throws IOException {
        RunInputs.Prepared prepared = inputs.prepare(surroundings, programFile, designFile);
        if (prepared == null) {
            return Exit.USAGE;
        }
        Program program = prepared.program();
        Scenario scenario = prepared.scenario();
        Timeline timeline = Timeline.of(program, scenario, inputs.limit(scenario));
        Stepper stepper = new Stepper(timeline, new Scripts(surroundings, inputs()), surroundings.glyphs());
        if (at != null) {
            begin(stepper, "go " + at, "--at");
        }
        if (script != null) {
            begin(stepper, "follow " + script, "--follow");
        }
        int exit = talk.run(surroundings, glyphs -> new StepperShow(stepper, glyphs), new Conversation(stepper)::run);
        // A conversation closes by itself, and says what went wrong.
        String trouble = exit == Exit.OK ? stepper.close() : "";
        if (!trouble.isEmpty()) {
            throw new Failure(trouble);
        }
        return exit;
    }

    /** The files that the command reads: no script may take their place. */
    private List<String> inputs() {
        return Stream.of(programFile, designFile, inputs.scenarioFile(), script)
                .filter(Objects::nonNull)
                .toList();
    }

    private static void begin(Stepper stepper, String line, String option) {
        Answer answer = stepper.run(line, Progress.NONE);
        if (answer.kind() == Answer.Kind.REFUSED) {
            throw new Failure("%s: %s".formatted(option, answer.line()));
        }
    }

    /** Scripts as files that the user names. */
    private record Scripts(Surroundings surroundings, List<String> inputs) implements ScriptFiles {

        private static final int MOST_LINES = 100_000;

        @Override
        public List<String> read(String name) {
            try {
                String text = new String(InputFiles.read(name), StandardCharsets.UTF_8);
                List<String> lines = text.lines().limit(MOST_LINES + 1L).toList();
                if (lines.size() > MOST_LINES) {
                    throw new Failure("%s: has more than %d lines".formatted(name, MOST_LINES));
                }
                return lines;
            } catch (Failure e) {
                throw ScriptFiles.refusal(e.line());
            }
        }

        @Override
        public void check(String name) {
            try (OutputFile file = OutputFile.open(name, surroundings, inputs)) {
                if (file.isStandardOutput()) {
                    throw new Failure("a script is written to a file, not to standard output");
                }
            } catch (Failure e) {
                throw ScriptFiles.refusal(e.line());
            }
        }

        @Override
        public void write(String name, List<String> lines) {
            byte[] text = (String.join("\n", lines) + "\n").getBytes(StandardCharsets.UTF_8);
            try (OutputFile file = OutputFile.open(name, surroundings, inputs)) {
                file.write(out -> out.write(text));
            } catch (Failure e) {
                throw ScriptFiles.refusal(e.line());
            }
        }
    }
}
