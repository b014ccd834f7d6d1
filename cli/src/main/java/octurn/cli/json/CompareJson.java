package octurn.cli.json;

import java.io.IOException;
import java.io.OutputStream;
import octurn.compare.Comparison;
import octurn.compare.Comparison.Column;
import octurn.compare.Outcome;
import octurn.compare.Outcome.Difference;
import octurn.compare.RunFigures;
import octurn.json.DesignWriter;
import octurn.json.JsonForm;
import tools.jackson.core.JsonGenerator;

/** What {@code octurn compare} found. */
public final class CompareJson {

    private CompareJson() {}

    /**
     * Writes it.
     *
     * @param program the program's name
     * @throws IOException if the stream does
     */
    public static void write(String program, Comparison comparison, OutputStream out) throws IOException {
        JsonForm.write(out, json -> {
            json.writeStartObject();
            json.writeStringProperty("program", program);
            json.writeArrayPropertyStart("designs");
            for (Column column : comparison.columns()) {
                column(column, json);
            }
            json.writeEndArray();
            json.writeEndObject();
        });
    }

    private static void column(Column column, JsonGenerator json) {
        json.writeStartObject();
        json.writeStringProperty("name", column.entry().name());
        if (column.entry() instanceof Comparison.Ran ran) {
            json.writeName("design");
            DesignWriter.write(ran.report().design(), json);
        } else {
            json.writeNullProperty("design");
        }
        if (column.figures().isPresent()) {
            json.writeObjectPropertyStart("figures");
            figures(column.figures().get(), json);
            json.writeEndObject();
        } else {
            json.writeNullProperty("figures");
        }
        JsonFigures.number("speedUp", column.speedUp().orElse(Double.NaN), json);
        json.writeArrayPropertyStart("differences");
        for (Difference difference : column.differences()) {
            difference(difference, json);
        }
        json.writeEndArray();
        json.writeStringProperty("sentence", column.sentence());
        json.writeEndObject();
    }

    /** The figures of a run, as fields of the object that is open. */
    static void figures(RunFigures figures, JsonGenerator json) {
        json.writeStringProperty("ended", figures.ended().text());
        json.writeNumberProperty("faults", figures.faults());
        json.writeNumberProperty("cycles", figures.cycles());
        JsonFigures.number("microseconds", figures.seconds() * 1e6, json);
        json.writeNumberProperty("instructions", figures.instructions());
        json.writeNumberProperty("accesses", figures.accesses());
        json.writeNumberProperty("waitTotal", figures.waitTotal());
        JsonFigures.number("waitMean", figures.waitMean(), json);
        json.writeNumberProperty("waitMax", figures.waitMax());
        json.writeNumberProperty("busyCycles", figures.busyCycles());
        JsonFigures.number("busyShare", figures.busyShare(), json);
        if (figures.turnsOffered() < 0) {
            json.writeNullProperty("turnsOffered");
            json.writeNullProperty("turnsUsed");
        } else {
            json.writeNumberProperty("turnsOffered", figures.turnsOffered());
            json.writeNumberProperty("turnsUsed", figures.turnsUsed());
        }
        JsonFigures.number("accessFairness", figures.accessFairness(), json);
        JsonFigures.number("waitFairness", figures.waitFairness(), json);
        json.writeNumberProperty("clashCycles", figures.clashCycles());
    }

    private static void difference(Difference difference, JsonGenerator json) {
        json.writeStartObject();
        if (difference.memory() == Outcome.SHARED) {
            json.writeStringProperty("in", "shared");
            json.writeNullProperty("core");
        } else {
            json.writeStringProperty("in", "private");
            json.writeNumberProperty("core", difference.memory());
        }
        json.writeNumberProperty("address", difference.address());
        if (difference.name().isEmpty()) {
            json.writeNullProperty("name");
        } else {
            json.writeStringProperty("name", difference.name());
        }
        value("first", difference.here(), json);
        value("this", difference.there(), json);
        json.writeEndObject();
    }

    /** Null stands for a word that the run left as it was. */
    private static void value(String name, long value, JsonGenerator json) {
        if (value == Outcome.UNCHANGED) {
            json.writeNullProperty(name);
        } else {
            json.writeNumberProperty(name, value);
        }
    }
}
