package octurn.cli.command;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import octurn.cli.process.Exit;
import octurn.cli.process.Failure;
import octurn.cli.process.OutputFile;
import octurn.cli.process.Surroundings;
import octurn.design.Design;
import octurn.workload.Think;
import octurn.workload.Workload;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** {@code octurn workload}: writes a program whose cores access memory with a given think time. */
@Command(
        name = "workload",
        customSynopsis = {
            "octurn workload --fixed N | --uniform A..B | --geometric N",
            "                       [--cores N] [--writes PERCENT] [--accesses N] [--seed N]",
            "                       [--design FILE] [--output FILE]"
        },
        description = "Writes a program whose cores think for a while, access shared memory, and so on, so that theory"
                + " and run can be compared. A think runs from the end of a core's slot to its next request; random"
                + " numbers are made on the chip.",
        exitCodeList = {"0:done", "1:an internal error", "2:bad usage or a file with errors"})
final class WorkloadCommand implements Callable<Integer> {

    private static final Pattern RANGE = Pattern.compile("([0-9]{1,10})\\.\\.([0-9]{1,10})");
    private static final Pattern NUMBER = Pattern.compile("[0-9]{1,10}");

    private final Surroundings surroundings;

    @Option(names = "--fixed", paramLabel = "N", description = "each think takes N cycles")
    private @Nullable String fixed;

    @Option(
            names = "--uniform",
            paramLabel = "A..B",
            description = "a think takes A to B cycles, each as often as the others")
    private @Nullable String uniform;

    @Option(
            names = "--geometric",
            paramLabel = "N",
            description =
                    "a think takes N cycles on average; after each step of the loop it is over with the same chance")
    private @Nullable String geometric;

    @Option(names = "--cores", paramLabel = "N", description = "so many cores take part; without it all of the design")
    private @Nullable Integer cores;

    @Option(
            names = "--writes",
            paramLabel = "PERCENT",
            defaultValue = "0",
            description = "of 100 accesses so many write; without it none")
    private int writes;

    @Option(
            names = "--accesses",
            paramLabel = "N",
            defaultValue = "1000",
            description = "accesses of each core; without it 1000")
    private long accesses;

    @Option(
            names = "--seed",
            paramLabel = "N",
            defaultValue = "1",
            description = "of the random numbers, 0..134217727; without it 1")
    private long seed;

    @Option(
            names = "--design",
            paramLabel = "FILE",
            description =
                    "the design whose costs the thinks are reckoned for, *.design.json or a name; without it eight"
                            + " cores in plain rotation")
    private @Nullable String designFile;

    @Option(
            names = {"-o", "--output"},
            paramLabel = "FILE",
            defaultValue = "-",
            description = "the program file to write; without it standard output")
    @SuppressWarnings("NullAway.Init")
    private String output;

    WorkloadCommand(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    @Override
    public Integer call() throws IOException {
        Sources sources = new Sources(surroundings);
        Design design = sources.design(designFile);
        sources.tell();
        if (design == null) {
            return Exit.USAGE;
        }
        String text;
        try {
            text = new Workload(design, cores == null ? design.cores() : cores, think(), writes, accesses, seed).text();
        } catch (IllegalArgumentException e) {
            throw new Failure(String.valueOf(e.getMessage()));
        }
        String[] read = RunInputs.given(designFile).toArray(String[]::new);
        try (OutputFile file = OutputFile.open(output, surroundings, List.of(read))) {
            file.write(out -> out.write(text.getBytes(StandardCharsets.UTF_8)));
        }
        return Exit.OK;
    }

    private Think think() {
        int given = (fixed == null ? 0 : 1) + (uniform == null ? 0 : 1) + (geometric == null ? 0 : 1);
        if (given != 1) {
            throw new Failure("one of --fixed N, --uniform A..B and --geometric N says how long the cores think");
        }
        if (fixed != null) {
            return new Think.Fixed(number("--fixed", fixed));
        }
        if (geometric != null) {
            return new Think.Geometric(number("--geometric", geometric));
        }
        Matcher range = RANGE.matcher(String.valueOf(uniform));
        if (!range.matches()) {
            throw new Failure("--uniform: %s is no range; right would be 30..53".formatted(uniform));
        }
        return new Think.Uniform(Long.parseLong(range.group(1)), Long.parseLong(range.group(2)));
    }

    private static long number(String option, String text) {
        if (!NUMBER.matcher(text).matches()) {
            throw new Failure("%s: %s is no whole number of cycles".formatted(option, text));
        }
        return Long.parseLong(text);
    }
}
