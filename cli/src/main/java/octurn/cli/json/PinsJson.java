package octurn.cli.json;

import java.io.IOException;
import java.io.OutputStream;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;
import octurn.json.DesignWriter;
import octurn.json.JsonForm;
import octurn.report.RunReport;
import octurn.signal.PinState;
import octurn.signal.Pulses;
import octurn.signal.SerialFrame;
import octurn.signal.SerialReading;
import octurn.signal.Statistics;
import octurn.signal.Waveform;
import org.jspecify.annotations.Nullable;
import tools.jackson.core.JsonGenerator;

/** What the pins did in a run. */
public final class PinsJson {

    private PinsJson() {}

    /**
     * Writes it.
     *
     * @param waves of the pins, all of the same stretch
     * @param serials what was read off those that are serial lines, by pin
     * @throws IOException if the stream does
     */
    public static void write(
            RunReport report, List<Waveform> waves, Map<Integer, SerialReading> serials, OutputStream out)
            throws IOException {
        long clock = report.design().clock().chipHertz();
        JsonForm.write(out, json -> {
            json.writeStartObject();
            json.writeStringProperty("program", report.program());
            json.writeName("design");
            DesignWriter.write(report.design(), json);
            json.writeNumberProperty("cycles", report.cycles());
            json.writeStringProperty("ended", report.ended().text());
            json.writeArrayPropertyStart("pins");
            for (Waveform wave : waves) {
                pin(wave, serials.get(wave.pin()), clock, json);
            }
            json.writeEndArray();
            json.writeEndObject();
        });
    }

    private static void pin(Waveform wave, @Nullable SerialReading serial, long clock, JsonGenerator json) {
        json.writeStartObject();
        json.writeNumberProperty("pin", wave.pin());
        json.writeNumberProperty("from", wave.from());
        json.writeNumberProperty("to", wave.to());
        json.writeArrayPropertyStart("drivers");
        wave.drivers().forEach(json::writeNumber);
        json.writeEndArray();
        json.writeBooleanProperty("outside", wave.isGivenFromOutside());
        changes(wave, json);
        json.writeNumberProperty("clashCycles", wave.clashCycles());
        Pulses pulses = Pulses.of(wave.levels());
        statistics("high", pulses.high(), json);
        statistics("low", pulses.low(), json);
        statistics("riseToRise", pulses.riseToRise(), json);
        optional("hertz", pulses.hertz(clock), json);
        optional("duty", pulses.duty(), json);
        if (serial == null) {
            json.writeNullProperty("serial");
        } else {
            serial(serial, clock, json);
        }
        json.writeEndObject();
    }

    private static void changes(Waveform wave, JsonGenerator json) {
        json.writeArrayPropertyStart("changes");
        String last = "";
        for (int step = 0; step < wave.steps(); step++) {
            String level = level(wave.state(step));
            if (!level.equals(last)) {
                json.writeStartObject();
                json.writeNumberProperty("cycle", wave.cycle(step));
                json.writeStringProperty("level", level);
                json.writeEndObject();
                last = level;
            }
        }
        json.writeEndArray();
    }

    /** In the letters of waves in a file. */
    private static String level(PinState state) {
        if (state.clash()) {
            return "x";
        }
        return state.isOpen() ? "z" : state.high() ? "1" : "0";
    }

    private static void statistics(String name, Statistics figures, JsonGenerator json) {
        json.writeObjectPropertyStart(name);
        json.writeNumberProperty("count", figures.count());
        json.writeNumberProperty("total", figures.total());
        if (figures.count() == 0) {
            json.writeNullProperty("min");
            json.writeNullProperty("max");
            json.writeNullProperty("standardDeviation");
        } else {
            json.writeNumberProperty("min", figures.min());
            json.writeNumberProperty("max", figures.max());
            JsonFigures.number("standardDeviation", figures.standardDeviation(), json);
        }
        json.writeEndObject();
    }

    private static void optional(String name, OptionalDouble number, JsonGenerator json) {
        JsonFigures.number(name, number.orElse(Double.NaN), json);
    }

    private static void serial(SerialReading serial, long clock, JsonGenerator json) {
        json.writeObjectPropertyStart("serial");
        json.writeStringProperty("format", serial.format().text());
        JsonFigures.number("cyclesPerBit", serial.cyclesPerBit(), json);
        JsonFigures.number("baud", clock / serial.cyclesPerBit(), json);
        json.writeStringProperty("origin", word(serial.origin()));
        json.writeArrayPropertyStart("bytes");
        for (SerialFrame frame : serial.frames()) {
            json.writeStartObject();
            json.writeNumberProperty("cycle", frame.cycle());
            json.writeNumberProperty("value", frame.value());
            if (frame.isGood()) {
                json.writeNullProperty("flaw");
            } else {
                json.writeStringProperty("flaw", word(frame.flaw()));
            }
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeEndObject();
    }

    private static String word(Enum<?> constant) {
        return constant.name().toLowerCase(Locale.ROOT);
    }
}
