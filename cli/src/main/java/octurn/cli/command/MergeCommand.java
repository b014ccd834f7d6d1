package octurn.cli.command;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.Callable;
import octurn.cli.json.SweepFile;
import octurn.cli.process.Exit;
import octurn.cli.process.Failure;
import octurn.cli.process.Surroundings;
import octurn.sweep.SweepRow;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** {@code octurn merge}: joins the shares of a sweep. */
@Command(
        name = "merge",
        customSynopsis = "octurn merge FILE.. [--csv FILE] [--json FILE] [--plot FILE]",
        description = "Joins the shares of a sweep that were written with --share and --json; the result is that of the"
                + " sweep in one piece, to the byte.",
        exitCodeList = {"0:done", "1:an internal error", "2:bad usage, files of different sweeps, or points missing"})
final class MergeCommand implements Callable<Integer> {

    private static final int MOST_NAMED = 5;

    private final Surroundings surroundings;

    @Parameters(paramLabel = "FILE", arity = "1..*", description = "JSON files of octurn sweep, in any order")
    private List<String> files = List.of();

    @Mixin
    private final SweepOutputs outputs = new SweepOutputs();

    MergeCommand(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    @Override
    public Integer call() throws IOException {
        try (SweepOutputs.Open open = outputs.open(surroundings, files)) {
            open.write(merged());
        }
        return Exit.OK;
    }

    private SweepFile merged() {
        SweepFile first = SweepCommand.read(files.get(0));
        Map<Integer, SweepRow> rows = new TreeMap<>();
        for (String file : files) {
            SweepFile piece = SweepCommand.read(file);
            if (!piece.fingerprint().equals(first.fingerprint())) {
                throw new Failure("%s: is of another sweep than %s (program, design, scenario or values differ)"
                        .formatted(file, files.get(0)));
            }
            for (SweepRow row : piece.rows()) {
                SweepRow other = rows.putIfAbsent(row.point(), row);
                if (other != null && !other.equals(row)) {
                    throw new Failure(
                            "%s: has another result for point %d than a file before it".formatted(file, row.point()));
                }
            }
        }
        requireAll(first.points(), rows);
        return first.with(List.copyOf(rows.values()));
    }

    private static void requireAll(int points, Map<Integer, SweepRow> rows) {
        if (rows.size() == points) {
            return;
        }
        List<String> missing = new ArrayList<>();
        for (int point = 0; point < points && missing.size() < MOST_NAMED; point++) {
            if (!rows.containsKey(point)) {
                missing.add(Integer.toString(point));
            }
        }
        int more = points - rows.size() - missing.size();
        throw new Failure("%,d of %,d points are missing (%s%s): merge all shares at once"
                .formatted(points - rows.size(), points, String.join(", ", missing), more > 0 ? " and more" : ""));
    }
}
