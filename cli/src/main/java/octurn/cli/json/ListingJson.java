package octurn.cli.json;

import java.io.IOException;
import java.io.OutputStream;
import java.util.Locale;
import octurn.asm.Block;
import octurn.json.DesignWriter;
import octurn.json.JsonForm;
import octurn.report.Listing;
import octurn.report.Listing.Row;
import octurn.report.Listing.Time;
import tools.jackson.core.JsonGenerator;

/** The listing of a program. */
public final class ListingJson {

    private ListingJson() {}

    /**
     * Writes it.
     *
     * @throws IOException if the stream does
     */
    public static void write(Listing listing, OutputStream out) throws IOException {
        JsonForm.write(out, json -> {
            json.writeStartObject();
            json.writeStringProperty("program", listing.program().name());
            json.writeName("design");
            DesignWriter.write(listing.program().design(), json);
            json.writeArrayPropertyStart("sections");
            for (Listing.Section section : listing.sections()) {
                section(section, listing, json);
            }
            json.writeEndArray();
            json.writeEndObject();
        });
    }

    private static void section(Listing.Section section, Listing listing, JsonGenerator json) {
        Block block = section.block();
        json.writeStartObject();
        json.writeStringProperty("kind", block.kind().name().toLowerCase(Locale.ROOT));
        if (block.kind() == Block.Kind.CORE) {
            json.writeArrayPropertyStart("cores");
            for (int core : block.cores()) {
                json.writeNumber(core);
            }
            json.writeEndArray();
        }
        if (block.kind() == Block.Kind.IMAGE) {
            json.writeStringProperty("name", block.name());
        }
        json.writeNumberProperty("address", block.address());
        json.writeObjectPropertyStart("labels");
        block.labels().forEach(json::writeNumberProperty);
        json.writeEndObject();
        json.writeArrayPropertyStart("words");
        for (Row row : section.rows()) {
            row(row, listing, json);
        }
        json.writeEndArray();
        json.writeEndObject();
    }

    private static void row(Row row, Listing listing, JsonGenerator json) {
        json.writeStartObject();
        json.writeNumberProperty("address", row.address());
        json.writeNumberProperty("word", row.word());
        json.writeNumberProperty("line", row.line());
        json.writeStringProperty("source", listing.program().sourceLine(row.line()));
        Time time = row.time();
        if (time == null) {
            json.writeNullProperty("instruction");
            json.writeNullProperty("cycles");
        } else {
            json.writeStringProperty("instruction", row.text());
            json.writeObjectPropertyStart("cycles");
            json.writeNumberProperty("min", time.least());
            if (time.most().isPresent()) {
                json.writeNumberProperty("max", time.most().getAsLong());
            } else {
                json.writeNullProperty("max");
            }
            json.writeEndObject();
        }
        json.writeEndObject();
    }
}
