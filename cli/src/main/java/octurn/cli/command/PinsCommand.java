package octurn.cli.command;

import java.io.IOException;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.concurrent.Callable;
import java.util.stream.IntStream;
import octurn.asm.Program;
import octurn.cli.json.PinsJson;
import octurn.cli.process.Exit;
import octurn.cli.process.Failure;
import octurn.cli.process.OutputFile;
import octurn.cli.process.Surroundings;
import octurn.cli.view.Line;
import octurn.cli.view.PinWavesView;
import octurn.cli.view.PinWavesView.Reading;
import octurn.cli.view.SerialText;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.report.RunReport;
import octurn.report.RunReports;
import octurn.run.Run;
import octurn.signal.SerialFormat;
import octurn.signal.SerialReading;
import octurn.signal.WaveRecorder;
import octurn.signal.Waveform;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code octurn pins}: shows what the pins do in a run. */
@Command(
        name = "pins",
        customSynopsis = {
            "octurn pins PROGRAM [--pin N].. [--serial N].. [--baud N] [--format 8N1]",
            "                   [--from N] [--cycles N] [--design FILE]",
            "                   [--scenario FILE] [--set NAME=VALUE].. [--json FILE]"
        },
        description = "Shows what the pins do in a run: waves under a time ruler, widths and frequency of pulses, and a"
                + " serial line read back to its text.",
        exitCodeList = {
            "0:every core came to its end, or the limit was reached, without a fault",
            "1:an internal error",
            "2:bad usage or a file with errors; nothing was run",
            "3:a core is in fault",
            "4:the run is stuck"
        })
final class PinsCommand implements Callable<Integer> {

    private final Surroundings surroundings;

    @Parameters(paramLabel = "PROGRAM", description = "the program file, *.turn")
    @SuppressWarnings("NullAway.Init")
    private String programFile;

    @Option(
            names = "--pin",
            paramLabel = "N",
            description = "show this pin; may be given again; without it all to which anybody gives a level")
    private List<Integer> pins = List.of();

    @Option(
            names = "--serial",
            paramLabel = "N",
            description = "read this pin as an asynchronous serial line; may be given again")
    private List<Integer> serials = List.of();

    @Option(
            names = "--baud",
            paramLabel = "N",
            description = "with --serial: bits a second; without it as the scenario sends, or else found by looking at"
                    + " the line")
    private @Nullable BigDecimal baud;

    @Option(
            names = "--format",
            paramLabel = "8N1",
            description = "with --serial: data bits 5..9, parity N, O or E, stop bits 1 or 2; without it 8N1")
    private @Nullable String format;

    @Option(
            names = "--from",
            paramLabel = "N",
            converter = CycleNumber.class,
            description = "show the cycles from N on; without it from 0")
    private long from;

    @Option(
            names = "--design",
            paramLabel = "FILE",
            description = "the chip's design, *.design.json or a name; without it eight cores in plain rotation")
    private @Nullable String designFile;

    @Mixin
    private final RunInputs inputs = new RunInputs();

    @Mixin
    private final JsonOption json = new JsonOption();

    PinsCommand(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    @Override
    public Integer call() throws IOException {
        SerialFormat wanted = format();
        RunInputs.Prepared prepared = inputs.prepare(surroundings, programFile, designFile);
        if (prepared == null) {
            return Exit.USAGE;
        }
        Program program = prepared.program();
        Scenario scenario = prepared.scenario();
        int mask = mask(program.design());
        long clock = program.design().clock().chipHertz();
        if (baud != null && clock / baud.doubleValue() < 1) {
            throw new Failure("--baud: %s is above the clock of %d Hz".formatted(baud.toPlainString(), clock));
        }
        try (OutputFile file = json.open(surroundings, programFile, designFile, inputs.scenarioFile())) {
            return show(program, scenario, wanted, mask, file);
        }
    }

    private int show(Program program, Scenario scenario, SerialFormat wanted, int mask, @Nullable OutputFile file)
            throws IOException {
        WaveRecorder recorder = new WaveRecorder(program.design(), scenario, mask, from, WaveRecorder.DEFAULT_CHANGES);
        Run run = Run.of(program, scenario, inputs.limit(scenario), recorder);
        new ProgressLine(surroundings).finish(run);
        RunReport report = RunReports.of(run);
        if (from >= report.cycles()) {
            throw new Failure("--from: %d, but the run ended after %d cycles".formatted(from, report.cycles()));
        }
        List<Waveform> waves = IntStream.range(0, program.design().pins())
                .filter(pin -> (mask >>> pin & 1) != 0)
                .mapToObj(pin -> recorder.waveform(pin, report.cycles()))
                .filter(wave -> isAsked(wave.pin()) || (!isAnyAsked() && isGiven(wave)))
                .toList();
        Map<Integer, SerialReading> readings = readings(waves, wanted, scenario, program.design());
        if (file != null) {
            file.write(out -> PinsJson.write(report, waves, readings, out));
        }
        if (file == null || !file.isStandardOutput()) {
            surroundings.print(lines(report, waves, readings, recorder.isFull()));
        }
        return RunCommand.exit(report);
    }

    private List<Line> lines(
            RunReport report, List<Waveform> waves, Map<Integer, SerialReading> serialReadings, boolean isFull) {
        long clock = report.design().clock().chipHertz();
        List<Reading> readings = waves.stream()
                .map(Waveform::pin)
                .filter(serials::contains)
                .map(pin -> reading(pin, serialReadings.get(pin), clock))
                .toList();
        List<Line> lines = new ArrayList<>(
                PinWavesView.lines(report, waves, readings, surroundings.glyphs(), surroundings.columns()));
        if (isFull) {
            lines.add(Line.EMPTY);
            lines.add(Line.of("There are more than %,d changes, and the waves end with those."
                    .formatted(WaveRecorder.DEFAULT_CHANGES)));
            lines.add(Line.of("Fewer pins (--pin), or a shorter stretch (--from, --cycles), show the rest."));
        }
        return lines;
    }

    private SerialFormat format() {
        if (serials.isEmpty() && (baud != null || format != null)) {
            throw new Failure("--baud and --format say how a serial line is read: give --serial PIN");
        }
        if (baud != null && baud.signum() <= 0) {
            throw new Failure("--baud: %s is not above 0".formatted(baud.toPlainString()));
        }
        return SerialOptions.format(format);
    }

    private boolean isAnyAsked() {
        return !pins.isEmpty() || !serials.isEmpty();
    }

    private boolean isAsked(int pin) {
        return pins.contains(pin) || serials.contains(pin);
    }

    private int mask(Design design) {
        TreeSet<Integer> asked = new TreeSet<>(pins);
        asked.addAll(serials);
        for (int pin : asked) {
            if (pin < 0 || pin >= design.pins()) {
                throw new Failure("%s: %d; this chip has %s"
                        .formatted(
                                pins.contains(pin) ? "--pin" : "--serial",
                                pin,
                                design.pins() == 0 ? "no pins" : "pins 0..%d".formatted(design.pins() - 1)));
            }
        }
        return asked.isEmpty()
                ? design.pinMask()
                : asked.stream().mapToInt(pin -> 1 << pin).reduce(0, (one, other) -> one | other);
    }

    private static boolean isGiven(Waveform wave) {
        return IntStream.range(0, wave.steps())
                .anyMatch(step -> !wave.state(step).isOpen());
    }

    private Map<Integer, SerialReading> readings(
            List<Waveform> waves, SerialFormat wanted, Scenario scenario, Design design) {
        OptionalDouble rate = baud == null ? OptionalDouble.empty() : OptionalDouble.of(baud.doubleValue());
        Map<Integer, SerialReading> readings = new TreeMap<>();
        for (Waveform wave : waves) {
            if (serials.contains(wave.pin())) {
                SerialReading.of(wave, scenario, wanted, rate, design.clock().chipHertz())
                        .ifPresent(reading -> readings.put(wave.pin(), reading));
            }
        }
        return readings;
    }

    private Reading reading(int pin, @Nullable SerialReading reading, long clock) {
        List<String> lines = new ArrayList<>(
                reading == null
                        ? List.of("no byte can be read off it; --baud N says how fast it is")
                        : SerialText.lines(reading, clock, surroundings.glyphs()));
        lines.set(0, "serial line: " + lines.get(0));
        return new Reading(pin, lines);
    }
}
