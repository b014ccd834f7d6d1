package octurn.json;

import java.util.List;

/** A JSON value that knows its place: {@code start} and {@code end} are offsets into the text, the end exclusive. */
public sealed interface JsonValue {

    /** The offset of its first character. */
    int start();

    /** The offset after its last character. */
    int end();

    /** What it is, for a message: with its text where that is short. */
    String described();

    /** An object with all its fields in the order of the file, those given twice included. */
    record Obj(int start, int end, List<Member> members) implements JsonValue {
        @Override
        public String described() {
            return "an object";
        }
    }

    /** One field of an object; the offsets are those of its name. */
    record Member(String name, int start, int end, JsonValue value) {}

    /** An array. */
    record Arr(int start, int end, List<JsonValue> items) implements JsonValue {
        @Override
        public String described() {
            return "an array";
        }
    }

    /** A string, its escapes read. */
    record Str(int start, int end, String text) implements JsonValue {
        @Override
        public String described() {
            return "the string " + quoted(text);
        }
    }

    /** A number as it is written. */
    record Num(int start, int end, String text) implements JsonValue {
        @Override
        public String described() {
            return shortened(text);
        }

        /** Whether it is written as a whole number: no point and no exponent. */
        public boolean isWhole() {
            return text.chars().noneMatch(c -> c == '.' || c == 'e' || c == 'E');
        }
    }

    /** {@code true}, {@code false} or {@code null}. */
    record Word(int start, int end, String text) implements JsonValue {
        @Override
        public String described() {
            return text;
        }
    }

    /** In double quotes, cut if it is long. */
    static String quoted(String text) {
        return '"' + shortened(text) + '"';
    }

    /** Cut if it is long. */
    static String shortened(String text) {
        final int most = 40;
        return text.codePointCount(0, text.length()) <= most
                ? text
                : text.substring(0, text.offsetByCodePoints(0, most)) + "..";
    }
}
