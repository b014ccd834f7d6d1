package octurn.json;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import octurn.diag.Nearest;
import org.jspecify.annotations.Nullable;

/**
 * The fields of one object of a file. Asking for one checks it and notes what is wrong, so that the reader can go on
 * with a stand-in: the record it makes is thrown away if there was any error.
 */
public final class Fields {

    private final String path;
    private final JsonValue.Obj object;
    private final Map<String, JsonValue.Member> byName = new HashMap<>();
    private final Problems problems;

    private Fields(String path, JsonValue.Obj object, Problems problems) {
        this.path = path;
        this.object = object;
        this.problems = problems;
    }

    /**
     * The fields of this value, or null (and noted) if it is no object. Unknown fields and those given twice are noted;
     * of the latter the first counts.
     *
     * @param path the value's own place, as in {@code inputs[2].square}; empty for the whole file
     */
    public static @Nullable Fields of(JsonValue value, String path, List<String> known, Problems problems) {
        if (!(value instanceof JsonValue.Obj object)) {
            String name = path.isEmpty() ? "the file" : path;
            problems.error(value, "%s: %s is not an object".formatted(name, value.described()), allowed(known));
            return null;
        }
        Fields fields = new Fields(path, object, problems);
        for (JsonValue.Member member : object.members()) {
            if (!known.contains(member.name())) {
                fields.unknown(member, known);
            } else if (fields.byName.putIfAbsent(member.name(), member) != null) {
                String message = "%s is given twice".formatted(fields.path(member.name()));
                problems.error(member.start(), member.end(), message, "leave one of the two out");
            }
        }
        return fields;
    }

    private void unknown(JsonValue.Member member, List<String> known) {
        String message = (path.isEmpty() ? "" : path + ": ") + "unknown field " + JsonValue.quoted(member.name());
        String nearest = Nearest.of(member.name(), known);
        String hint = nearest == null ? allowed(known) : "did you mean \"%s\"? %s".formatted(nearest, allowed(known));
        problems.error(member.start(), member.end(), message, hint);
    }

    private static String allowed(List<String> known) {
        return "allowed here: " + String.join(", ", known);
    }

    /** A field's place in the file, as in {@code cost.plain}. */
    public String path(String name) {
        return path.isEmpty() ? name : path + "." + name;
    }

    /** Whether a field is given. */
    public boolean has(String name) {
        return byName.containsKey(name);
    }

    /** Those of these fields that are given, in the order of the file. */
    public List<String> given(List<String> names) {
        return object.members().stream()
                .map(JsonValue.Member::name)
                .filter(names::contains)
                .distinct()
                .toList();
    }

    /** The value of a field, or null if it is left out. */
    public @Nullable JsonValue value(String name) {
        JsonValue.Member member = byName.get(name);
        return member == null ? null : member.value();
    }

    /** The value of a field that must not be left out, or null (and noted) if it is. */
    public @Nullable JsonValue required(String name, String allowed) {
        JsonValue value = value(name);
        if (value == null) {
            String message = "%s is missing".formatted(path(name));
            problems.error(object.start(), object.start() + 1, message, "allowed: " + allowed);
        }
        return value;
    }

    /** Notes an error about a field's name, as where it has no business. */
    public void misplaced(String name, String message, @Nullable String hint) {
        JsonValue.Member member = byName.get(name);
        if (member != null) {
            problems.error(member.start(), member.end(), message, hint);
        }
    }

    /** Notes an error about the object as a whole. */
    public void wrong(String message, String hint) {
        problems.error(object.start(), object.start() + 1, message, hint);
    }

    /** A whole number, or null if it is left out or (noted) wrong. */
    public @Nullable Long whole(String name, long min, long max) {
        JsonValue value = value(name);
        return value == null ? null : whole(value, path(name), min, max, problems);
    }

    /** A whole number that must be given, or null (and noted) if it is left out or wrong. */
    public @Nullable Long requiredWhole(String name, long min, long max) {
        JsonValue value = required(name, range(min, max));
        return value == null ? null : whole(value, path(name), min, max, problems);
    }

    /** The number that this value is, or null (and noted) if it is no whole number of that range. */
    public static @Nullable Long whole(JsonValue value, String path, long min, long max, Problems problems) {
        if (!(value instanceof JsonValue.Num number)) {
            String message = "%s: %s is not a whole number in %s".formatted(path, value.described(), range(min, max));
            problems.error(value, message, null);
            return null;
        }
        if (!number.isWhole()) {
            String message = "%s: %s is not a whole number in %s".formatted(path, value.described(), range(min, max));
            problems.error(value, message, "write it without point and exponent");
            return null;
        }
        Long exact = exact(number.text());
        if (exact == null || exact < min || exact > max) {
            problems.error(value, "%s: %s is not in %s".formatted(path, value.described(), range(min, max)), null);
            return null;
        }
        return exact;
    }

    /** The number's value, or null if it has more characters than any range of ours needs. */
    private static @Nullable Long exact(String text) {
        final int most = 18;
        return text.length() > most ? null : Long.valueOf(text);
    }

    /** As ranges are written in the documents. */
    public static String range(long min, long max) {
        return min + ".." + max;
    }

    /** A text, or null if it is left out or (noted) none. */
    public static @Nullable String text(JsonValue value, String path, String allowed, Problems problems) {
        if (value instanceof JsonValue.Str string) {
            return string.text();
        }
        problems.error(value, "%s: %s is not a string".formatted(path, value.described()), "allowed: " + allowed);
        return null;
    }

    /** The items of an array, or null (and noted) if the value is none. */
    public static @Nullable List<JsonValue> items(JsonValue value, String path, String allowed, Problems problems) {
        if (value instanceof JsonValue.Arr array) {
            return array.items();
        }
        problems.error(value, "%s: %s is not an array".formatted(path, value.described()), "allowed: " + allowed);
        return null;
    }

    /**
     * The fields of an object whose names the author chose, or null (and noted) if the value is none. Names given twice
     * are noted; the first counts.
     */
    public static @Nullable List<JsonValue.Member> members(
            JsonValue value, String path, String allowed, Problems problems) {
        if (!(value instanceof JsonValue.Obj object)) {
            String message = "%s: %s is not an object".formatted(path, value.described());
            problems.error(value, message, "allowed: " + allowed);
            return null;
        }
        List<JsonValue.Member> members = new ArrayList<>();
        Set<String> seen = new HashSet<>();
        for (JsonValue.Member member : object.members()) {
            if (seen.add(member.name())) {
                members.add(member);
            } else {
                String message = "%s.%s is given twice".formatted(path, JsonValue.shortened(member.name()));
                problems.error(member.start(), member.end(), message, "leave one of the two out");
            }
        }
        return members;
    }
}
