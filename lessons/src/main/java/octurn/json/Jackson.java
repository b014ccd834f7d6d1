package octurn.json;

import java.io.IOException;
import java.io.OutputStream;
import tools.jackson.core.JsonEncoding;
import tools.jackson.core.JsonGenerator;
import tools.jackson.core.ObjectWriteContext;
import tools.jackson.core.StreamReadConstraints;
import tools.jackson.core.StreamWriteFeature;
import tools.jackson.core.exc.JacksonIOException;
import tools.jackson.core.json.JsonFactory;

/** How Jackson is set up here: its streaming part alone, since data binding would double the start-up time. */
final class Jackson {

    /** Our own limits on files (1 MiB) and depth come first, so the parser's own must never be met. */
    static final JsonFactory FACTORY = JsonFactory.builder()
            .streamReadConstraints(StreamReadConstraints.builder()
                    .maxNumberLength(2 * SourceText.MAX_BYTES)
                    .maxNameLength(2 * SourceText.MAX_BYTES)
                    .maxStringLength(2 * SourceText.MAX_BYTES)
                    .maxNestingDepth(2 * JsonTree.MAX_DEPTH)
                    .build())
            .disable(StreamWriteFeature.AUTO_CLOSE_TARGET)
            .build();

    private Jackson() {}

    /** Something that writes one JSON value. */
    interface Body {
        void write(JsonGenerator json) throws IOException;
    }

    /**
     * Writes one value in compact form, UTF-8, with a line end behind it. The stream stays open.
     *
     * @throws IOException if the stream does
     */
    static void write(OutputStream out, Body body) throws IOException {
        try (JsonGenerator json = FACTORY.createGenerator(ObjectWriteContext.empty(), out, JsonEncoding.UTF8)) {
            body.write(json);
            json.writeRaw('\n');
        } catch (JacksonIOException e) {
            throw e.getCause();
        }
    }
}
