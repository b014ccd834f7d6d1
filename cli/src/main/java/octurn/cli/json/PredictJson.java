package octurn.cli.json;

import java.io.IOException;
import java.io.OutputStream;
import java.util.List;
import java.util.Optional;
import octurn.design.Design;
import octurn.json.DesignWriter;
import octurn.json.JsonForm;
import octurn.measure.CoreThinks;
import octurn.measure.Measurement;
import octurn.predict.Prediction;
import octurn.predict.Predictions;
import octurn.predict.Roofline;
import octurn.predict.SpeedUp;
import octurn.predict.Theory;
import octurn.predict.ThinkAndAccess.LongRun;
import octurn.predict.ThinkTable;
import tools.jackson.core.JsonGenerator;

/** What {@code octurn predict} says. */
public final class PredictJson {

    private PredictJson() {}

    /**
     * Writes theory beside a run.
     *
     * @throws IOException if the stream does
     */
    public static void write(Measurement measurement, List<Prediction> predictions, OutputStream out)
            throws IOException {
        JsonForm.write(out, json -> {
            json.writeStartObject();
            json.writeStringProperty("program", measurement.report().program());
            json.writeName("design");
            DesignWriter.write(measurement.report().design(), json);
            json.writeNumberProperty("cycles", measurement.report().cycles());
            json.writeStringProperty("ended", measurement.report().ended().text());
            json.writeArrayPropertyStart("thinks");
            for (CoreThinks core : measurement.thinks()) {
                json.writeStartObject();
                json.writeNumberProperty("core", core.core());
                json.writeNumberProperty("accesses", core.accesses());
                JsonFigures.spread("cycles", core.thinks(), json);
                JsonFigures.number("variation", core.variation(), json);
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeArrayPropertyStart("predictions");
            for (Prediction prediction : predictions) {
                prediction(prediction, json);
            }
            json.writeEndArray();
            roofline(measurement, json);
            json.writeEndObject();
        });
    }

    private static void theory(Theory theory, JsonGenerator json) {
        json.writeStringProperty("theory", theory.text());
        json.writeStringProperty("source", theory.source());
        json.writeStringProperty("assumes", theory.assumes());
    }

    private static void prediction(Prediction prediction, JsonGenerator json) {
        json.writeStartObject();
        theory(prediction.theory(), json);
        json.writeStringProperty("quantity", prediction.quantity().text());
        json.writeStringProperty("unit", prediction.quantity().unit());
        if (prediction.of().isEmpty()) {
            json.writeNullProperty("of");
        } else {
            json.writeStringProperty("of", prediction.of());
        }
        json.writeBooleanProperty("bound", prediction.bound());
        JsonFigures.number("predicted", prediction.predicted(), json);
        JsonFigures.number("measured", prediction.measured(), json);
        JsonFigures.number("differencePercent", prediction.differencePercent(), json);
        json.writeArrayPropertyStart("broken");
        prediction.broken().forEach(json::writeString);
        json.writeEndArray();
        json.writeEndObject();
    }

    private static void roofline(Measurement measurement, JsonGenerator json) {
        Roofline roofline = Predictions.roofline(measurement.report());
        Predictions.Point point = Predictions.point(measurement.report());
        json.writeObjectPropertyStart("roofline");
        JsonFigures.number("peak", roofline.peak(), json);
        JsonFigures.number("bandwidth", roofline.bandwidth(), json);
        JsonFigures.number("ridge", roofline.ridge(), json);
        JsonFigures.number("intensity", point.intensity(), json);
        JsonFigures.number("performance", point.performance(), json);
        json.writeEndObject();
    }

    /**
     * Writes theory for a design and a think time.
     *
     * @throws IOException if the stream does
     */
    public static void write(ThinkTable table, OutputStream out) throws IOException {
        JsonForm.write(out, json -> {
            json.writeStartObject();
            json.writeName("design");
            DesignWriter.write(table.design(), json);
            JsonFigures.number("think", table.think(), json);
            json.writeArrayPropertyStart("rows");
            for (ThinkTable.Row row : table.rows()) {
                json.writeStartObject();
                json.writeNumberProperty("cores", row.cores());
                longRun("fixedInTurn", row.fixedInTurn(), json);
                longRun("geometricInTurn", row.geometricInTurn(), json);
                longRun("fixedOnDemand", Optional.of(row.fixedOnDemand()), json);
                longRun("geometricOnDemand", Optional.of(row.geometricOnDemand()), json);
                longRun("queue", Optional.of(row.queue()), json);
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeEndObject();
        });
    }

    private static void longRun(String name, Optional<LongRun> run, JsonGenerator json) {
        if (run.isEmpty()) {
            json.writeNullProperty(name);
            return;
        }
        json.writeObjectPropertyStart(name);
        JsonFigures.number("waitCycles", run.get().waitCycles(), json);
        JsonFigures.number("accessesPerCycle", run.get().throughput(), json);
        JsonFigures.number("memoryHeld", run.get().utilization(), json);
        json.writeEndObject();
    }

    /**
     * Writes a speed-up.
     *
     * @param program the program's name
     * @param varied what the number of processors is called
     * @param grown the constant that grew with it, or empty
     * @throws IOException if the stream does
     */
    public static void write(
            String program, Design design, String varied, String grown, SpeedUp speedUp, OutputStream out)
            throws IOException {
        JsonForm.write(out, json -> {
            json.writeStartObject();
            json.writeStringProperty("program", program);
            json.writeName("design");
            DesignWriter.write(design, json);
            json.writeStringProperty("varied", varied);
            if (grown.isEmpty()) {
                json.writeNullProperty("grown");
            } else {
                json.writeStringProperty("grown", grown);
            }
            theory(speedUp.law(), json);
            JsonFigures.number("serialPart", speedUp.serialPart(), json);
            json.writeArrayPropertyStart("rows");
            for (SpeedUp.Row row : speedUp.rows()) {
                json.writeStartObject();
                json.writeNumberProperty("processors", row.processors());
                json.writeNumberProperty("cycles", row.cycles());
                JsonFigures.number("measured", row.measured(), json);
                JsonFigures.number("predicted", row.predicted(), json);
                JsonFigures.number("differencePercent", row.differencePercent(), json);
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeEndObject();
        });
    }
}
