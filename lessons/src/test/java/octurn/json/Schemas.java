package octurn.json;

import com.networknt.schema.InputFormat;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaLocation;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/** The published schemas, read by a validator that nobody here wrote. */
public final class Schemas {

    private static final String ID = "https://octurn.invalid/schema/";

    private static final SchemaRegistry REGISTRY = SchemaRegistry.withDefaultDialect(
            SpecificationVersion.DRAFT_2020_12, builder -> builder.schemas(Schemas::textOf));

    private Schemas() {}

    /** The text of one of our schemas; null for those that the validator knows itself. */
    private static String textOf(String id) {
        return id.startsWith(ID) ? text(id.substring(ID.length())) : null;
    }

    /** A file of the folder of schemas. */
    static String text(String file) {
        try {
            return Files.readString(Path.of("..", "docs", "schema", file));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** What the draft has against a schema. */
    static List<String> againstMetaSchema(String schema) {
        return complaints(SchemaLocation.of("https://json-schema.org/draft/2020-12/schema"), schema);
    }

    /** What this schema has against the text, in the validator's words. */
    public static List<String> complaints(String schema, String json) {
        return complaints(SchemaLocation.of(ID + schema + ".schema.json"), json);
    }

    private static List<String> complaints(SchemaLocation location, String json) {
        Schema schema = REGISTRY.getSchema(location);
        return schema.validate(json, InputFormat.JSON).stream()
                .map(Object::toString)
                .toList();
    }
}
