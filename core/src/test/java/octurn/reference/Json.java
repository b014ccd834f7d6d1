package octurn.reference;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * JSON for tests, because core has no reader of its own: objects become {@code Map}, arrays {@code List}, whole numbers
 * {@code Long}, and text, {@code true}, {@code false} and {@code null} themselves. The files it reads are ours and right.
 */
final class Json {

    private final String text;
    private int at;

    private Json(String text) {
        this.text = text;
    }

    static Map<String, Object> object(String text) {
        return new Json(text).object();
    }

    private Map<String, Object> object() {
        Map<String, Object> fields = new LinkedHashMap<>();
        take('{');
        for (char next = peek(); next != '}'; next = peek()) {
            String name = string();
            take(':');
            fields.put(name, value());
            if (peek() == ',') {
                take(',');
            }
        }
        take('}');
        return fields;
    }

    private List<Object> array() {
        List<Object> values = new ArrayList<>();
        take('[');
        for (char next = peek(); next != ']'; next = peek()) {
            values.add(value());
            if (peek() == ',') {
                take(',');
            }
        }
        take(']');
        return values;
    }

    private Object value() {
        switch (peek()) {
            case '{' -> {
                return object();
            }
            case '[' -> {
                return array();
            }
            case '"' -> {
                return string();
            }
            default -> {
                int from = at;
                while (at < text.length() && (Character.isLetterOrDigit(text.charAt(at)) || text.charAt(at) == '-')) {
                    at++;
                }
                String word = text.substring(from, at);
                return switch (word) {
                    case "null" -> null;
                    case "true" -> true;
                    case "false" -> false;
                    default -> Long.parseLong(word);
                };
            }
        }
    }

    private String string() {
        StringBuilder found = new StringBuilder();
        take('"');
        while (text.charAt(at) != '"') {
            char c = text.charAt(at++);
            if (c == '\\') {
                char escape = text.charAt(at++);
                switch (escape) {
                    case 'n' -> c = '\n';
                    case 'r' -> c = '\r';
                    case 't' -> c = '\t';
                    case 'b' -> c = '\b';
                    case 'f' -> c = '\f';
                    case 'u' -> {
                        c = (char) Integer.parseInt(text.substring(at, at + 4), 16);
                        at += 4;
                    }
                    default -> c = escape;
                }
            }
            found.append(c);
        }
        at++;
        return found.toString();
    }

    private char peek() {
        while (Character.isWhitespace(text.charAt(at))) {
            at++;
        }
        return text.charAt(at);
    }

    private void take(char c) {
        if (peek() != c) {
            throw new IllegalArgumentException("%c expected at %d".formatted(c, at));
        }
        at++;
    }
}
