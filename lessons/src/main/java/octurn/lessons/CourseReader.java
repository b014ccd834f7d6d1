package octurn.lessons;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import octurn.json.Document;
import octurn.json.Fields;
import octurn.json.JsonValue;
import octurn.json.Problems;
import octurn.json.Reading;
import org.jspecify.annotations.Nullable;

/** Reads {@code course.json}. */
public final class CourseReader {

    /** What a course file says it is. */
    static final String FORM = "course 1";

    private static final List<String> FIELDS = List.of("octurn", "title", "concepts", "lessons");

    private final Problems problems;
    private final Strings strings;

    private CourseReader(Problems problems) {
        this.problems = problems;
        this.strings = new Strings(problems);
    }

    /**
     * Reads a course.
     *
     * @param file the file's name, for the messages
     * @param utf8 its bytes
     * @return the course, or all that is wrong with the file
     */
    public static Reading<Course> read(String file, byte[] utf8) {
        return Document.read(file, utf8, "a course", (root, problems) -> new CourseReader(problems).course(root));
    }

    private @Nullable Course course(JsonValue root) {
        Fields fields = Fields.of(root, "", FIELDS, problems);
        if (fields == null) {
            return null;
        }
        strings.form(fields, FORM);
        String title = strings.required(fields, "title", Strings.TITLE);
        Map<String, String> concepts = concepts(fields);
        List<String> lessons = lessons(fields);
        return problems.anyError() || title == null ? null : new Course(title, concepts, lessons);
    }

    private Map<String, String> concepts(Fields course) {
        Map<String, String> concepts = new LinkedHashMap<>();
        JsonValue value = course.required("concepts", "an object with a line for each concept");
        List<JsonValue.Member> members =
                value == null ? null : Fields.members(value, "concepts", "a line for each concept", problems);
        for (JsonValue.Member member : members == null ? List.<JsonValue.Member>of() : members) {
            strings.checkName(member, "concepts", Strings.CONCEPT);
            String line = strings.text(member.value(), "concepts." + member.name(), Strings.SENTENCE);
            concepts.put(member.name(), line == null ? "" : line);
        }
        return concepts;
    }

    private List<String> lessons(Fields course) {
        List<String> lessons = new ArrayList<>();
        JsonValue value = course.required("lessons", "the lessons' folders, in order");
        List<JsonValue> items = value == null ? null : Fields.items(value, "lessons", "folders", problems);
        Set<String> seen = new HashSet<>();
        for (int i = 0; items != null && i < items.size(); i++) {
            String path = "lessons[%d]".formatted(i);
            String lesson = strings.text(items.get(i), path, Strings.ID);
            if (lesson != null && !seen.add(lesson)) {
                problems.error(items.get(i), "%s: %s stands in it already".formatted(path, lesson), null);
            }
            lessons.add(lesson == null ? "" : lesson);
        }
        if (items != null && items.isEmpty() && value != null) {
            problems.error(value, "lessons: a course of no lessons", "allowed: at least one folder");
        }
        return lessons;
    }
}
