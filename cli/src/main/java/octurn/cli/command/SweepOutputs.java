package octurn.cli.command;

import java.io.IOException;
import java.util.List;
import octurn.cli.json.SweepFile;
import octurn.cli.json.SweepJson;
import octurn.cli.plot.Plots;
import octurn.cli.process.Failure;
import octurn.cli.process.OutputFile;
import octurn.cli.process.Surroundings;
import octurn.cli.view.SweepView;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** Where a sweep goes: the terminal, a table, JSON, a picture. */
final class SweepOutputs {

    @Option(
            names = "--csv",
            paramLabel = "FILE",
            description = "write a row for each point as comma-separated values; - for standard output")
    private @Nullable String csvFile;

    @Mixin
    private final JsonOption json = new JsonOption();

    @Mixin
    private final PlotOption plot = new PlotOption();

    /** Files that are opened before the work begins, so that a place that cannot be written to is found out at once. */
    final class Open implements AutoCloseable {

        private final Surroundings surroundings;
        private final @Nullable OutputFile table;
        private final @Nullable OutputFile report;
        private final @Nullable OutputFile picture;

        private Open(Surroundings surroundings, String[] inputs) {
            this.surroundings = surroundings;
            this.table = csvFile == null ? null : OutputFile.open(csvFile, surroundings, List.of(inputs));
            this.report = json.open(surroundings, inputs);
            this.picture = plot.open(surroundings, inputs);
            if (table != null && report != null && table.isStandardOutput() && report.isStandardOutput()) {
                throw new Failure("--csv and --json cannot both go to standard output");
            }
        }

        /** Writes all. */
        void write(SweepFile sweep) throws IOException {
            if (report != null) {
                report.write(out -> SweepJson.write(sweep, out));
            }
            if (table != null) {
                table.write(out -> SweepJson.writeCsv(sweep, out));
            }
            if (picture != null) {
                plot.write(picture, () -> Plots.sweep(sweep.program(), sweep.grid(), sweep.rows(), sweep.finding()));
            }
            boolean taken =
                    (table != null && table.isStandardOutput()) || (report != null && report.isStandardOutput());
            if (!taken) {
                surroundings.print(SweepView.lines(
                        sweep.program(),
                        sweep.grid(),
                        sweep.rows(),
                        sweep.finding(),
                        surroundings.glyphs(),
                        surroundings.columns()));
            }
        }

        @Override
        public void close() {
            for (OutputFile file : new @Nullable OutputFile[] {table, report, picture}) {
                if (file != null) {
                    file.close();
                }
            }
        }
    }

    /** Opens the files; {@code inputs} are those that are read. */
    Open open(Surroundings surroundings, List<String> inputs) {
        return new Open(surroundings, inputs.toArray(String[]::new));
    }
}
