package octurn.json;

import java.io.IOException;
import java.io.OutputStream;
import java.util.List;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.design.Field;
import tools.jackson.core.JsonGenerator;

/** Writes designs with every default filled in. */
public final class DesignWriter {

    private DesignWriter() {}

    /**
     * Writes a design file.
     *
     * @throws IOException if the stream does
     */
    public static void write(Design design, OutputStream out) throws IOException {
        JsonForm.write(out, json -> write(design, json));
    }

    /** Writes the design as one value of a larger form. */
    public static void write(Design design, JsonGenerator json) {
        json.writeStartObject();
        json.writeStringProperty("name", design.name());
        number(json, Field.CORES, design);
        number(json, Field.PRIVATE_WORDS, design);
        number(json, Field.SHARED_WORDS, design);
        number(json, Field.SLOT_CYCLES, design);
        json.writeName("admission");
        admission(design.admission(), json);
        json.writeObjectPropertyStart("cost");
        number(json, Field.COST_PLAIN, design);
        number(json, Field.COST_PRIVATE, design);
        number(json, Field.COST_TAKEN, design);
        number(json, Field.COST_MULTIPLY, design);
        number(json, Field.COST_DIVIDE, design);
        json.writeEndObject();
        number(json, Field.PINS, design);
        json.writeObjectPropertyStart("clock");
        json.writeStringProperty("source", design.clock().source().text());
        number(json, Field.CLOCK_HERTZ, design);
        number(json, Field.CLOCK_MULTIPLIER, design);
        number(json, Field.CLOCK_TOLERANCE, design);
        json.writeEndObject();
        json.writeEndObject();
    }

    private static void number(JsonGenerator json, Field field, Design design) {
        String path = field.path();
        json.writeNumberProperty(path.substring(path.indexOf('.') + 1), field.of(design));
    }

    private static void admission(Admission admission, JsonGenerator json) {
        json.writeStartObject();
        json.writeStringProperty("policy", admission.policy());
        if (admission instanceof Admission.Rotation rotation) {
            numbers(json, "order", rotation.order());
        } else if (admission instanceof Admission.Priority priority) {
            numbers(json, "order", priority.order());
        } else if (admission instanceof Admission.Lottery lottery) {
            numbers(json, "weights", lottery.weights());
            json.writeNumberProperty("seed", lottery.seed());
        }
        json.writeEndObject();
    }

    private static void numbers(JsonGenerator json, String name, List<Integer> numbers) {
        json.writeArrayPropertyStart(name);
        for (int number : numbers) {
            json.writeNumber(number);
        }
        json.writeEndArray();
    }
}
