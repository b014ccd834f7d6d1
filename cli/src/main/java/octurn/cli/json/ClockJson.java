package octurn.cli.json;

import java.io.IOException;
import java.io.OutputStream;
import java.util.List;
import java.util.Locale;
import octurn.design.Clock;
import octurn.json.JsonForm;
import octurn.signal.SerialFormat;
import octurn.signal.Wish;
import tools.jackson.core.JsonGenerator;

/** A clock, and what wanted rates and times are in its cycles. */
public final class ClockJson {

    private ClockJson() {}

    /**
     * Writes it.
     *
     * @param format of bytes on a serial line
     * @throws IOException if the stream does
     */
    public static void write(Clock clock, SerialFormat format, List<Wish> wishes, OutputStream out) throws IOException {
        JsonForm.write(out, json -> {
            json.writeStartObject();
            json.writeObjectPropertyStart("clock");
            json.writeStringProperty("source", clock.source().text());
            json.writeNumberProperty("hertz", clock.hertz());
            json.writeNumberProperty("multiplier", clock.multiplier());
            json.writeNumberProperty("tolerancePpm", clock.tolerancePpm());
            json.writeEndObject();
            json.writeNumberProperty("clockHertz", clock.chipHertz());
            JsonFigures.number("cycleNanoseconds", clock.cycleNanos(), json);
            json.writeStringProperty("format", format.text());
            JsonFigures.number("bearsPercent", format.midBitPercent(), json);
            json.writeArrayPropertyStart("wanted");
            for (Wish wish : wishes) {
                wish(wish, clock.chipHertz(), json);
            }
            json.writeEndArray();
            json.writeEndObject();
        });
    }

    private static void wish(Wish wish, long clockHertz, JsonGenerator json) {
        json.writeStartObject();
        json.writeStringProperty("kind", wish.kind().name().toLowerCase(Locale.ROOT));
        json.writeStringProperty("text", wish.text());
        JsonFigures.number("exactCycles", wish.cycles().exact().doubleValue(), json);
        json.writeNumberProperty("cycles", wish.cycles().cycles());
        JsonFigures.number("gives", wish.gives(clockHertz), json);
        JsonFigures.number("errorPercent", wish.cycles().errorPercent(), json);
        json.writeEndObject();
    }
}
