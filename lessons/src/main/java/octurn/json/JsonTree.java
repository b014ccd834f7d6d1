package octurn.json;

import java.util.ArrayList;
import java.util.List;
import octurn.diag.Diagnostic;
import octurn.diag.Span;
import org.jspecify.annotations.Nullable;
import tools.jackson.core.JsonParser;
import tools.jackson.core.JsonToken;
import tools.jackson.core.ObjectReadContext;
import tools.jackson.core.exc.StreamReadException;
import tools.jackson.core.exc.UnexpectedEndOfInputException;

/**
 * Text to {@link JsonValue}s, as strictly as RFC 8259 allows: one value and nothing after it, no comments, no NaN, no
 * unpaired surrogates, and no more than {@value #MAX_DEPTH} levels.
 */
final class JsonTree {

    /** More than any file of ours needs, and few enough for recursion. */
    static final int MAX_DEPTH = 32;

    private final SourceText source;
    private final JsonParser parser;

    private JsonTree(SourceText source, JsonParser parser) {
        this.source = source;
        this.parser = parser;
    }

    /**
     * The one value of this text.
     *
     * @param what the sort of file, for the message about an empty one, as in "a design"
     * @throws Refusal if it is not one JSON value
     */
    static JsonValue parse(SourceText source, String what) throws Refusal {
        try (JsonParser parser = Jackson.FACTORY.createParser(
                ObjectReadContext.empty(), source.text().toCharArray())) {
            JsonTree tree = new JsonTree(source, parser);
            try {
                return tree.whole(what);
            } catch (StreamReadException e) {
                throw new Refusal(tree.syntaxError(e));
            }
        }
    }

    private JsonValue whole(String what) throws Refusal {
        JsonToken first = parser.nextToken();
        if (first == null) {
            String hint = "%s is a JSON object, at the least {}".formatted(what);
            throw new Refusal(Diagnostic.error(Span.file(source.file()), "the file is empty", hint, null));
        }
        JsonValue value = value(first, 1);
        if (parser.nextToken() != null) {
            throw refuse(tokenStart(), tokenStart() + 1, "something follows the end of the JSON value", null);
        }
        return value;
    }

    private JsonValue value(JsonToken token, int depth) throws Refusal {
        int start = tokenStart();
        if (depth > MAX_DEPTH) {
            throw refuse(start, start + 1, "nested deeper than %d levels".formatted(MAX_DEPTH), null);
        }
        return switch (token) {
            case START_OBJECT -> object(start, depth);
            case START_ARRAY -> array(start, depth);
            case VALUE_STRING -> {
                String text = checkedString(start);
                yield new JsonValue.Str(start, offset(), text);
            }
            case VALUE_NUMBER_INT, VALUE_NUMBER_FLOAT -> {
                String text = parser.getString();
                yield new JsonValue.Num(start, start + text.length(), text);
            }
            default -> {
                String text = parser.getString();
                yield new JsonValue.Word(start, start + text.length(), text);
            }
        };
    }

    private JsonValue object(int start, int depth) throws Refusal {
        List<JsonValue.Member> members = new ArrayList<>();
        while (parser.nextToken() != JsonToken.END_OBJECT) {
            int nameStart = tokenStart();
            String name = checkedString(nameStart);
            members.add(
                    new JsonValue.Member(name, nameStart, nameEnd(nameStart), value(parser.nextToken(), depth + 1)));
        }
        return new JsonValue.Obj(start, offset(), members);
    }

    /** The parser has read the colon as well, so the end of a name is looked for: its closing quote. */
    private int nameEnd(int start) {
        int at = start + 1;
        while (source.text().charAt(at) != '"') {
            at += source.text().charAt(at) == '\\' ? 2 : 1;
        }
        return at + 1;
    }

    private JsonValue array(int start, int depth) throws Refusal {
        List<JsonValue> items = new ArrayList<>();
        for (JsonToken token = parser.nextToken(); token != JsonToken.END_ARRAY; token = parser.nextToken()) {
            items.add(value(token, depth + 1));
        }
        return new JsonValue.Arr(start, offset(), items);
    }

    /** The string or name that the parser is at. */
    private String checkedString(int start) throws Refusal {
        String text = parser.getString();
        for (int i = 0; i < text.length(); i++) {
            char c = text.charAt(i);
            boolean paired = Character.isHighSurrogate(c)
                    && i + 1 < text.length()
                    && Character.isLowSurrogate(text.charAt(i + 1));
            if (paired) {
                i++;
            } else if (Character.isSurrogate(c)) {
                String message = "the escape \\u%04x is half a character: its other half is missing".formatted((int) c);
                throw refuse(start, start + 1, message, "write both halves, or the character itself");
            }
        }
        return text;
    }

    private Diagnostic syntaxError(StreamReadException e) {
        int length = source.text().length();
        long reported = e.getLocation() == null ? length : e.getLocation().getCharOffset();
        int at = (int) Math.max(0, Math.min(reported, length));
        String said = e.getOriginalMessage();
        if (said.startsWith("Non-standard token")) {
            // The parser stands behind the word.
            int start = wordStart(at);
            String word = source.text().substring(start, at);
            return source.error(
                    start, at, "not JSON: %s is no number of JSON".formatted(word), "numbers are like 12, -3");
        }
        if (e instanceof UnexpectedEndOfInputException || at == length) {
            return source.error(length, length + 1, "not JSON: the file ends too early", expectedAtEnd(said));
        }
        int end = foundEnd(at);
        String found = JsonValue.quoted(source.text().substring(at, end));
        return source.error(at, end, "not JSON: %s cannot stand here".formatted(found), expected(said));
    }

    /** The start of the word that ends at this offset. */
    private int wordStart(int end) {
        int start = end;
        while (start > 0 && isWordPart(source.text().charAt(start - 1))) {
            start--;
        }
        return start;
    }

    /** The end of the word, or of the one character, at this offset. */
    private int foundEnd(int start) {
        String text = source.text();
        int end = start;
        while (end < text.length() && isWordPart(text.charAt(end))) {
            end++;
        }
        return end > start ? end : text.offsetByCodePoints(start, 1);
    }

    private static boolean isWordPart(char c) {
        return Character.isLetterOrDigit(c) || c == '_';
    }

    /** What would be right, told from the parser's own words; null where they are not known. */
    private static @Nullable String expected(String said) {
        if (said.contains("comment")) {
            return "JSON has no comments";
        }
        if (said.contains("property name") && said.contains("double-quote")) {
            return "a field name in double quotes must stand here";
        }
        if (said.contains("colon")) {
            return "a colon must follow the field name";
        }
        if (said.contains("comma to separate Object")) {
            return "a comma or } must stand here";
        }
        if (said.contains("comma to separate Array")) {
            return "a comma or ] must stand here";
        }
        if (said.contains("close marker")) {
            return said.contains("expected '")
                    ? "the innermost open bracket is of the other kind"
                    : "no bracket is open";
        }
        if (said.contains("Leading zero")) {
            return "a number has no leading 0";
        }
        if (said.contains("numeric value")) {
            return "numbers are like 12, -3";
        }
        if (said.contains("has to be escaped")) {
            return "in a string a control character is written as an escape: \\n, \\t, \\u001b";
        }
        if (said.contains("escape")) {
            return "the escapes are \\\" \\\\ \\/ \\b \\f \\n \\r \\t and \\u with four hexadecimal digits";
        }
        if (said.contains("value") || said.contains("Unrecognized token")) {
            return "a value must stand here: a string, number, array, object, true, false or null";
        }
        return null;
    }

    private static @Nullable String expectedAtEnd(String said) {
        if (said.contains("for Object") || said.contains("Object entries") || said.contains("property name")) {
            return "an object is not closed: } is missing";
        }
        if (said.contains("for Array") || said.contains("Array entries")) {
            return "an array is not closed: ] is missing";
        }
        return said.contains("quote") || said.contains("escape") ? "a string is not closed: \" is missing" : null;
    }

    private Refusal refuse(int start, int end, String message, @Nullable String hint) {
        return new Refusal(source.error(start, end, message, hint));
    }

    private int tokenStart() {
        return (int) parser.currentTokenLocation().getCharOffset();
    }

    private int offset() {
        return (int) parser.currentLocation().getCharOffset();
    }
}
