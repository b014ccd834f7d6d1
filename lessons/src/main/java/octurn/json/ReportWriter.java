package octurn.json;

import java.io.IOException;
import java.io.OutputStream;
import java.util.SortedMap;
import octurn.machine.State;
import octurn.report.RunReport;
import octurn.report.RunReport.CoreReport;
import octurn.report.RunReport.FaultReport;
import octurn.report.RunReport.HotSpot;
import octurn.report.RunReport.Waits;
import org.jspecify.annotations.Nullable;
import tools.jackson.core.JsonGenerator;

/** Writes run reports in the form that {@code docs/report.md} describes, which is kept stable. */
public final class ReportWriter {

    private static final State[] STATES = State.values();

    private ReportWriter() {}

    /** Which memories go into the report, word by word; words that are 0 are left out. */
    public enum Dump {
        NONE,
        SHARED,
        PRIVATE,
        ALL;

        boolean hasShared() {
            return this == SHARED || this == ALL;
        }

        boolean hasPrivate() {
            return this == PRIVATE || this == ALL;
        }
    }

    /**
     * Writes one report as one JSON object.
     *
     * @throws IOException if the stream does
     */
    public static void write(RunReport report, Dump dump, OutputStream out) throws IOException {
        JsonForm.write(out, json -> report(report, dump, json));
    }

    private static void report(RunReport report, Dump dump, JsonGenerator json) {
        json.writeStartObject();
        json.writeStringProperty("program", report.program());
        json.writeName("design");
        DesignWriter.write(report.design(), json);
        json.writeNumberProperty("cycles", report.cycles());
        json.writeStringProperty("ended", report.ended().text());
        json.writeArrayPropertyStart("cores");
        for (CoreReport core : report.cores()) {
            core(core, dump, json);
        }
        json.writeEndArray();
        json.writeArrayPropertyStart("hotSpots");
        for (HotSpot spot : report.hotSpots()) {
            hotSpot(spot, json);
        }
        json.writeEndArray();
        json.writeObjectPropertyStart("memory");
        json.writeNumberProperty("busyCycles", report.busyCycles());
        json.writeEndObject();
        json.writeObjectPropertyStart("pins");
        json.writeNumberProperty("clashCycles", report.clashCycles());
        json.writeEndObject();
        if (dump.hasShared()) {
            words("shared", report.shared(), json);
        }
        json.writeEndObject();
    }

    private static void core(CoreReport core, Dump dump, JsonGenerator json) {
        json.writeStartObject();
        json.writeNumberProperty("core", core.core());
        json.writeStringProperty("state", core.state().text());
        json.writeNumberProperty("pc", Integer.toUnsignedLong(core.pc()));
        json.writeStringProperty("pcIn", memory(core.pcInShared()));
        json.writeArrayPropertyStart("registers");
        for (int register : core.registers()) {
            json.writeNumber(register);
        }
        json.writeEndArray();
        json.writeNumberProperty("instructions", core.instructions());
        json.writeObjectPropertyStart("states");
        for (State state : STATES) {
            json.writeNumberProperty(state.text(), core.states().getOrDefault(state, 0L));
        }
        json.writeEndObject();
        json.writeNumberProperty("accesses", core.accesses());
        waits(core.waits(), json);
        turns(core, json);
        json.writeNumberProperty("clashes", core.clashes());
        fault(core.fault(), json);
        if (dump.hasPrivate()) {
            words("private", core.privateWords(), json);
        }
        json.writeEndObject();
    }

    private static void waits(Waits waits, JsonGenerator json) {
        json.writeObjectPropertyStart("waits");
        json.writeNumberProperty("total", waits.total());
        numberUnlessNegative("min", waits.min(), json);
        numberUnlessNegative("max", waits.max(), json);
        json.writeObjectPropertyStart("histogram");
        waits.histogram().forEach((wait, count) -> json.writeNumberProperty(Long.toString(wait), count));
        json.writeEndObject();
        json.writeEndObject();
    }

    private static void turns(CoreReport core, JsonGenerator json) {
        if (core.turnsOffered() < 0) {
            json.writeNullProperty("turns");
            return;
        }
        json.writeObjectPropertyStart("turns");
        json.writeNumberProperty("offered", core.turnsOffered());
        json.writeNumberProperty("used", core.turnsUsed());
        json.writeEndObject();
    }

    private static void fault(@Nullable FaultReport fault, JsonGenerator json) {
        if (fault == null) {
            json.writeNullProperty("fault");
            return;
        }
        json.writeObjectPropertyStart("fault");
        json.writeStringProperty("kind", fault.kind().text());
        json.writeNumberProperty("cycle", fault.cycle());
        json.writeNumberProperty("address", Integer.toUnsignedLong(fault.address()));
        json.writeStringProperty("in", memory(fault.inShared()));
        line(fault.line(), json);
        json.writeStringProperty("message", fault.message());
        json.writeEndObject();
    }

    private static void hotSpot(HotSpot spot, JsonGenerator json) {
        json.writeStartObject();
        json.writeNumberProperty("core", spot.core());
        json.writeStringProperty("in", memory(spot.inShared()));
        json.writeNumberProperty("address", Integer.toUnsignedLong(spot.address()));
        line(spot.line(), json);
        json.writeNumberProperty("count", spot.count());
        json.writeNumberProperty("total", spot.total());
        json.writeNumberProperty("min", spot.min());
        json.writeNumberProperty("max", spot.max());
        json.writeEndObject();
    }

    private static void line(int line, JsonGenerator json) {
        if (line == 0) {
            json.writeNullProperty("line");
        } else {
            json.writeNumberProperty("line", line);
        }
    }

    private static void numberUnlessNegative(String name, long number, JsonGenerator json) {
        if (number < 0) {
            json.writeNullProperty(name);
        } else {
            json.writeNumberProperty(name, number);
        }
    }

    private static void words(String name, SortedMap<Integer, Integer> words, JsonGenerator json) {
        json.writeObjectPropertyStart(name);
        words.forEach((address, word) -> json.writeNumberProperty(Integer.toString(address), word));
        json.writeEndObject();
    }

    private static String memory(boolean shared) {
        return shared ? "shared" : "private";
    }
}
