package octurn.cli.command;

import java.io.IOException;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import octurn.cli.json.ClockJson;
import octurn.cli.process.Exit;
import octurn.cli.process.Failure;
import octurn.cli.process.OutputFile;
import octurn.cli.process.Surroundings;
import octurn.cli.view.ClockView;
import octurn.design.Clock;
import octurn.design.Design;
import octurn.design.Field;
import octurn.signal.BitTime;
import octurn.signal.SerialFormat;
import octurn.signal.WholeCycles;
import octurn.signal.Wish;
import octurn.signal.Wish.Kind;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** {@code octurn clock}: from a clock to cycle times, and from wanted rates and times to cycles. */
@Command(
        name = "clock",
        customSynopsis = {
            "octurn clock [--design FILE | [--source HERTZ] [--multiplier N]]",
            "             [--baud N].. [--format 8N1] [--hertz N].. [--pulse TIME]..",
            "             [--json FILE]"
        },
        description =
                "From a clock to its cycle time, and from wanted baud rates, frequencies and pulse widths to cycles"
                        + " and the error in percent. Without a wish: the usual baud rates.",
        exitCodeList = {"0:done", "1:an internal error", "2:bad usage or a file with errors"})
final class ClockCommand implements Callable<Integer> {

    private static final Pattern RATE = Pattern.compile("([0-9]{1,15}(?:\\.[0-9]{1,12})?)(hz|khz|mhz|ghz|)");
    private static final Pattern TIME = Pattern.compile("([0-9]{1,15}(?:\\.[0-9]{1,12})?)(ns|us|\u00b5s|ms|s)");
    /** Slower than this many cycles a bit, a rate is no use for a serial line that a program makes. */
    private static final int LEAST_CYCLES_A_BIT = 8;

    private final Surroundings surroundings;

    @Option(
            names = "--design",
            paramLabel = "FILE",
            description = "the clock of this design, *.design.json or a name; without it 6 MHz times 8")
    private @Nullable String designFile;

    @Option(
            names = "--source",
            paramLabel = "HERTZ",
            description = "the frequency of the crystal, as 5000000 or 5MHz; the multiplier is then 1 if not given")
    private @Nullable String source;

    @Option(
            names = "--multiplier",
            paramLabel = "N",
            description = "by which the chip multiplies the source's frequency")
    private @Nullable Integer multiplier;

    @Option(names = "--baud", paramLabel = "N", description = "bits a second of a serial line; may be given again")
    private List<String> bauds = List.of();

    @Option(
            names = "--format",
            paramLabel = "8N1",
            description = "of the serial line: data bits 5..9, parity N, O or E, stop bits 1 or 2; without it 8N1")
    private @Nullable String format;

    @Option(names = "--hertz", paramLabel = "N", description = "a frequency, as 440, 1.5kHz, 2MHz; may be given again")
    private List<String> frequencies = List.of();

    @Option(
            names = "--pulse",
            paramLabel = "TIME",
            description = "the width of a pulse, as 10us, 1.5ms; may be given again")
    private List<String> pulses = List.of();

    @Mixin
    private final JsonOption json = new JsonOption();

    ClockCommand(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    @Override
    public Integer call() throws IOException {
        Sources sources = new Sources(surroundings);
        if (designFile != null && (source != null || multiplier != null)) {
            throw new Failure("--design has a clock of its own: leave out --source and --multiplier");
        }
        Design design = sources.design(designFile);
        sources.tell();
        if (design == null) {
            return Exit.USAGE;
        }
        Clock clock = clock(design.clock());
        long hertz = clock.chipHertz();
        SerialFormat serial = SerialOptions.format(format);
        List<Wish> wishes = new ArrayList<>();
        for (String baud : bauds) {
            wishes.add(wish(Kind.BAUD, "--baud", baud, baud + " baud", rate("--baud", baud), hertz));
        }
        for (String frequency : frequencies) {
            BigDecimal wanted = rate("--hertz", frequency);
            boolean bare = Character.isDigit(frequency.charAt(frequency.length() - 1));
            wishes.add(wish(Kind.HERTZ, "--hertz", frequency, bare ? frequency + " Hz" : frequency, wanted, hertz));
        }
        for (String pulse : pulses) {
            wishes.add(wish(Kind.PULSE, "--pulse", pulse, pulse, time(pulse), hertz));
        }
        if (wishes.isEmpty()) {
            for (int baud : BitTime.usualBauds()) {
                if ((long) baud * LEAST_CYCLES_A_BIT <= hertz) {
                    String text = Integer.toString(baud);
                    wishes.add(wish(Kind.BAUD, "--baud", text, text + " baud", BigDecimal.valueOf(baud), hertz));
                }
            }
        }
        try (OutputFile file = json.open(surroundings, designFile)) {
            if (file != null) {
                file.write(out -> ClockJson.write(clock, serial, wishes, out));
            }
            if (file == null || !file.isStandardOutput()) {
                surroundings.print(
                        ClockView.lines(clock, serial, wishes, surroundings.glyphs(), surroundings.columns()));
            }
        }
        return Exit.OK;
    }

    private Clock clock(Clock standard) {
        if (source == null && multiplier == null) {
            return standard;
        }
        long hertz = standard.hertz();
        if (source != null) {
            BigDecimal wanted = rate("--source", source);
            if (wanted.stripTrailingZeros().scale() > 0
                    || wanted.signum() <= 0
                    || wanted.compareTo(BigDecimal.valueOf(Field.CLOCK_HERTZ.max())) > 0) {
                throw new Failure(
                        "--source: %s is not a whole number of Hz in 1..%d".formatted(source, Field.CLOCK_HERTZ.max()));
            }
            hertz = wanted.longValueExact();
        }
        int times = multiplier != null ? multiplier : 1;
        if (times < 1 || times > Field.CLOCK_MULTIPLIER.max()) {
            throw new Failure("--multiplier: %d is not in 1..%d".formatted(times, Field.CLOCK_MULTIPLIER.max()));
        }
        return new Clock(standard.source(), (int) hertz, times, standard.tolerancePpm());
    }

    private static Wish wish(Kind kind, String option, String given, String text, BigDecimal wanted, long hertz) {
        if (wanted.signum() <= 0) {
            throw new Failure("%s: %s is not above 0".formatted(option, given));
        }
        try {
            WholeCycles cycles =
                    kind == Kind.PULSE ? WholeCycles.ofTime(hertz, wanted) : WholeCycles.ofRate(hertz, wanted);
            return new Wish(kind, text, cycles);
        } catch (IllegalArgumentException e) {
            throw new Failure("%s: %s takes %s".formatted(option, given, e.getMessage()));
        }
    }

    private static BigDecimal rate(String option, String text) {
        Matcher rate = RATE.matcher(text.toLowerCase(Locale.ROOT));
        if (!rate.matches()) {
            throw new Failure("%s: %s is no rate; right would be 9600, 440.5, 1.5kHz, 6MHz".formatted(option, text));
        }
        BigDecimal number = new BigDecimal(rate.group(1));
        return switch (rate.group(2)) {
            case "khz" -> number.movePointRight(3);
            case "mhz" -> number.movePointRight(6);
            case "ghz" -> number.movePointRight(9);
            default -> number;
        };
    }

    /** In seconds. */
    private static BigDecimal time(String text) {
        Matcher time = TIME.matcher(text);
        if (!time.matches()) {
            throw new Failure("--pulse: %s is no time; right would be 500ns, 10us, 1.5ms, 2s".formatted(text));
        }
        BigDecimal number = new BigDecimal(time.group(1));
        return switch (time.group(2)) {
            case "ns" -> number.movePointLeft(9);
            case "us", "\u00b5s" -> number.movePointLeft(6);
            case "ms" -> number.movePointLeft(3);
            default -> number;
        };
    }
}
