package octurn.cli.command;

import java.io.IOException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Callable;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.asm.Program;
import octurn.cli.json.PredictJson;
import octurn.cli.plot.Plots;
import octurn.cli.process.Exit;
import octurn.cli.process.Failure;
import octurn.cli.process.InputFiles;
import octurn.cli.process.OutputFile;
import octurn.cli.process.Surroundings;
import octurn.cli.view.Line;
import octurn.cli.view.PredictView;
import octurn.compare.RunFigures;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.measure.Measurement;
import octurn.measure.Measuring;
import octurn.predict.Prediction;
import octurn.predict.Predictions;
import octurn.predict.SpeedUp;
import octurn.predict.SpeedUp.Measured;
import octurn.predict.ThinkTable;
import octurn.report.RunReports;
import octurn.run.Run;
import octurn.sweep.Axis;
import octurn.sweep.Grid;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.ITypeConverter;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.TypeConversionException;

/** {@code octurn predict}: what theory says, by itself or beside a run. */
@Command(
        name = "predict",
        customSynopsis = {
            "octurn predict PROGRAM [--design FILE] [--scenario FILE] [--cycles N]",
            "                      [--set NAME=VALUE].. [--json FILE] [--plot FILE]",
            "                      [--roofline FILE]",
            "octurn predict PROGRAM --speed-up NAME=VALUES [--grow NAME] ..",
            "octurn predict --think CYCLES [--design FILE] [--json FILE] [--plot FILE]"
        },
        description = "Says what the textbooks predict, each figure by the name and source of its theory: beside a run"
                + " of a program, with the assumptions that do not hold and by how much theory and run differ; for a"
                + " program with more and more processors; or for a design and a think time without any program.",
        exitCodeList = {
            "0:done",
            "1:an internal error",
            "2:bad usage or a file with errors; nothing was run",
            "3:a core is in fault",
            "4:the run is stuck"
        })
final class PredictCommand implements Callable<Integer> {

    private static final double MOST_THINK = 1e12;

    private final Surroundings surroundings;

    @Parameters(paramLabel = "PROGRAM", arity = "0..1", description = "the program file, *.turn")
    private @Nullable String programFile;

    @Option(
            names = "--think",
            paramLabel = "CYCLES",
            converter = ThinkTime.class,
            description = "without a program: mean cycles from the end of a core's slot to its next request")
    private @Nullable Double think;

    @Option(
            names = "--speed-up",
            paramLabel = "NAME=VALUES",
            description = "run it with so many processors (NAME is cores, or a constant of the program that says how"
                    + " many take part; VALUES begin with 1) and hold Amdahl's law against it")
    private @Nullable String speedUp;

    @Option(
            names = "--grow",
            paramLabel = "NAME",
            description = "with --speed-up: a constant of the program that grows with the processors, for Gustafson's"
                    + " law")
    private @Nullable String grow;

    @Option(
            names = "--design",
            paramLabel = "FILE",
            description = "the chip's design, *.design.json or a name; without it eight cores in plain rotation")
    private @Nullable String designFile;

    @Mixin
    private final RunInputs inputs = new RunInputs();

    @Mixin
    private final JsonOption json = new JsonOption();

    @Mixin
    private final PlotOption plot = new PlotOption();

    @Option(
            names = "--roofline",
            paramLabel = "FILE",
            description = "draw the roofline with the program below it, as FILE.svg or FILE.png")
    private @Nullable String rooflineFile;

    PredictCommand(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    /** A number of cycles on the command line, perhaps with a fraction. */
    static final class ThinkTime implements ITypeConverter<Double> {
        @Override
        public Double convert(String value) {
            if (value.matches("[0-9]{1,13}(\\.[0-9]{1,9})?")) {
                double cycles = Double.parseDouble(value);
                if (cycles >= 1 && cycles <= MOST_THINK) {
                    return cycles;
                }
            }
            throw new TypeConversionException("--think: %s is not in 1..%.0f".formatted(value, MOST_THINK));
        }
    }

    @Override
    public Integer call() throws IOException {
        if (programFile == null) {
            return withoutProgram();
        }
        if (think != null) {
            throw new Failure("--think is for a design without a program; a program has its own think times");
        }
        if (speedUp != null) {
            return withProcessors(programFile, speedUp);
        }
        if (grow != null) {
            throw new Failure("--grow goes with --speed-up");
        }
        return withRun(programFile);
    }

    private void show(List<Line> lines, @Nullable OutputFile file) throws IOException {
        if (file == null || !file.isStandardOutput()) {
            surroundings.print(lines);
        }
    }

    // ---- a design and a think time

    private int withoutProgram() throws IOException {
        if (think == null) {
            throw new Failure("PROGRAM is missing; or, for a design alone, --think CYCLES");
        }
        if (speedUp != null || grow != null || rooflineFile != null) {
            throw new Failure("--speed-up, --grow and --roofline need a program");
        }
        Sources sources = new Sources(surroundings);
        Design design = sources.design(designFile);
        sources.tell();
        if (design == null) {
            return Exit.USAGE;
        }
        RunInputs.Setting setting = inputs.set(design);
        if (!setting.constants().isEmpty()) {
            throw new Failure("--set %s: no field of a design"
                    .formatted(setting.constants().keySet().iterator().next()));
        }
        ThinkTable table = ThinkTable.of(setting.design(), think);
        try (OutputFile file = json.open(surroundings, designFile);
                OutputFile picture = plot.open(surroundings, designFile)) {
            if (file != null) {
                file.write(out -> PredictJson.write(table, out));
            }
            if (picture != null) {
                plot.write(picture, () -> Plots.thinkTable(table));
            }
            show(PredictView.lines(table, surroundings.glyphs(), surroundings.columns()), file);
        }
        return Exit.OK;
    }

    // ---- beside a run

    private int withRun(String name) throws IOException {
        RunInputs.Prepared prepared = inputs.prepare(surroundings, name, designFile);
        if (prepared == null) {
            return Exit.USAGE;
        }
        Program program = prepared.program();
        Scenario scenario = prepared.scenario();
        String[] read = RunInputs.given(name, designFile, inputs.scenarioFile()).toArray(String[]::new);
        try (OutputFile file = json.open(surroundings, read);
                OutputFile picture = plot.open(surroundings, read);
                OutputFile roof = PlotOption.open("--roofline", rooflineFile, surroundings, read)) {
            Measuring measuring = Measuring.of(program, scenario, inputs.limit(scenario));
            new ProgressLine(surroundings).finish(measuring.run());
            Measurement measurement = measuring.measurement();
            List<Prediction> predictions = Predictions.of(measurement.report(), measurement.thinks());
            if (file != null) {
                file.write(out -> PredictJson.write(measurement, predictions, out));
            }
            if (picture != null) {
                if (predictions.isEmpty()) {
                    throw new Failure("--plot: no core was admitted to shared memory, so there is no wait to draw");
                }
                plot.write(picture, () -> Plots.predictions(measurement.report(), predictions));
            }
            if (roof != null && rooflineFile != null) {
                PlotOption.write(roof, rooflineFile, () -> Plots.roofline(measurement.report()));
            }
            show(PredictView.lines(measurement, predictions, surroundings.glyphs(), surroundings.columns()), file);
            return RunCommand.exit(measurement.report());
        }
    }

    // ---- more and more processors

    private int withProcessors(String name, String varied) throws IOException {
        if (rooflineFile != null) {
            throw new Failure("--roofline draws one run; leave --speed-up out");
        }
        Sources sources = new Sources(surroundings);
        Design design = sources.design(designFile);
        Scenario scenario = inputs.scenario(sources);
        sources.tell();
        if (design == null || scenario == null) {
            return Exit.USAGE;
        }
        Axis axis = RunInputs.axes("--speed-up", List.of(varied)).get(0);
        byte[] text = InputFiles.read(name);
        Processors processors = new Processors(name, text, design, scenario, axis);
        SpeedUp result;
        try {
            List<Measured> measured = processors.measured();
            result = grow == null ? SpeedUp.sameTask(measured) : SpeedUp.growingTask(measured);
        } catch (IllegalArgumentException e) {
            throw new Failure("--speed-up: " + e.getMessage());
        }
        String program = name.substring(Math.max(name.lastIndexOf('/'), name.lastIndexOf('\\')) + 1);
        String grown = grow == null ? "" : grow;
        String[] read = RunInputs.given(name, designFile, inputs.scenarioFile()).toArray(String[]::new);
        try (OutputFile file = json.open(surroundings, read);
                OutputFile picture = plot.open(surroundings, read)) {
            if (file != null) {
                file.write(out -> PredictJson.write(program, design, axis.name(), grown, result, out));
            }
            if (picture != null) {
                plot.write(picture, () -> Plots.speedUp(program, design, axis.name(), result));
            }
            show(
                    PredictView.lines(
                            program, design, axis.name(), grown, result, surroundings.glyphs(), surroundings.columns()),
                    file);
        }
        return Exit.OK;
    }

    /** Runs with a growing number of processors. */
    private final class Processors {
        private final String name;
        private final byte[] text;
        private final Scenario scenario;
        private final Axis axis;
        private final Grid grid;
        private final long grownFrom;

        Processors(String name, byte[] text, Design design, Scenario scenario, Axis axis) {
            this.name = name;
            this.text = text;
            this.scenario = scenario;
            this.axis = axis;
            List<String> names = new ArrayList<>();
            try {
                this.grid = new Grid(design, inputs.settings(), List.of(axis));
            } catch (IllegalArgumentException e) {
                throw new Failure("--speed-up: " + e.getMessage());
            }
            names.addAll(grid.constantNames());
            if (grow != null) {
                names.add(grow);
            }
            Sources.checkConstants(name, text, design, names);
            this.grownFrom = grow == null ? 0 : constant(grow);
        }

        /** What a constant is for one processor. */
        private long constant(String constant) {
            Long value = grid.constants(0).get(constant);
            if (value == null) {
                value = program(0, Map.of()).constants().get(constant);
            }
            if (value == null) {
                throw new Failure("--grow %s: no constant of the program".formatted(constant));
            }
            return value;
        }

        private Program program(int point, Map<String, Long> more) {
            Map<String, Long> constants = new HashMap<>(grid.constants(point));
            constants.putAll(more);
            Assembly assembly = Assembler.assemble(name, text, grid.design(point), constants);
            if (assembly instanceof Assembly.Assembled assembled) {
                return assembled.program();
            }
            throw new Failure("%s with %s %s: %s"
                    .formatted(
                            name,
                            axis.name(),
                            axis.values().get(point),
                            ((Assembly.Rejected) assembly).errors().get(0).message()));
        }

        List<Measured> measured() {
            List<Measured> measured = new ArrayList<>();
            long first = 0;
            for (int point = 0; point < axis.values().size(); point++) {
                int processors;
                try {
                    processors = Math.toIntExact(Long.parseLong(axis.values().get(point)));
                } catch (NumberFormatException | ArithmeticException e) {
                    throw new Failure("--speed-up: %s is no number of processors"
                            .formatted(axis.values().get(point)));
                }
                Map<String, Long> grown =
                        grow == null ? Map.of() : Map.of(grow, Math.multiplyExact(grownFrom, (long) processors));
                long cycles = cycles(point, grown);
                first = point == 0 ? cycles : first;
                measured.add(new Measured(processors, cycles, grow == null ? first : cycles(0, grown)));
            }
            return measured;
        }

        private long cycles(int point, Map<String, Long> grown) {
            Program program = program(point, grown);
            Run run = Run.of(program, scenario, inputs.limit(scenario));
            new ProgressLine(surroundings).finish(run);
            RunFigures figures = RunFigures.of(RunReports.of(run));
            if (!figures.finished()) {
                throw new Failure("%s with %s %s did not come to its end (%s after %,d cycles)"
                        .formatted(
                                name,
                                axis.name(),
                                axis.values().get(point),
                                figures.faults() > 0
                                        ? "a fault"
                                        : figures.ended().text(),
                                figures.cycles()));
            }
            return figures.cycles();
        }
    }
}
