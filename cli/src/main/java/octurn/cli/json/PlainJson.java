package octurn.cli.json;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import octurn.json.JsonForm;
import org.jspecify.annotations.Nullable;
import tools.jackson.core.JacksonException;
import tools.jackson.core.JsonGenerator;
import tools.jackson.core.JsonParser;
import tools.jackson.core.JsonToken;
import tools.jackson.core.ObjectReadContext;
import tools.jackson.core.StreamReadFeature;
import tools.jackson.core.json.JsonFactory;

/**
 * Any JSON value as plain values of Java: maps in the order of the file, lists, strings, numbers, booleans and null; for
 * files of which other versions of the program know more than this one.
 */
public final class PlainJson {

    private static final JsonFactory FACTORY = JsonFactory.builder()
            .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
            .build();

    private static final int MAX_DEPTH = 64;

    private PlainJson() {}

    /** A text that is no JSON. */
    public static final class NoJson extends Exception {
        private static final long serialVersionUID = 1;

        private NoJson() {
            super("not one JSON value", null, false, false);
        }
    }

    /**
     * The one value of this text.
     *
     * @throws NoJson if it is not one JSON value, or nested deeper than 64 levels
     */
    public static @Nullable Object read(byte[] utf8) throws NoJson {
        try (JsonParser parser =
                FACTORY.createParser(ObjectReadContext.empty(), new String(utf8, StandardCharsets.UTF_8))) {
            JsonToken token = parser.nextToken();
            if (token == null) {
                throw new NoJson();
            }
            Object value = value(parser, token, 0);
            if (parser.nextToken() != null) {
                throw new NoJson();
            }
            return value;
        } catch (JacksonException e) {
            throw new NoJson();
        }
    }

    private static @Nullable Object value(JsonParser parser, JsonToken token, int depth) throws NoJson {
        if (depth > MAX_DEPTH) {
            throw new NoJson();
        }
        return switch (token) {
            case START_OBJECT -> {
                Map<String, @Nullable Object> map = new LinkedHashMap<>();
                while (parser.nextToken() != JsonToken.END_OBJECT) {
                    String name = parser.currentName();
                    map.put(name, value(parser, parser.nextToken(), depth + 1));
                }
                yield map;
            }
            case START_ARRAY -> {
                List<@Nullable Object> list = new ArrayList<>();
                for (JsonToken next = parser.nextToken(); next != JsonToken.END_ARRAY; next = parser.nextToken()) {
                    list.add(value(parser, next, depth + 1));
                }
                yield list;
            }
            case VALUE_STRING -> parser.getString();
            case VALUE_NUMBER_INT, VALUE_NUMBER_FLOAT -> new BigDecimal(parser.getString());
            case VALUE_TRUE -> true;
            case VALUE_FALSE -> false;
            case VALUE_NULL -> null;
            default -> throw new NoJson();
        };
    }

    /** The text of a value. */
    public static byte[] write(@Nullable Object value) {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        try {
            JsonForm.write(out, json -> write(json, value));
        } catch (IOException e) {
            throw new IllegalStateException("writing to memory failed", e);
        }
        return out.toByteArray();
    }

    private static void write(JsonGenerator json, @Nullable Object value) {
        if (value instanceof Map<?, ?> map) {
            json.writeStartObject();
            map.forEach((name, one) -> {
                json.writeName(String.valueOf(name));
                write(json, one);
            });
            json.writeEndObject();
        } else if (value instanceof List<?> list) {
            json.writeStartArray();
            list.forEach(one -> write(json, one));
            json.writeEndArray();
        } else if (value instanceof String text) {
            json.writeString(text);
        } else if (value instanceof Boolean flag) {
            json.writeBoolean(flag);
        } else if (value instanceof BigDecimal number) {
            json.writeNumber(number);
        } else if (value instanceof Number number) {
            json.writeNumber(number.longValue());
        } else if (value == null) {
            json.writeNull();
        } else {
            throw new IllegalArgumentException("no value of JSON: " + value.getClass());
        }
    }
}
