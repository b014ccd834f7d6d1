package octurn.cli.command;

import java.io.IOException;
import java.util.Iterator;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import java.util.concurrent.atomic.AtomicReference;
import octurn.asm.Program;
import octurn.cli.json.EventLog;
import octurn.cli.plot.Plots;
import octurn.cli.process.Exit;
import octurn.cli.process.Failure;
import octurn.cli.process.OutputFile;
import octurn.cli.process.Surroundings;
import octurn.cli.view.RunView;
import octurn.design.Input;
import octurn.design.Scenario;
import octurn.json.JsonForm;
import octurn.json.ReportWriter;
import octurn.json.ReportWriter.Dump;
import octurn.machine.End;
import octurn.report.RunReport;
import octurn.report.RunReports;
import octurn.run.Run;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.ITypeConverter;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.TypeConversionException;

/** {@code octurn run}: runs a program and reports where every cycle went. */
@Command(
        name = "run",
        customSynopsis = {
            "octurn run PROGRAM [--design FILE] [--scenario FILE] [--cycles N]",
            "                  [--set NAME=VALUE].. [--json FILE]",
            "                  [--dump shared|private|all] [--plot FILE] [--events FILE]"
        },
        description = "Runs a program and reports where every cycle went.",
        exitCodeList = {
            "0:every core came to its end, or the limit was reached, without a fault",
            "1:an internal error",
            "2:bad usage or a file with errors; nothing was run",
            "3:a core is in fault",
            "4:the run is stuck: nothing can ever happen again, and a core waits for it"
        })
final class RunCommand implements Callable<Integer> {

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

    @Option(
            names = "--dump",
            paramLabel = "shared|private|all",
            converter = DumpWord.class,
            completionCandidates = DumpWord.class,
            description = "with --json: the words of these memories, too, those that are 0 left out")
    private @Nullable Dump dump;

    @Mixin
    private final JsonOption json = new JsonOption();

    @Mixin
    private final PlotOption plot = new PlotOption();

    @Option(
            names = "--events",
            paramLabel = "FILE",
            description = "write all that happens as JSON lines, one event each, whole or not at all; - for standard"
                    + " output, and then nothing else is printed there")
    private @Nullable String eventsFile;

    RunCommand(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    /** A number of cycles on the command line. */
    static final class Cycles implements ITypeConverter<Long> {
        @Override
        public Long convert(String value) {
            if (value.matches("[0-9]{1,18}")) {
                long cycles = Long.parseLong(value);
                if (cycles >= 1 && cycles <= Input.MAX_CYCLE) {
                    return cycles;
                }
            }
            throw new TypeConversionException(
                    "--cycles: %s is not a whole number in 1..%d".formatted(value, Input.MAX_CYCLE));
        }
    }

    /** A word for what is to be dumped. */
    static final class DumpWord implements ITypeConverter<Dump>, Iterable<String> {

        private static final List<Dump> DUMPS = List.of(Dump.SHARED, Dump.PRIVATE, Dump.ALL);

        private static String word(Dump dump) {
            return dump.name().toLowerCase(Locale.ROOT);
        }

        @Override
        public Dump convert(String value) {
            return DUMPS.stream()
                    .filter(dump -> word(dump).equals(value))
                    .findFirst()
                    .orElseThrow(() -> new TypeConversionException(
                            "--dump: %s is not one of shared, private, all".formatted(value)));
        }

        @Override
        public Iterator<String> iterator() {
            return DUMPS.stream().map(DumpWord::word).iterator();
        }
    }

    @Override
    public Integer call() throws IOException {
        RunInputs.Prepared prepared = inputs.prepare(surroundings, programFile, designFile);
        if (prepared == null) {
            return Exit.USAGE;
        }
        Program program = prepared.program();
        Scenario scenario = prepared.scenario();
        boolean defaultLimit = inputs.defaultLimit(scenario);
        long limit = inputs.limit(scenario);
        try (OutputFile file = json.open(surroundings, programFile, designFile, inputs.scenarioFile());
                OutputFile picture = plot.open(surroundings, programFile, designFile, inputs.scenarioFile());
                OutputFile events = openEvents(file)) {
            Run run = events == null ? finished(program, scenario, limit) : logged(program, scenario, limit, events);
            if (!run.isOver()) {
                // Nobody reads the events any more, as when they go to head.
                return Exit.OK;
            }
            RunReport report = RunReports.of(run);
            if (file != null) {
                Dump what = dump == null ? Dump.NONE : dump;
                file.write(out -> ReportWriter.write(report, what, out));
            }
            if (picture != null) {
                plot.write(picture, () -> Plots.states(report));
            }
            if ((file == null || !file.isStandardOutput()) && (events == null || !events.isStandardOutput())) {
                surroundings.print(
                        RunView.lines(report, program, defaultLimit, surroundings.glyphs(), surroundings.columns()));
            }
            return exit(report);
        }
    }

    private @Nullable OutputFile openEvents(@Nullable OutputFile report) {
        if (eventsFile == null) {
            return null;
        }
        if (eventsFile.equals("-") && report != null && report.isStandardOutput()) {
            throw new Failure("--events -: the report goes to standard output already; give one of the two a file");
        }
        return OutputFile.open(
                eventsFile, surroundings, RunInputs.given(programFile, designFile, inputs.scenarioFile()));
    }

    private Run finished(Program program, Scenario scenario, long limit) {
        Run run = Run.of(program, scenario, limit);
        new ProgressLine(surroundings).finish(run);
        return run;
    }

    private Run logged(Program program, Scenario scenario, long limit, OutputFile events) {
        AtomicReference<Run> begun = new AtomicReference<>();
        events.write(out -> JsonForm.write(out, json -> {
            Run run = Run.of(program, scenario, limit, new EventLog(program, json));
            begun.set(run);
            new ProgressLine(surroundings).finish(run);
        }));
        // A reader that went away before the first cycle was over leaves no run.
        Run run = begun.get();
        return run != null ? run : Run.of(program, scenario, limit);
    }

    /** The exit status that goes with this run. */
    static int exit(RunReport report) {
        if (report.cores().stream().anyMatch(core -> core.fault() != null)) {
            return Exit.FAULT;
        }
        return report.ended() == End.STUCK ? Exit.STUCK : Exit.OK;
    }
}
