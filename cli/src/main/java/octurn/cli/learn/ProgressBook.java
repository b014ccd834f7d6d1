package octurn.cli.learn;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * The progress of all students, as {@code docs/schema/progress.schema.json} describes it. What a later version has added
 * to the form is kept as it was.
 *
 * <p>It works on the values of the JSON file: maps, lists, strings, numbers, booleans.
 */
public final class ProgressBook {

    private static final String FORM = "progress ";
    private static final int VERSION = 1;

    /** A file that holds no progress. */
    public static final class Broken extends Exception {
        private static final long serialVersionUID = 1;

        Broken(String reason) {
            super(reason, null, false, false);
        }

        /** What is wrong with it. */
        public String reason() {
            return String.valueOf(getMessage());
        }
    }

    private final Map<String, @Nullable Object> root;

    private ProgressBook(Map<String, @Nullable Object> root) {
        this.root = root;
    }

    /** A book with nothing in it. */
    public static ProgressBook empty() {
        Map<String, @Nullable Object> root = new LinkedHashMap<>();
        root.put("octurn", FORM + VERSION);
        return new ProgressBook(root);
    }

    /**
     * The book of these values of a file, which it takes over.
     *
     * @throws Broken if they are no progress
     */
    public static ProgressBook of(@Nullable Object values) throws Broken {
        if (!(values instanceof Map<?, ?>)) {
            throw new Broken("it is no JSON object");
        }
        ProgressBook book = new ProgressBook(map(values));
        Object form = book.root.get("octurn");
        if (!(form instanceof String text) || !text.matches("progress [1-9][0-9]{0,5}")) {
            throw new Broken("its \"octurn\" is not \"progress 1\"");
        }
        // What another version has made of the form is not for us to judge.
        if (!book.isLater()) {
            book.check();
        }
        return book;
    }

    /** Whether a later version has written it in a form that this one does not know: then nothing can be noted in it. */
    public boolean isLater() {
        return !(FORM + VERSION).equals(root.get("octurn"));
    }

    /** The values, to be written to a file. */
    public Map<String, @Nullable Object> values() {
        return root;
    }

    private void check() throws Broken {
        try {
            for (Map<String, @Nullable Object> student : list(root, "students")) {
                text(student, "name");
                text(student, "last");
                for (Map<String, @Nullable Object> course : list(student, "courses")) {
                    text(course, "title");
                    text(course, "last");
                    for (Map<String, @Nullable Object> lesson : list(course, "lessons")) {
                        text(lesson, "id");
                        standing(lesson);
                    }
                }
            }
            lastStudent();
        } catch (ClassCastException | ArithmeticException e) {
            throw new Broken("something in it is of another kind than it should be");
        }
    }

    // ---- asking ----

    /** The student who learned last; empty for one without a name. */
    public String lastStudent() {
        return text(root, "last");
    }

    /** The lesson that this student was in last; empty for none. */
    public String lastLesson(String student, String course) {
        Map<String, @Nullable Object> found = find(list(root, "students"), "name", student);
        Map<String, @Nullable Object> inCourse = found == null ? null : find(list(found, "courses"), "title", course);
        return inCourse == null ? "" : text(inCourse, "last");
    }

    /** How far a student is in each lesson of a course, by the lesson's id. */
    public Map<String, Standing> standings(String student, String course) {
        Map<String, Standing> standings = new HashMap<>();
        Map<String, @Nullable Object> found = find(list(root, "students"), "name", student);
        Map<String, @Nullable Object> inCourse = found == null ? null : find(list(found, "courses"), "title", course);
        if (inCourse != null) {
            for (Map<String, @Nullable Object> lesson : list(inCourse, "lessons")) {
                standings.put(text(lesson, "id"), standing(lesson));
            }
        }
        return standings;
    }

    private static Standing standing(Map<String, @Nullable Object> lesson) {
        Map<Integer, Standing.Step> steps = new HashMap<>();
        for (Map<String, @Nullable Object> step : list(lesson, "steps")) {
            steps.put(
                    number(step, "step"),
                    new Standing.Step(
                            text(step, "lesson"),
                            flag(step, "done"),
                            number(step, "tries"),
                            text(step, "answer"),
                            text(step, "file"),
                            text(step, "program"),
                            number(step, "hints")));
        }
        return new Standing(number(lesson, "at"), steps);
    }

    // ---- noting ----

    /** Notes a change. */
    public void note(Change change) {
        Change.Where where = change.where();
        root.put("last", where.student());
        Map<String, @Nullable Object> student = findOrAdd(root, "students", "name", where.student());
        Map<String, @Nullable Object> course = findOrAdd(student, "courses", "title", where.course());
        course.put("last", where.lesson());
        Map<String, @Nullable Object> lesson = findOrAdd(course, "lessons", "id", where.lesson());
        if (change instanceof Change.Came) {
            lesson.put("at", change.step());
            return;
        }
        Map<String, @Nullable Object> step = findOrAdd(lesson, "steps", "step", change.step());
        // What was done of the lesson as it was stays so until it has lapsed or been done anew.
        boolean wasDone = flag(step, "done");
        if (change instanceof Change.Went) {
            step.put("done", true);
        } else if (change instanceof Change.Answered answered) {
            step.put("tries", number(step, "tries") + 1);
            if (!wasDone || answered.right()) {
                step.put("answer", answered.answer());
            }
            step.put("done", wasDone || answered.right());
        } else if (change instanceof Change.Began began) {
            step.put("file", began.file());
        } else if (change instanceof Change.Hinted hinted) {
            step.put("hints", Math.max(number(step, "hints"), hinted.hints()));
        } else if (change instanceof Change.Checked checked) {
            step.put("tries", number(step, "tries") + 1);
            if (!wasDone || checked.passed()) {
                step.put("program", checked.program());
            }
            step.put("done", wasDone || checked.passed());
        } else if (change instanceof Change.Lapsed) {
            step.put("done", false);
        }
        step.put("lesson", where.fingerprint());
    }

    // ---- the values ----

    private static @Nullable Map<String, @Nullable Object> find(
            List<Map<String, @Nullable Object>> among, String key, Object value) {
        for (Map<String, @Nullable Object> one : among) {
            Object there = one.get(key);
            if (value.equals(there instanceof Number number ? (Object) number.intValue() : there)) {
                return one;
            }
        }
        return null;
    }

    private static Map<String, @Nullable Object> findOrAdd(
            Map<String, @Nullable Object> in, String listName, String key, Object value) {
        Map<String, @Nullable Object> found = find(list(in, listName), key, value);
        if (found == null) {
            found = new LinkedHashMap<>();
            found.put(key, value);
            List<@Nullable Object> all = new ArrayList<>(list(in, listName));
            all.add(found);
            in.put(listName, all);
        }
        return found;
    }

    @SuppressWarnings("unchecked") // keys of JSON objects are strings
    private static Map<String, @Nullable Object> map(@Nullable Object value) {
        if (!(value instanceof Map<?, ?>)) {
            throw new ClassCastException("no object");
        }
        return (Map<String, @Nullable Object>) value;
    }

    private static List<Map<String, @Nullable Object>> list(Map<String, @Nullable Object> in, String name) {
        Object value = in.get(name);
        if (value == null) {
            return List.of();
        }
        List<Map<String, @Nullable Object>> maps = new ArrayList<>();
        for (Object one : (List<?>) value) {
            maps.add(map(one));
        }
        return maps;
    }

    private static String text(Map<String, @Nullable Object> in, String name) {
        Object value = in.get(name);
        return value == null ? "" : (String) value;
    }

    private static int number(Map<String, @Nullable Object> in, String name) {
        Object value = in.get(name);
        long number = value == null ? 0 : ((Number) value).longValue();
        return (int) Math.max(0, Math.min(Integer.MAX_VALUE - 1, number));
    }

    private static boolean flag(Map<String, @Nullable Object> in, String name) {
        Object value = in.get(name);
        return value != null && (Boolean) value;
    }
}
