package octurn.cli.json;

import java.io.IOException;
import java.io.OutputStream;
import java.util.Optional;
import octurn.json.DesignWriter;
import octurn.json.JsonForm;
import octurn.measure.AccessStalls;
import octurn.measure.LoopPasses;
import octurn.measure.LoopPasses.Steady;
import octurn.measure.Measurement;
import octurn.measure.Measurement.Between;
import octurn.measure.RegionPasses;
import octurn.measure.RegionPasses.Pass;
import octurn.measure.TurnRule;
import tools.jackson.core.JsonGenerator;

/** What {@code octurn stalls} measured. */
public final class StallsJson {

    private StallsJson() {}

    /**
     * Writes it.
     *
     * @throws IOException if the stream does
     */
    public static void write(Measurement measurement, OutputStream out) throws IOException {
        JsonForm.write(out, json -> {
            json.writeStartObject();
            json.writeStringProperty("program", measurement.report().program());
            json.writeName("design");
            DesignWriter.write(measurement.report().design(), json);
            json.writeNumberProperty("cycles", measurement.report().cycles());
            json.writeStringProperty("ended", measurement.report().ended().text());
            json.writeArrayPropertyStart("accesses");
            for (AccessStalls stalls : measurement.stalls()) {
                access(stalls, json);
            }
            json.writeEndArray();
            json.writeArrayPropertyStart("loops");
            for (LoopPasses loop : measurement.loops()) {
                loop(loop, json);
            }
            json.writeEndArray();
            between(measurement.between(), json);
            json.writeEndObject();
        });
    }

    private static void access(AccessStalls stalls, JsonGenerator json) {
        json.writeStartObject();
        json.writeNumberProperty("core", stalls.core());
        json.writeStringProperty("in", JsonFigures.memory(stalls.inShared()));
        json.writeNumberProperty("address", Integer.toUnsignedLong(stalls.address()));
        JsonFigures.line("line", stalls.line(), json);
        JsonFigures.spread("waits", stalls.waits(), json);
        json.writeObjectPropertyStart("histogram");
        stalls.histogram().forEach((wait, count) -> json.writeNumberProperty(Long.toString(wait), count));
        json.writeEndObject();
        TurnRule rule = stalls.turns();
        if (rule == null) {
            json.writeNullProperty("turns");
        } else {
            json.writeObjectPropertyStart("turns");
            json.writeNumberProperty("freeCycles", rule.freeCycles());
            json.writeNumberProperty("leastCycles", rule.leastCycles());
            json.writeNumberProperty("everyCycles", rule.everyCycles());
            JsonFigures.spread("workCycles", rule.workCycles(), json);
            json.writeNumberProperty("winnable", rule.winnable());
            json.writeEndObject();
        }
        json.writeEndObject();
    }

    private static void loop(LoopPasses loop, JsonGenerator json) {
        json.writeStartObject();
        json.writeNumberProperty("core", loop.core());
        json.writeStringProperty("in", JsonFigures.memory(loop.inShared()));
        json.writeNumberProperty("head", Integer.toUnsignedLong(loop.head()));
        json.writeNumberProperty("tail", Integer.toUnsignedLong(loop.tail()));
        JsonFigures.line("headLine", loop.headLine(), json);
        JsonFigures.line("tailLine", loop.tailLine(), json);
        json.writeNumberProperty("entries", loop.entries());
        json.writeNumberProperty("trips", loop.trips());
        JsonFigures.spread("cycles", loop.cycles(), json);
        JsonFigures.spread("waits", loop.waits(), json);
        Optional<Steady> steady = loop.steady();
        if (steady.isEmpty()) {
            json.writeNullProperty("steady");
        } else {
            json.writeObjectPropertyStart("steady");
            json.writeNumberProperty("fromPass", steady.get().fromPass());
            json.writeNumberProperty("fromCycle", steady.get().fromCycle());
            json.writeNumberProperty("periodPasses", steady.get().periodPasses());
            json.writeNumberProperty("periodCycles", steady.get().periodCycles());
            json.writeEndObject();
        }
        json.writeEndObject();
    }

    private static void between(Optional<Between> between, JsonGenerator json) {
        if (between.isEmpty()) {
            json.writeNullProperty("between");
            return;
        }
        json.writeObjectPropertyStart("between");
        json.writeStringProperty("from", between.get().from());
        json.writeStringProperty("to", between.get().to());
        if (between.get().withinCycles().isPresent()) {
            json.writeNumberProperty(
                    "withinCycles", between.get().withinCycles().getAsLong());
        } else {
            json.writeNullProperty("withinCycles");
        }
        json.writeArrayPropertyStart("cores");
        for (RegionPasses region : between.get().regions()) {
            json.writeStartObject();
            json.writeNumberProperty("core", region.core());
            JsonFigures.spread("cycles", region.cycles(), json);
            JsonFigures.spread("waits", region.waits(), json);
            json.writeNumberProperty("again", region.again());
            pass("worst", region.worst(), json);
            pass("open", region.open(), json);
            json.writeNumberProperty("misses", region.misses());
            pass("firstMiss", region.firstMiss(), json);
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeEndObject();
    }

    private static void pass(String name, Optional<Pass> pass, JsonGenerator json) {
        if (pass.isEmpty()) {
            json.writeNullProperty(name);
            return;
        }
        json.writeObjectPropertyStart(name);
        json.writeNumberProperty("number", pass.get().number());
        json.writeNumberProperty("from", pass.get().from());
        json.writeNumberProperty("cycles", pass.get().cycles());
        json.writeEndObject();
    }
}
