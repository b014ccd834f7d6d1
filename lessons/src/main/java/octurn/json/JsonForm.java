package octurn.json;

import java.io.IOException;
import java.io.OutputStream;
import tools.jackson.core.JsonEncoding;
import tools.jackson.core.JsonGenerator;
import tools.jackson.core.ObjectWriteContext;
import tools.jackson.core.exc.JacksonIOException;

/** Writes one JSON value, or several with a line each, as all our forms are written. */
@FunctionalInterface
public interface JsonForm {

    /** Writes the value, or one after the other; each comes on a line of its own. */
    void write(JsonGenerator json) throws IOException;

    /**
     * Writes the value in compact form, UTF-8, with a line end behind it. The stream stays open.
     *
     * @throws IOException if the stream does
     */
    static void write(OutputStream out, JsonForm form) throws IOException {
        try (JsonGenerator json = Jackson.FACTORY.createGenerator(ObjectWriteContext.empty(), out, JsonEncoding.UTF8)) {
            form.write(json);
            json.writeRaw('\n');
        } catch (JacksonIOException e) {
            throw e.getCause();
        }
    }
}
