package octurn.cli.json;

import java.io.IOException;
import java.io.OutputStream;
import java.math.BigDecimal;
import java.math.MathContext;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.json.DesignWriter;
import octurn.json.JsonForm;
import octurn.report.TurnFigures;
import octurn.report.TurnFigures.CoreTurns;
import tools.jackson.core.JsonGenerator;

/** A design and what follows from it. */
public final class DesignJson {

    private static final MathContext NINE_DIGITS = new MathContext(9);

    private DesignJson() {}

    /**
     * Writes it.
     *
     * @throws IOException if the stream does
     */
    public static void write(Design design, OutputStream out) throws IOException {
        TurnFigures figures = TurnFigures.of(design);
        long hertz = design.clock().chipHertz();
        JsonForm.write(out, json -> {
            json.writeStartObject();
            json.writeName("design");
            DesignWriter.write(design, json);
            json.writeNumberProperty("clockHertz", hertz);
            number("cycleNanoseconds", 1e9 / hertz, json);
            if (design.admission() instanceof Admission.Rotation) {
                json.writeNumberProperty("rotationCycles", design.rotationCycles());
                number("rotationMicroseconds", design.rotationCycles() * 1e6 / hertz, json);
            } else {
                json.writeNullProperty("rotationCycles");
                json.writeNullProperty("rotationMicroseconds");
            }
            json.writeArrayPropertyStart("cores");
            for (CoreTurns core : figures.cores()) {
                core(core, design, json);
            }
            json.writeEndArray();
            number("accessesPerSecond", figures.togetherPerCycle() * hertz, json);
            number("wordsPerSecond", figures.capacityPerCycle() * hertz, json);
            json.writeEndObject();
        });
    }

    private static void core(CoreTurns core, Design design, JsonGenerator json) {
        boolean rotation = design.admission() instanceof Admission.Rotation;
        boolean never = rotation && core.slots() == 0;
        json.writeStartObject();
        json.writeNumberProperty("core", core.core());
        if (rotation) {
            json.writeNumberProperty("slots", core.slots());
        } else {
            json.writeNullProperty("slots");
        }
        json.writeObjectPropertyStart("wait");
        if (never) {
            json.writeNullProperty("min");
        } else {
            json.writeNumberProperty("min", 0);
        }
        if (core.meanWait().isPresent()) {
            number("mean", core.meanWait().getAsDouble(), json);
        } else {
            json.writeNullProperty("mean");
        }
        if (core.worstWait().isPresent()) {
            json.writeNumberProperty("max", core.worstWait().getAsLong());
        } else {
            json.writeNullProperty("max");
        }
        json.writeEndObject();
        number("accessesPerSecond", core.alone().perSecond(design.clock().chipHertz()), json);
        json.writeEndObject();
    }

    /** Nine digits are more than anybody needs, and the same on every Java. */
    private static void number(String name, double number, JsonGenerator json) {
        BigDecimal rounded = new BigDecimal(number).round(NINE_DIGITS).stripTrailingZeros();
        json.writeNumberProperty(name, rounded.scale() < 0 ? rounded.setScale(0) : rounded);
    }
}
