package octurn.cli.command;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import octurn.asm.Assembly;
import octurn.asm.Program;
import octurn.cli.json.SweepFile;
import octurn.cli.json.SweepJson;
import octurn.cli.json.SweepReader;
import octurn.cli.process.Exit;
import octurn.cli.process.Failure;
import octurn.cli.process.InputFiles;
import octurn.cli.process.OutputFile;
import octurn.cli.process.Surroundings;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.diag.Diagnostic;
import octurn.json.DesignWriter;
import octurn.sweep.Axis;
import octurn.sweep.Finding;
import octurn.sweep.Grid;
import octurn.sweep.SweepRow;
import octurn.sweep.SweepTask;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code octurn sweep}: runs a program under every combination of given values. */
@Command(
        name = "sweep",
        customSynopsis = {
            "octurn sweep PROGRAM --vary NAME=VALUES.. [--set NAME=VALUE]..",
            "                    [--design FILE] [--scenario FILE] [--cycles N]",
            "                    [--csv FILE] [--json FILE] [--plot FILE]",
            "                    [--share I/N] [--state FILE] [--jobs N]"
        },
        description = "Runs a program under every combination of values of design fields and program constants, on all"
                + " processors, and says which takes the least time.",
        footer = {
            "VALUES: 1..8, 0..64+8 (steps), 1..32*2 (doubling), 2,4,8, or several of these",
            "with commas between; words for admission.policy and clock.source; numbers with",
            "colons, as 0:1:0:2, for admission.order and admission.weights.",
            "NAME: a field of the design as its file has it (slotCycles, cost.plain), or a",
            "constant of the program.",
            "",
            "A point that cannot run, or does not come to its end, is a row that says so."
        },
        exitCodeList = {"0:done", "1:an internal error", "2:bad usage, or a file with errors"})
final class SweepCommand implements Callable<Integer> {

    private static final Pattern SHARE = Pattern.compile("([0-9]{1,7})/([0-9]{1,7})");
    private static final int MOST_JOBS = 1024;
    private static final long SAVE_AFTER = TimeUnit.SECONDS.toNanos(10);

    private final Surroundings surroundings;

    @Parameters(paramLabel = "PROGRAM", description = "the program file, *.turn")
    @SuppressWarnings("NullAway.Init")
    private String programFile;

    @Option(
            names = "--vary",
            required = true,
            paramLabel = "NAME=VALUES",
            description = "what is varied, and over what; may be given again, the last varies the fastest")
    private List<String> vary = List.of();

    @Option(
            names = "--design",
            paramLabel = "FILE",
            description = "the design to start from, *.design.json or a name; without it eight cores in plain rotation")
    private @Nullable String designFile;

    @Mixin
    private final RunInputs inputs = new RunInputs();

    @Mixin
    private final SweepOutputs outputs = new SweepOutputs();

    @Option(
            names = "--share",
            paramLabel = "I/N",
            description = "do the I-th of N shares of the points alone; octurn merge joins the shares' JSON files")
    private @Nullable String share;

    @Option(
            names = "--state",
            paramLabel = "FILE",
            description = "keep what is done in this file, so that the same command goes on there after it was broken"
                    + " off; it is deleted at the end")
    private @Nullable String stateFile;

    @Option(
            names = "--jobs",
            paramLabel = "N",
            description = "run so many points at a time; without it one for each processor")
    private @Nullable Integer jobs;

    SweepCommand(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    @Override
    public Integer call() throws IOException {
        Sources sources = new Sources(surroundings);
        Design design = sources.design(designFile);
        Scenario scenario = inputs.scenario(sources);
        SweepTask task = design == null || scenario == null ? null : task(sources, design, scenario);
        sources.tell();
        if (task == null || sources.wrong()) {
            return Exit.USAGE;
        }
        List<Integer> points = points(task.grid());
        SweepFile empty = empty(task);
        List<String> read = RunInputs.given(programFile, designFile, inputs.scenarioFile());
        try (SweepOutputs.Open open = outputs.open(surroundings, read)) {
            SweepRunner runner = new SweepRunner(task, points, known(empty, points));
            run(runner, empty, points.size());
            open.write(empty.with(runner.rows()));
            forget();
        }
        return Exit.OK;
    }

    // ---- what is to be done

    private @Nullable SweepTask task(Sources sources, Design design, Scenario scenario) {
        byte[] text = InputFiles.read(programFile);
        SweepTask task;
        try {
            Grid grid = new Grid(design, inputs.settings(), RunInputs.axes("--vary", vary));
            task = new SweepTask(programFile, text, grid, scenario, inputs.limit(scenario));
        } catch (IllegalArgumentException e) {
            throw new Failure("--vary: " + e.getMessage());
        }
        Sources.checkConstants(programFile, text, design, task.grid().constantNames());
        // A program that is wrong at both ends of the grid is taken to be wrong all over.
        List<Diagnostic> first = errors(task, 0);
        if (!first.isEmpty() && !errors(task, task.grid().size() - 1).isEmpty() && own(task) == null) {
            sources.refuse(first);
            return null;
        }
        return task;
    }

    private static List<Diagnostic> errors(SweepTask task, int point) {
        try {
            return task.assemble(point) instanceof Assembly.Rejected rejected ? rejected.errors() : List.of();
        } catch (IllegalArgumentException e) {
            // Values that do not go together are told in the point's row.
            return List.of();
        }
    }

    /** The program under the design as it is, or null if it cannot be. */
    private static @Nullable Program own(SweepTask task) {
        Grid grid = task.grid();
        try {
            Grid alone = new Grid(grid.base(), grid.set(), List.of());
            Assembly assembly =
                    new SweepTask(task.file(), task.text(), alone, task.scenario(), task.limit()).assemble(0);
            return assembly instanceof Assembly.Assembled assembled ? assembled.program() : null;
        } catch (IllegalArgumentException e) {
            return null;
        }
    }

    private List<Integer> points(Grid grid) {
        int part = 1;
        int of = 1;
        if (share != null) {
            Matcher matcher = SHARE.matcher(share);
            if (matcher.matches()) {
                part = Integer.parseInt(matcher.group(1));
                of = Integer.parseInt(matcher.group(2));
            }
            if (!matcher.matches() || part < 1 || part > of) {
                throw new Failure(
                        "--share: %s is no share; right would be 3/8 for the third of eight".formatted(share));
            }
        }
        // Every N-th point, so that the shares take about as long as each other.
        int first = part - 1;
        int step = of;
        return IntStream.range(0, grid.size())
                .filter(point -> point % step == first)
                .boxed()
                .toList();
    }

    private SweepFile empty(SweepTask task) throws IOException {
        Program own = own(task);
        String program =
                programFile.substring(Math.max(programFile.lastIndexOf('/'), programFile.lastIndexOf('\\')) + 1);
        return new SweepFile(
                program,
                fingerprint(task),
                task.grid().base(),
                task.limit(),
                task.grid().set(),
                task.grid().axes(),
                Finding.ownValues(task.grid(), own),
                task.grid().size(),
                "",
                List.of());
    }

    /** Two sweeps with the same fingerprint have the same rows. */
    private static String fingerprint(SweepTask task) throws IOException {
        try {
            MessageDigest digest = MessageDigest.getInstance("SHA-256");
            digest.update(task.text());
            ByteArrayOutputStream rest = new ByteArrayOutputStream();
            DesignWriter.write(task.grid().base(), rest);
            List<Axis> set = task.grid().set();
            String axes = "%s %s %d %s".formatted(set, task.grid().axes(), task.limit(), task.scenario());
            rest.write(axes.getBytes(StandardCharsets.UTF_8));
            digest.update(rest.toByteArray());
            return HexFormat.of().formatHex(digest.digest());
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException(e);
        }
    }

    // ---- what was done before

    private List<SweepRow> known(SweepFile empty, List<Integer> points) {
        if (stateFile == null) {
            return List.of();
        }
        Path path = InputFiles.path(stateFile);
        if (!Files.exists(path)) {
            // A place that cannot be written to is to be found out now.
            OutputFile.open(stateFile, surroundings, List.of()).close();
            return List.of();
        }
        SweepFile before = read(stateFile);
        if (!before.fingerprint().equals(empty.fingerprint())) {
            throw new Failure("%s: is of another sweep (program, design, scenario or values differ); take another file"
                    .formatted(stateFile));
        }
        List<SweepRow> rows = before.rows();
        if (!points.containsAll(rows.stream().map(SweepRow::point).toList())) {
            throw new Failure("%s: is of another share of this sweep; take another file".formatted(stateFile));
        }
        return rows;
    }

    /** The sweep in a file. */
    static SweepFile read(String file) {
        Path path = InputFiles.path(file);
        if (Files.isDirectory(path)) {
            throw new Failure("%s: is a folder, not a file".formatted(file));
        }
        try (InputStream in = Files.newInputStream(path)) {
            return SweepReader.read(in);
        } catch (SweepReader.NoSweep e) {
            throw new Failure("%s: %s".formatted(file, e.reason()));
        } catch (IOException e) {
            throw new Failure("%s: %s".formatted(file, InputFiles.reason(e)));
        }
    }

    // ---- doing it

    private void run(SweepRunner runner, SweepFile empty, int all) {
        int threads = jobs == null ? Runtime.getRuntime().availableProcessors() : jobs;
        if (threads < 1 || threads > MOST_JOBS) {
            throw new Failure("--jobs: %d is not in 1..%d".formatted(threads, MOST_JOBS));
        }
        CountProgress progress = new CountProgress(surroundings, "points", runner.done(), all);
        Runnable brokenOff = () -> brokenOff(progress, runner, empty, all);
        surroundings.cleanups().add(brokenOff);
        Saving saving = new Saving(runner, empty);
        runner.run(threads, () -> {
            progress.tell(runner.done());
            saving.look();
        });
        surroundings.cleanups().remove(brokenOff);
        progress.erase();
    }

    private void brokenOff(CountProgress progress, SweepRunner runner, SweepFile empty, int all) {
        progress.erase();
        String said;
        if (stateFile == null) {
            said = "octurn: broken off; with --state FILE what is done would be kept\n";
        } else {
            save(runner, empty);
            said = "octurn: broken off with %,d of %,d points done; the same command goes on there\n"
                    .formatted(runner.done(), all);
        }
        surroundings.complain(said);
    }

    /** Saves every now and then. */
    private final class Saving {
        private final SweepRunner runner;
        private final SweepFile empty;
        private long next;

        private Saving(SweepRunner runner, SweepFile empty) {
            this.runner = runner;
            this.empty = empty;
            this.next = surroundings.nanoTime().getAsLong() + SAVE_AFTER;
        }

        void look() {
            long now = surroundings.nanoTime().getAsLong();
            if (stateFile != null && now - next >= 0) {
                save(runner, empty);
                next = now + SAVE_AFTER;
            }
        }
    }

    private void save(SweepRunner runner, SweepFile empty) {
        if (stateFile != null) {
            SweepFile sofar = empty.with(runner.rows());
            try (OutputFile file = OutputFile.open(stateFile, surroundings, List.of())) {
                file.write(out -> SweepJson.write(sofar, out));
            }
        }
    }

    private void forget() throws IOException {
        if (stateFile != null) {
            Files.deleteIfExists(InputFiles.path(stateFile));
        }
    }
}
