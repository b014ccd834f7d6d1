package octurn.cli.json;

import java.io.IOException;
import java.io.OutputStream;
import java.util.List;
import java.util.Locale;
import octurn.asm.Program;
import octurn.diag.Diagnostic;
import octurn.json.JsonForm;
import org.jspecify.annotations.Nullable;
import tools.jackson.core.JsonGenerator;

/** What {@code octurn check} found. */
public final class CheckJson {

    private CheckJson() {}

    /**
     * Writes it.
     *
     * @param file the program's name as it was given
     * @param program the program, or null if it has errors
     * @param found errors and warnings, in the order of the files
     * @throws IOException if the stream does
     */
    public static void write(String file, @Nullable Program program, List<Diagnostic> found, OutputStream out)
            throws IOException {
        JsonForm.write(out, json -> {
            json.writeStartObject();
            json.writeStringProperty("program", file);
            json.writeBooleanProperty("ok", program != null);
            json.writeArrayPropertyStart("diagnostics");
            for (Diagnostic diagnostic : found) {
                diagnostic(diagnostic, json);
            }
            json.writeEndArray();
            json.writeEndObject();
        });
    }

    private static void diagnostic(Diagnostic diagnostic, JsonGenerator json) {
        json.writeStartObject();
        json.writeStringProperty("severity", diagnostic.severity().name().toLowerCase(Locale.ROOT));
        json.writeStringProperty("file", diagnostic.span().file());
        place("line", diagnostic.span().line(), json);
        place("column", diagnostic.span().column(), json);
        place("length", diagnostic.span().length(), json);
        json.writeStringProperty("message", diagnostic.message());
        String hint = diagnostic.hint();
        if (hint == null) {
            json.writeNullProperty("hint");
        } else {
            json.writeStringProperty("hint", hint);
        }
        json.writeEndObject();
    }

    /** A place counted from 1; null where the whole line or file is meant. */
    private static void place(String name, int number, JsonGenerator json) {
        if (number == 0) {
            json.writeNullProperty(name);
        } else {
            json.writeNumberProperty(name, number);
        }
    }
}
