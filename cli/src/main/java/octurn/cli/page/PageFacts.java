package octurn.cli.page;

import java.io.IOException;
import java.io.OutputStream;
import java.util.List;
import java.util.Map;
import octurn.asm.Block;
import octurn.asm.Program;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.design.Input;
import octurn.design.Scenario;
import octurn.json.JsonForm;
import octurn.machine.End;
import octurn.record.Recorder;
import octurn.report.Places;
import tools.jackson.core.JsonGenerator;

/** What a page knows besides the recording: the program's text and names, the design, what numbers in it stand for. */
final class PageFacts {

    /** The form of facts and recording, raised when a page of before could not read them. */
    private static final int FORM = 1;

    private final Recorder recorder;
    private final Program program;
    private final Design design;
    private final Places places;
    private final Scenario scenario;

    /**
     * Where a part of the recording is.
     *
     * @param firstCycle whose changes are in it
     * @param length in bytes
     */
    record Part(long firstCycle, int length) {}

    PageFacts(Recorder recorder, Scenario scenario) {
        this.recorder = recorder;
        this.program = recorder.program();
        this.design = program.design();
        this.places = new Places(program);
        this.scenario = scenario;
    }

    /** Writes them as one JSON object. */
    void write(long from, long to, List<Part> index, OutputStream out) throws IOException {
        JsonForm.write(out, json -> {
            json.writeStartObject();
            json.writeNumberProperty("form", FORM);
            json.writeStringProperty("program", program.name());
            design(json);
            json.writeNumberProperty("from", from);
            json.writeNumberProperty("to", to);
            End ended = recorder.ended();
            if (ended == null || recorder.endCycle() > to) {
                json.writeNullProperty("ended");
            } else {
                json.writeObjectPropertyStart("ended");
                json.writeNumberProperty("cycle", recorder.endCycle());
                json.writeStringProperty("why", ended.text());
                json.writeEndObject();
            }
            json.writeArrayPropertyStart("source");
            for (String line : program.source()) {
                json.writeString(line);
            }
            json.writeEndArray();
            json.writeArrayPropertyStart("due");
            for (int core = 0; core < design.cores(); core++) {
                long due = recorder.run().chip().core(core).dueCycle();
                json.writeNumber(due == Long.MAX_VALUE ? -1 : due);
            }
            json.writeEndArray();
            instructions(json);
            messages(json);
            names(json);
            pins(json);
            json.writeArrayPropertyStart("index");
            for (Part part : index) {
                pair(part.firstCycle(), part.length(), json);
            }
            json.writeEndArray();
            json.writeEndObject();
        });
    }

    private void design(JsonGenerator json) {
        json.writeObjectPropertyStart("design");
        json.writeStringProperty("name", design.name());
        json.writeNumberProperty("cores", design.cores());
        json.writeNumberProperty("privateWords", design.privateWords());
        json.writeNumberProperty("sharedWords", design.sharedWords());
        json.writeNumberProperty("slotCycles", design.slotCycles());
        json.writeNumberProperty("pins", design.pins());
        json.writeNumberProperty("hertz", design.clock().chipHertz());
        json.writeStringProperty("policy", design.admission().policy());
        json.writeArrayPropertyStart("order");
        List<Integer> order = design.admission() instanceof Admission.Rotation rotation
                ? rotation.order()
                : design.admission() instanceof Admission.Priority priority ? priority.order() : List.of();
        for (int core : order) {
            json.writeNumber(core);
        }
        json.writeEndArray();
        json.writeEndObject();
    }

    private void instructions(JsonGenerator json) {
        json.writeArrayPropertyStart("instructions");
        for (Recorder.Instruction instruction : recorder.instructions()) {
            json.writeStartArray();
            json.writeNumber(instruction.line());
            json.writeNumber(instruction.inShared() ? 1 : 0);
            json.writeNumber(Integer.toUnsignedLong(instruction.address()));
            json.writeNumber(instruction.word());
            json.writeString(instruction.text());
            json.writeEndArray();
        }
        json.writeEndArray();
    }

    private void messages(JsonGenerator json) {
        json.writeArrayPropertyStart("messages");
        for (Recorder.Message message : recorder.messages()) {
            json.writeStartArray();
            json.writeString(message.kind());
            json.writeString(message.text());
            json.writeBoolean(message.hasInstruction());
            json.writeEndArray();
        }
        json.writeEndArray();
    }

    private void names(JsonGenerator json) {
        json.writeArrayPropertyStart("sharedLabels");
        labels(places.sharedLabels(), json);
        json.writeEndArray();
        json.writeArrayPropertyStart("sharedBlocks");
        for (Block block : program.blocks()) {
            if (block.kind() != Block.Kind.CORE && block.words().length > 0) {
                pair(block.address(), block.words().length, json);
            }
        }
        json.writeEndArray();
        json.writeArrayPropertyStart("sharedLines");
        for (Block block : program.blocks()) {
            if (block.kind() == Block.Kind.SHARED) {
                for (int i = 0; i < block.code().length; i++) {
                    if (block.code()[i]) {
                        pair(block.address() + i, block.lines()[i], json);
                    }
                }
            }
        }
        json.writeEndArray();
        json.writeArrayPropertyStart("sections");
        for (Block block : program.blocks()) {
            if (block.kind() == Block.Kind.CORE) {
                json.writeStartObject();
                json.writeArrayPropertyStart("cores");
                for (int core : block.cores()) {
                    json.writeNumber(core);
                }
                json.writeEndArray();
                json.writeArrayPropertyStart("labels");
                labels(places.privateLabels(block.cores().get(0)), json);
                json.writeEndArray();
                json.writeEndObject();
            }
        }
        json.writeEndArray();
    }

    private static void labels(Map<Integer, String> labels, JsonGenerator json) {
        labels.forEach((address, name) -> {
            json.writeStartArray();
            json.writeNumber(address);
            json.writeString(name);
            json.writeEndArray();
        });
    }

    private void pins(JsonGenerator json) {
        json.writeNumberProperty("pinsInUse", Integer.toUnsignedLong(recorder.pinsInUse()));
        json.writeArrayPropertyStart("given");
        for (Input input : scenario.inputs()) {
            long cycle = 0;
            while (cycle != Input.NEVER && input.at(cycle) == Input.NOTHING) {
                cycle = input.nextChange(cycle);
            }
            if (cycle != Input.NEVER) {
                pair(input.pin(), cycle, json);
            }
        }
        json.writeEndArray();
    }

    private static void pair(long first, long second, JsonGenerator json) {
        json.writeStartArray();
        json.writeNumber(first);
        json.writeNumber(second);
        json.writeEndArray();
    }
}
