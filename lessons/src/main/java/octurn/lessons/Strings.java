package octurn.lessons;

import java.util.List;
import java.util.regex.Pattern;
import octurn.design.Design;
import octurn.json.Fields;
import octurn.json.JsonValue;
import octurn.json.Problems;
import org.jspecify.annotations.Nullable;

/** Reads the short strings of lesson and course files. */
final class Strings {

    /** What a string may be: a pattern, or (null) a number of printable characters. */
    record Kind(String allowed, @Nullable Pattern pattern, int longest) {}

    static final Kind TITLE = new Kind("1..80 printable characters", null, 80);
    static final Kind SENTENCE = new Kind("1..300 printable characters", null, 300);
    static final Kind UNIT = new Kind("1..20 printable characters", null, 20);
    static final Kind ID = pattern("a folder's name: 1..64 of a-z, 0-9, -, the first no -", "[a-z0-9][a-z0-9-]{0,63}");
    static final Kind FILE =
            pattern("a file's name: 1..64 of a-z, 0-9, ., -, the first a letter or digit", "[a-z0-9][a-z0-9.-]{0,63}");
    static final Kind CONCEPT =
            pattern("a concept's name: 1..40 of a-z, 0-9, blank, -, the first a letter", "[a-z][a-z0-9 -]{0,39}");
    static final Kind NAME =
            pattern("a name: a letter or _, then letters, digits, _, at most 64", "[A-Za-z_][A-Za-z0-9_]{0,63}");

    private final Problems problems;

    Strings(Problems problems) {
        this.problems = problems;
    }

    private static Kind pattern(String allowed, String pattern) {
        return new Kind(allowed, Pattern.compile(pattern), 0);
    }

    /** Checks that a file says it is of this form. */
    void form(Fields fields, String form) {
        JsonValue value = fields.required("octurn", quoted(form));
        String given = value == null ? null : Fields.text(value, "octurn", quoted(form), problems);
        if (value != null && given != null && !given.equals(form)) {
            String kind = form.substring(0, form.indexOf(' '));
            boolean later = given.matches(kind + " [0-9]{1,4}");
            String message = later
                    ? "octurn: %s is a form of a later version".formatted(value.described())
                    : "octurn: %s is not this form".formatted(value.described());
            problems.error(value, message, "allowed: " + quoted(form));
        }
    }

    private static String quoted(String text) {
        return '"' + text + '"';
    }

    /** A string that must be given, or null (and noted) if it is left out or wrong. */
    @Nullable
    String required(Fields fields, String name, Kind kind) {
        JsonValue value = fields.required(name, kind.allowed());
        return value == null ? null : text(value, fields.path(name), kind);
    }

    /** The string that this value is, or null (and noted) if it is none of this kind. */
    @Nullable
    String text(JsonValue value, String path, Kind kind) {
        String text = Fields.text(value, path, kind.allowed(), problems);
        if (text == null || fits(text, kind)) {
            return text;
        }
        problems.error(value, "%s: %s cannot be".formatted(path, value.described()), "allowed: " + kind.allowed());
        return null;
    }

    /** Checks the name of a field that the author chose. */
    void checkName(JsonValue.Member member, String path, Kind kind) {
        if (!fits(member.name(), kind)) {
            problems.error(
                    member.start(),
                    member.end(),
                    "%s: %s cannot be".formatted(path, JsonValue.quoted(member.name())),
                    "allowed: " + kind.allowed());
        }
    }

    /** Whether a text is of this kind. */
    static boolean fits(String text, Kind kind) {
        if (kind.pattern() != null) {
            return kind.pattern().matcher(text).matches();
        }
        int length = text.codePointCount(0, text.length());
        return length >= 1 && length <= kind.longest() && text.codePoints().allMatch(Design::isPrintable);
    }

    /** The strings of an array, those that are wrong left out (and noted); none if it is left out. */
    List<JsonValue> list(Fields fields, String name, Kind kind) {
        JsonValue value = fields.value(name);
        List<JsonValue> items = value == null ? null : Fields.items(value, fields.path(name), "strings", problems);
        if (items == null) {
            return List.of();
        }
        for (int i = 0; i < items.size(); i++) {
            text(items.get(i), "%s[%d]".formatted(fields.path(name), i), kind);
        }
        return items;
    }
}
