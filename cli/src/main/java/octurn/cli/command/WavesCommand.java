package octurn.cli.command;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import octurn.asm.Program;
import octurn.cli.export.ValueChangeDump;
import octurn.cli.export.ValueChangeDump.Contents;
import octurn.cli.process.Exit;
import octurn.cli.process.Failure;
import octurn.cli.process.OutputFile;
import octurn.cli.process.Surroundings;
import octurn.cli.view.Line;
import octurn.design.Scenario;
import octurn.machine.End;
import octurn.report.RunReport;
import octurn.report.RunReports;
import octurn.run.Run;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code octurn waves}: writes the signals of a run for a waveform viewer. */
@Command(
        name = "waves",
        customSynopsis = {
            "octurn waves PROGRAM --output FILE [--pins-only | --no-clock] [--from N]",
            "                    [--design FILE] [--scenario FILE] [--cycles N]",
            "                    [--set NAME=VALUE].."
        },
        description = "Writes the signals of a run as a value change dump (IEEE 1364), which waveform viewers and"
                + " decoders read: clock, slots, what each core does, and the pins.",
        exitCodeList = {
            "0:every core came to its end, or the limit was reached, without a fault",
            "1:an internal error",
            "2:bad usage or a file with errors; nothing was run",
            "3:a core is in fault",
            "4:the run is stuck"
        })
final class WavesCommand implements Callable<Integer> {

    /** With a clock that nobody asked to stop, a file grows by tens of bytes a cycle; this makes about 40 MB. */
    private static final long DEFAULT_LIMIT = 1_000_000;

    private final Surroundings surroundings;

    @Parameters(paramLabel = "PROGRAM", description = "the program file, *.turn")
    @SuppressWarnings("NullAway.Init")
    private String programFile;

    @Option(
            names = {"-o", "--output"},
            paramLabel = "FILE",
            required = true,
            description = "the file to write, *.vcd, whole or not at all; - for standard output, and then nothing else"
                    + " is printed there")
    @SuppressWarnings("NullAway.Init")
    private String outputFile;

    @Option(
            names = "--pins-only",
            description =
                    "the pins alone, each a wire of one bit: some decoders read nothing else, and the file is small")
    private boolean pinsOnly;

    @Option(
            names = "--no-clock",
            description = "all but the clock and the slot's owner, which change even when nothing happens")
    private boolean noClock;

    @Option(
            names = "--from",
            paramLabel = "N",
            converter = CycleNumber.class,
            description = "write the cycles from N on; without it from 0")
    private long from;

    @Option(
            names = "--design",
            paramLabel = "FILE",
            description = "the chip's design, *.design.json or a name; without it eight cores in plain rotation")
    private @Nullable String designFile;

    @Mixin
    private final RunInputs inputs = new RunInputs();

    WavesCommand(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    @Override
    public Integer call() throws IOException {
        if (pinsOnly && noClock) {
            throw new Failure("--no-clock: with --pins-only there is no clock; give one of the two");
        }
        if (!outputFile.equals("-") && !outputFile.toLowerCase(Locale.ROOT).endsWith(".vcd")) {
            throw new Failure("--output: %s is not *.vcd".formatted(outputFile));
        }
        RunInputs.Prepared prepared = inputs.prepare(surroundings, programFile, designFile);
        if (prepared == null) {
            return Exit.USAGE;
        }
        Program program = prepared.program();
        Scenario scenario = prepared.scenario();
        Contents contents = pinsOnly ? Contents.PINS_ONLY : noClock ? Contents.NO_CLOCK : Contents.ALL;
        boolean defaultLimit = contents == Contents.ALL && inputs.defaultLimit(scenario);
        long limit = defaultLimit ? DEFAULT_LIMIT : inputs.limit(scenario);
        try (OutputFile file = OutputFile.open(
                outputFile, surroundings, RunInputs.given(programFile, designFile, inputs.scenarioFile()))) {
            List<Run> runs = new ArrayList<>();
            List<ValueChangeDump> dumps = new ArrayList<>();
            file.write(out -> {
                ValueChangeDump dump = ValueChangeDump.begin(program, scenario, contents, from, out);
                dumps.add(dump);
                try {
                    Run run = Run.of(program, scenario, limit, dump);
                    runs.add(run);
                    new ProgressLine(surroundings).finish(run);
                    dump.end(run.chip().cycle());
                } catch (UncheckedIOException e) {
                    throw e.getCause();
                }
            });
            if (runs.isEmpty() || !runs.get(0).isOver()) {
                // Nobody reads on, as when standard output goes to head.
                return Exit.OK;
            }
            RunReport report = RunReports.of(runs.get(0));
            if (!file.isStandardOutput()) {
                surroundings.print(lines(report, dumps.get(0), defaultLimit));
            }
            return RunCommand.exit(report);
        }
    }

    private List<Line> lines(RunReport report, ValueChangeDump dump, boolean defaultLimit) {
        List<Line> lines = new ArrayList<>();
        lines.add(Line.of("%s: %,d cycles, ended %s"
                .formatted(
                        surroundings.glyphs().visible(report.program()),
                        report.cycles(),
                        report.ended().text())));
        if (from >= report.cycles()) {
            lines.add(Line.of("The run ended before cycle %,d: the file holds the last state alone.".formatted(from)));
        }
        if (defaultLimit && report.ended() == End.LIMIT) {
            lines.add(Line.of("The clock makes the file long, so it stops at %,d cycles;".formatted(DEFAULT_LIMIT)));
            lines.add(Line.of(
                    "--cycles N goes on, and --no-clock and --pins-only run on to %,d.".formatted(Run.DEFAULT_LIMIT)));
        }
        lines.add(Line.of("%,d signals, %,d changes".formatted(dump.variables(), dump.changes())));
        lines.add(Line.of("Times are in units of %s, %s"
                .formatted(dump.unit(), dump.isExact() ? "exact" : "each rounded to the nearest")));
        return lines;
    }
}
