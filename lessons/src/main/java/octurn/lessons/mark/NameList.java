package octurn.lessons.mark;

import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.text.Normalizer;
import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import octurn.diag.Diagnostic;
import octurn.diag.Span;
import octurn.json.Reading;
import org.jspecify.annotations.Nullable;

/**
 * Which student a file or folder is from: comma-separated values (RFC 4180), UTF-8, in each row the name of the file or
 * folder, with or without ending, and the student's name. A row of one cell names a student whose file goes by the same
 * name. Empty rows, and those that begin with {@code #}, are passed over.
 *
 * @param students by the name of their file or folder, in the order of the file
 */
public record NameList(Map<String, String> students) {

    /** The list of a course that has none. */
    public static final NameList NONE = new NameList(Map.of());

    private static final int MOST_BYTES = 1 << 20;

    public NameList {
        students = Collections.unmodifiableMap(new LinkedHashMap<>(students));
    }

    /** Reads a list. */
    public static Reading<NameList> read(String file, byte[] utf8) {
        if (utf8.length > MOST_BYTES) {
            return refused(Diagnostic.error(Span.file(file), "larger than 1 MiB, the most that is read", null, null));
        }
        String text;
        try {
            text = StandardCharsets.UTF_8
                    .newDecoder()
                    .decode(ByteBuffer.wrap(utf8))
                    .toString();
        } catch (CharacterCodingException e) {
            return refused(Diagnostic.error(Span.file(file), "not UTF-8 text", "save it as UTF-8", null));
        }
        Map<String, String> students = new LinkedHashMap<>();
        List<Diagnostic> problems = new ArrayList<>();
        int number = 0;
        for (String line : (text.startsWith("\uFEFF") ? text.substring(1) : text).split("\r?\n", -1)) {
            number++;
            if (line.isBlank() || line.startsWith("#")) {
                continue;
            }
            List<String> cells = cells(line);
            String entry = composed(cells.get(0));
            String student = cells.size() == 1 ? entry : composed(cells.get(1));
            if (cells.size() > 2 || entry.isEmpty() || student.isEmpty()) {
                problems.add(
                        error(file, number, "this is not a name, nor two", "a row is file-or-folder,student", line));
            } else if (students.putIfAbsent(entry, student) != null) {
                problems.add(error(file, number, "\"%s\" is in the list twice".formatted(entry), null, line));
            }
        }
        return problems.isEmpty()
                ? new Reading.Accepted<>(new NameList(students), List.of())
                : new Reading.Refused<>(problems);
    }

    private static Reading<NameList> refused(Diagnostic diagnostic) {
        return new Reading.Refused<>(List.of(diagnostic));
    }

    private static Diagnostic error(String file, int line, String message, @Nullable String hint, String text) {
        return Diagnostic.error(new Span(file, line, 1, text.codePointCount(0, text.length())), message, hint, text);
    }

    private static String composed(String name) {
        return Normalizer.normalize(name, Normalizer.Form.NFC).strip();
    }

    /** The cells of a row; in quotes a comma is a comma, and two quotes are one. */
    private static List<String> cells(String line) {
        List<String> cells = new ArrayList<>();
        StringBuilder cell = new StringBuilder();
        boolean quoted = false;
        for (int i = 0; i < line.length(); i++) {
            char c = line.charAt(i);
            if (quoted && c == '"' && i + 1 < line.length() && line.charAt(i + 1) == '"') {
                cell.append(c);
                i++;
            } else if (c == '"' && (quoted || cell.isEmpty())) {
                quoted = !quoted;
            } else if (c == ',' && !quoted) {
                cells.add(cell.toString());
                cell.setLength(0);
            } else {
                cell.append(c);
            }
        }
        cells.add(cell.toString());
        return cells;
    }

    /** The student whom this is from, or null if the list does not say. */
    public @Nullable String student(Handed handed) {
        String whole = students.get(composed(handed.entry()));
        return whole != null ? whole : students.get(handed.student());
    }

    /** The students from whom none of these is, with the name under which something was expected. */
    public Map<String, String> without(List<Handed> entries) {
        Map<String, String> missing = new LinkedHashMap<>(students);
        for (Handed handed : entries) {
            if (missing.remove(composed(handed.entry())) == null) {
                missing.remove(handed.student());
            }
        }
        return missing;
    }
}
