package octurn.cli.command;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
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
import octurn.cli.process.Pausing;
import octurn.cli.process.Surroundings;
import octurn.cli.stepper.Answer;
import octurn.cli.stepper.Conversation;
import octurn.cli.stepper.ScriptFiles;
import octurn.cli.stepper.Stepper;
import octurn.cli.stepper.StepperShow;
import octurn.cli.terminal.FullScreen;
import octurn.cli.view.Glyphs;
import octurn.cli.view.Line;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.run.Progress;
import octurn.run.Run;
import octurn.run.Timeline;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code octurn step}: looks at a run cycle by cycle, forwards and backwards. */
@Command(
        name = "step",
        customSynopsis = {
            "octurn step PROGRAM [--design FILE] [--scenario FILE] [--cycles N]",
            "                   [--at CYCLE] [--follow SCRIPT] [--say]"
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
            description = "the chip's design, *.design.json; without it eight cores in plain rotation")
    private @Nullable String designFile;

    @Option(
            names = "--scenario",
            paramLabel = "FILE",
            description = "what the world does to the pins, *.scenario.json; without it nothing")
    private @Nullable String scenarioFile;

    @Option(
            names = "--cycles",
            paramLabel = "N",
            converter = RunCommand.Cycles.class,
            description =
                    "the run ends after so many cycles; without it at the scenario's limit, or else at 50,000,000")
    private @Nullable Long cycles;

    @Option(names = "--at", paramLabel = "CYCLE", description = "begin at this cycle: a number, or a time like 12.5us")
    private @Nullable String at;

    @Option(names = "--follow", paramLabel = "SCRIPT", description = "begin with the commands of this script")
    private @Nullable String script;

    @Option(names = "--say", description = "lines of words instead of a screen")
    private boolean say;

    StepCommand(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    @Override
    public Integer call() throws IOException {
        Sources sources = new Sources(surroundings);
        Design design = sources.design(designFile);
        Scenario scenario = design == null ? null : sources.scenario(scenarioFile, design);
        Program program = design == null ? null : sources.program(programFile, design);
        sources.tell();
        if (program == null || scenario == null) {
            return Exit.USAGE;
        }
        long limit = cycles != null ? cycles : scenario.limit().orElse(Run.DEFAULT_LIMIT);
        Timeline timeline = Timeline.of(program, scenario, limit);
        Stepper stepper = new Stepper(timeline, new Scripts(surroundings, inputs()), surroundings.glyphs());
        if (at != null) {
            begin(stepper, "go " + at, "--at");
        }
        if (script != null) {
            begin(stepper, "follow " + script, "--follow");
        }
        return say || !surroundings.isScreen() ? say(stepper) : onScreen(stepper);
    }

    /** The files that the command reads: no script may take their place. */
    private List<String> inputs() {
        return Stream.of(programFile, designFile, scenarioFile, script)
                .filter(Objects::nonNull)
                .toList();
    }

    private static void begin(Stepper stepper, String line, String option) {
        Answer answer = stepper.run(line, Progress.NONE);
        if (answer.kind() == Answer.Kind.REFUSED) {
            throw new Failure("%s: %s".formatted(option, answer.line()));
        }
    }

    private int say(Stepper stepper) throws IOException {
        Glyphs glyphs = surroundings.glyphs();
        BufferedReader in = new BufferedReader(new InputStreamReader(surroundings.in(), surroundings.charset()));
        boolean fine = new Conversation(stepper)
                .run(
                        in,
                        lines -> surroundings.print(lines.stream()
                                .map(line -> Line.of(glyphs.visible(line)))
                                .toList()));
        return fine ? Exit.OK : Exit.USAGE;
    }

    private int onScreen(Stepper stepper) throws IOException {
        try (FullScreen screen = FullScreen.open(
                new StepperShow(stepper, surroundings.glyphs()),
                surroundings.charset(),
                surroundings.colour(),
                surroundings.nanoTime(),
                Pausing::pause)) {
            if (screen == null) {
                return say(stepper);
            }
            Runnable leave = screen::leave;
            surroundings.cleanups().add(leave);
            screen.run();
            surroundings.cleanups().remove(leave);
        }
        String trouble = stepper.close();
        if (!trouble.isEmpty()) {
            throw new Failure(trouble);
        }
        return Exit.OK;
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
