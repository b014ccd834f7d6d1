package octurn.cli.json;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import octurn.cli.export.Csv;
import octurn.compare.RunFigures;
import octurn.json.DesignWriter;
import octurn.json.JsonForm;
import octurn.sweep.Axis;
import octurn.sweep.Grid;
import octurn.sweep.SweepRow;
import tools.jackson.core.JsonGenerator;

/** Sweeps as JSON, which {@link SweepReader} reads back to the last digit. */
public final class SweepJson {

    private SweepJson() {}

    /**
     * Writes a sweep.
     *
     * @throws IOException if the stream does
     */
    public static void write(SweepFile sweep, OutputStream out) throws IOException {
        JsonForm.write(out, json -> {
            json.writeStartObject();
            json.writeStringProperty("program", sweep.program());
            json.writeStringProperty("fingerprint", sweep.fingerprint());
            json.writeName("design");
            DesignWriter.write(sweep.design(), json);
            json.writeNumberProperty("limit", sweep.limit());
            axes("set", sweep.set(), json);
            axes("vary", sweep.vary(), json);
            json.writeObjectPropertyStart("own");
            for (int i = 0; i < sweep.vary().size(); i++) {
                json.writeName(sweep.vary().get(i).name());
                if (sweep.own().get(i).isEmpty()) {
                    json.writeNull();
                } else {
                    value(sweep.vary().get(i), sweep.own().get(i), json);
                }
            }
            json.writeEndObject();
            json.writeNumberProperty("points", sweep.points());
            json.writeStringProperty("finding", sweep.finding());
            Grid grid = sweep.grid();
            json.writeArrayPropertyStart("rows");
            for (SweepRow row : sweep.rows()) {
                row(row, grid, json);
            }
            json.writeEndArray();
            json.writeEndObject();
        });
    }

    private static void axes(String name, List<Axis> axes, JsonGenerator json) {
        json.writeObjectPropertyStart(name);
        for (Axis axis : axes) {
            json.writeArrayPropertyStart(axis.name());
            axis.values().forEach(value -> value(axis, value, json));
            json.writeEndArray();
        }
        json.writeEndObject();
    }

    private static void value(Axis axis, String value, JsonGenerator json) {
        if (axis.kind().isNumber()) {
            json.writeNumber(Long.parseLong(value));
        } else {
            json.writeString(value);
        }
    }

    private static void row(SweepRow row, Grid grid, JsonGenerator json) {
        json.writeStartObject();
        json.writeNumberProperty("point", row.point());
        json.writeObjectPropertyStart("values");
        for (int i = 0; i < grid.axes().size(); i++) {
            json.writeName(grid.axes().get(i).name());
            value(grid.axes().get(i), row.values().get(i), json);
        }
        json.writeEndObject();
        json.writeStringProperty("status", row.status().text());
        if (row.figures().isPresent()) {
            CompareJson.figures(row.figures().get(), json);
            json.writeStringProperty("result", checksum(row));
        }
        if (!row.message().isEmpty()) {
            json.writeStringProperty("message", row.message());
        }
        json.writeEndObject();
    }

    private static String checksum(SweepRow row) {
        return "%08x".formatted(row.sharedChecksum());
    }

    /**
     * Writes the rows as comma-separated values, a line of names first.
     *
     * @throws IOException if the stream does
     */
    public static void writeCsv(SweepFile sweep, OutputStream out) throws IOException {
        write(heads(sweep), out);
        for (SweepRow row : sweep.rows()) {
            write(cells(sweep, row), out);
        }
    }

    private static void write(Csv csv, OutputStream out) throws IOException {
        out.write(csv.row().getBytes(StandardCharsets.UTF_8));
    }

    private static Csv heads(SweepFile sweep) {
        Csv csv = new Csv().text("point");
        sweep.vary().forEach(axis -> csv.text(axis.name()));
        for (String head : List.of(
                "status",
                "cycles",
                "microseconds",
                "instructions",
                "accesses",
                "waitTotal",
                "waitMean",
                "waitMax",
                "busyCycles",
                "busyShare",
                "turnsOffered",
                "turnsUsed",
                "accessFairness",
                "waitFairness",
                "clashCycles",
                "result",
                "message")) {
            csv.text(head);
        }
        return csv;
    }

    private static Csv cells(SweepFile sweep, SweepRow row) {
        Csv csv = new Csv().number(row.point());
        for (int i = 0; i < sweep.vary().size(); i++) {
            String value = row.values().get(i);
            if (sweep.vary().get(i).kind().isNumber()) {
                csv.number(value);
            } else {
                csv.text(value);
            }
        }
        csv.text(row.status().text());
        if (row.figures().isPresent()) {
            figures(row.figures().get(), csv);
            csv.text(checksum(row));
        } else {
            for (int i = 0; i < 15; i++) {
                csv.nothing();
            }
        }
        return csv.text(row.message());
    }

    private static void figures(RunFigures figures, Csv csv) {
        csv.number(figures.cycles());
        number(figures.seconds() * 1e6, csv);
        csv.number(figures.instructions());
        csv.number(figures.accesses());
        csv.number(figures.waitTotal());
        number(figures.waitMean(), csv);
        csv.number(figures.waitMax());
        csv.number(figures.busyCycles());
        number(figures.busyShare(), csv);
        if (figures.turnsOffered() < 0) {
            csv.nothing().nothing();
        } else {
            csv.number(figures.turnsOffered()).number(figures.turnsUsed());
        }
        number(figures.accessFairness(), csv);
        number(figures.waitFairness(), csv);
        csv.number(figures.clashCycles());
    }

    private static void number(double number, Csv csv) {
        csv.number(JsonFigures.rounded(number).toPlainString());
    }
}
