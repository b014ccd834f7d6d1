package octurn.benchmarks;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Stream;
import octurn.benchmarks.Figure.Unit;
import org.openjdk.jmh.results.Result;
import org.openjdk.jmh.results.RunResult;
import org.openjdk.jmh.runner.Runner;
import org.openjdk.jmh.runner.RunnerException;
import org.openjdk.jmh.runner.options.ChainedOptionsBuilder;
import org.openjdk.jmh.runner.options.OptionsBuilder;
import org.openjdk.jmh.runner.options.TimeValue;
import org.openjdk.jmh.runner.options.VerboseMode;

/**
 * Measures all figures and writes them as a table in Markdown, each beside what it should reach.
 *
 * <pre>{@code
 * java -jar benchmarks/target/octurn-benchmarks.jar             all of them, about a quarter of an hour
 * java -jar benchmarks/target/octurn-benchmarks.jar --short     the most telling ones, less exactly, under two minutes
 * }</pre>
 *
 * <p>The table goes to standard output, or as a second argument to a file; progress to standard error.
 */
public final class FigureTable {

    private FigureTable() {}

    /** Runs it; what it takes stands above. */
    public static void main(String[] arguments) throws RunnerException, IOException {
        List<String> rest = new ArrayList<>(List.of(arguments));
        boolean inShort = rest.remove("--short");
        if (rest.size() > 1 || rest.stream().anyMatch(argument -> argument.startsWith("-"))) {
            System.err.println("usage: java -jar octurn-benchmarks.jar [--short] [FILE]");
            System.exit(2);
        }
        Map<String, Double> figures = measure(inShort);
        String table = table(figures, machine());
        if (rest.isEmpty()) {
            new PrintStream(System.out, true, StandardCharsets.UTF_8).print(table);
        } else {
            Files.writeString(Path.of(rest.get(0)), table);
        }
    }

    private static Map<String, Double> measure(boolean inShort) throws RunnerException {
        List<Figure> wanted = Figure.ALL.stream()
                .filter(figure -> !inShort || figure.inShort())
                .toList();
        Map<String, Double> figures = new LinkedHashMap<>();
        for (Figure figure : wanted) {
            System.err.printf(Locale.ROOT, "%d of %d: %s%n", figures.size() + 1, wanted.size(), figure.name());
            figures.put(figure.name(), measure(figure, inShort));
        }
        return figures;
    }

    private static double measure(Figure figure, boolean inShort) throws RunnerException {
        ChainedOptionsBuilder options = new OptionsBuilder()
                .include("^" + figure.benchmark().getName() + "." + figure.method() + "$")
                .verbosity(VerboseMode.SILENT)
                .shouldFailOnError(true);
        figure.parameters().forEach(options::param);
        if (inShort) {
            options.forks(1)
                    .warmupIterations(2)
                    .warmupTime(TimeValue.seconds(1))
                    .measurementIterations(2)
                    .measurementTime(TimeValue.seconds(1));
        }
        RunResult result = new Runner(options.build()).runSingle();
        Result<?> primary = result.getPrimaryResult();
        return figure.unit() == Unit.WORST_MILLISECONDS
                ? primary.getStatistics().getMax()
                : primary.getScore();
    }

    /** The table of these figures, by name. */
    static String table(Map<String, Double> figures, String machine) {
        StringBuilder text = new StringBuilder("| what | measured | aim | reached |\n|---|--:|--:|---|\n");
        for (Figure figure : Figure.ALL) {
            Double measured = figures.get(figure.name());
            if (measured != null) {
                double limit = figure.aim().in(figures);
                text.append("| %s | %s %s | %s | %s |\n"
                        .formatted(
                                figure.name(),
                                number(measured),
                                figure.unit().text(),
                                limit == 0 ? "" : number(limit),
                                limit == 0 ? "" : figure.unit().reaches(measured, limit) ? "yes" : "no"));
            }
        }
        return text.append('\n').append(machine).append('\n').toString();
    }

    /** Three figures that count, as people write them. */
    private static String number(double value) {
        int digits = value >= 100 ? 0 : value >= 10 ? 1 : value >= 1 ? 2 : 4;
        return String.format(Locale.ROOT, "%,." + digits + "f", value);
    }

    private static String machine() throws IOException {
        return "Measured on %s, %d processors, Java %s (%s)."
                .formatted(
                        processor(),
                        Runtime.getRuntime().availableProcessors(),
                        Runtime.version(),
                        System.getProperty("java.vm.name"));
    }

    private static String processor() throws IOException {
        Path file = Path.of("/proc/cpuinfo");
        if (Files.isReadable(file)) {
            try (Stream<String> lines = Files.lines(file)) {
                return lines.filter(line -> line.startsWith("model name"))
                        .findFirst()
                        .map(line -> line.substring(line.indexOf(':') + 1).strip())
                        .orElse(System.getProperty("os.arch"));
            }
        }
        return System.getProperty("os.arch");
    }
}
