package octurn.cli.command;

import java.io.IOException;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.List;
import java.util.OptionalLong;
import java.util.SortedSet;
import java.util.concurrent.Callable;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import octurn.asm.Program;
import octurn.cli.json.StallsJson;
import octurn.cli.plot.Plots;
import octurn.cli.process.Exit;
import octurn.cli.process.Failure;
import octurn.cli.process.OutputFile;
import octurn.cli.process.Surroundings;
import octurn.cli.view.StallsView;
import octurn.design.Clock;
import octurn.design.Scenario;
import octurn.diag.Nearest;
import octurn.measure.Measurement;
import octurn.measure.Measuring;
import octurn.measure.RegionMeter;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code octurn stalls}: explains the waits of a program. */
@Command(
        name = "stalls",
        customSynopsis = {
            "octurn stalls PROGRAM [--between LABEL LABEL [--within TIME]]",
            "                     [--design FILE] [--scenario FILE] [--cycles N]",
            "                     [--set NAME=VALUE].. [--json FILE] [--plot FILE]"
        },
        description = "Explains the waits of a program: how long each line waits for shared memory, how much work fits"
                + " before it at no cost and how much must go to win anything, how long the loops take, and"
                + " the time from one label to another.",
        exitCodeList = {
            "0:every core came to its end, or the limit was reached, without a fault",
            "1:an internal error",
            "2:bad usage or a file with errors; nothing was run",
            "3:a core is in fault",
            "4:the run is stuck"
        })
final class StallsCommand implements Callable<Integer> {

    private static final Pattern TIME = Pattern.compile("([0-9]{1,15}(?:\\.[0-9]{1,12})?)(ns|us|\u00b5s|ms|s|)");

    private final Surroundings surroundings;

    @Parameters(paramLabel = "PROGRAM", description = "the program file, *.turn")
    @SuppressWarnings("NullAway.Init")
    private String programFile;

    @Option(
            names = "--between",
            arity = "2",
            paramLabel = "LABEL",
            description = "measure from the first label to the second, core by core")
    private List<String> between = List.of();

    @Option(
            names = "--within",
            paramLabel = "TIME",
            description = "with --between: how long that may take, as 480 (cycles), 10us, 1.5ms")
    private @Nullable String within;

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

    StallsCommand(Surroundings surroundings) {
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
        Measuring measuring = measuring(program, scenario);
        try (OutputFile file = json.open(surroundings, programFile, designFile, inputs.scenarioFile());
                OutputFile picture = plot.open(surroundings, programFile, designFile, inputs.scenarioFile())) {
            new ProgressLine(surroundings).finish(measuring.run());
            Measurement measurement = measuring.measurement();
            if (file != null) {
                file.write(out -> StallsJson.write(measurement, out));
            }
            if (picture != null) {
                plot.write(picture, () -> Plots.waits(measurement));
            }
            if (file == null || !file.isStandardOutput()) {
                surroundings.print(StallsView.lines(measurement, surroundings.glyphs(), surroundings.columns()));
            }
            return RunCommand.exit(measurement.report());
        }
    }

    private Measuring measuring(Program program, Scenario scenario) {
        if (between.isEmpty()) {
            if (within != null) {
                throw new Failure("--within says how long it may take between two labels: give --between LABEL LABEL");
            }
            return Measuring.of(program, scenario, inputs.limit(scenario));
        }
        SortedSet<String> labels = RegionMeter.labels(program);
        for (String label : between) {
            if (!labels.contains(label)) {
                String nearest = Nearest.of(label, labels);
                throw new Failure("--between: %s has no label %s%s"
                        .formatted(
                                program.name(),
                                label,
                                nearest == null ? "" : " (did you mean %s?)".formatted(nearest)));
            }
        }
        OptionalLong most = within == null
                ? OptionalLong.empty()
                : OptionalLong.of(cycles(within, program.design().clock()));
        return Measuring.of(
                program, scenario, inputs.limit(scenario), new Measuring.Wanted(between.get(0), between.get(1), most));
    }

    /** The whole cycles in a time. */
    static long cycles(String text, Clock clock) {
        Matcher time = TIME.matcher(text);
        if (!time.matches()) {
            throw new Failure("--within: %s is no time; right would be 480 (cycles), 10us, 1.5ms".formatted(text));
        }
        BigDecimal number = new BigDecimal(time.group(1));
        BigDecimal hertz = BigDecimal.valueOf(clock.chipHertz());
        BigDecimal cycles = switch (time.group(2)) {
            case "ns" -> number.multiply(hertz).movePointLeft(9);
            case "us", "\u00b5s" -> number.multiply(hertz).movePointLeft(6);
            case "ms" -> number.multiply(hertz).movePointLeft(3);
            case "s" -> number.multiply(hertz);
            default -> number;
        };
        return cycles.setScale(0, RoundingMode.FLOOR)
                .min(BigDecimal.valueOf(Long.MAX_VALUE))
                .longValue();
    }
}
