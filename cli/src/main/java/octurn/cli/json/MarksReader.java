package octurn.cli.json;

import java.io.IOException;
import java.io.InputStream;
import java.time.Instant;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import octurn.lessons.mark.Checked;
import octurn.lessons.mark.Marks;
import octurn.lessons.mark.Remark;
import octurn.lessons.mark.Row;
import octurn.lessons.mark.Status;
import octurn.lessons.mark.Structure;
import octurn.lessons.mark.Work;
import org.jspecify.annotations.Nullable;
import tools.jackson.core.JacksonException;
import tools.jackson.core.JsonParser;
import tools.jackson.core.JsonToken;
import tools.jackson.core.ObjectReadContext;
import tools.jackson.core.StreamReadFeature;
import tools.jackson.core.exc.JacksonIOException;
import tools.jackson.core.json.JsonFactory;

/** Reads marks that {@link MarksJson} wrote. Such files are made by us, so the first mistake ends the reading. */
public final class MarksReader {

    private static final JsonFactory FACTORY = JsonFactory.builder()
            .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
            .build();

    /** A file that holds no marks. */
    public static final class NoMarks extends Exception {
        private static final long serialVersionUID = 1;

        private NoMarks(String message) {
            super(message, null, false, false);
        }

        /** What is wrong with it. */
        public String reason() {
            return String.valueOf(getMessage());
        }
    }

    /** One JSON object. */
    private record Fields(Map<String, @Nullable Object> fields) {

        private <T> T get(String name, Class<T> type) throws NoMarks {
            Object value = fields.get(name);
            if (type.isInstance(value)) {
                return type.cast(value);
            }
            throw new NoMarks("holds no marks: %s is missing, or is not what it should be".formatted(name));
        }

        String text(String name) throws NoMarks {
            return get(name, String.class);
        }

        long whole(String name) throws NoMarks {
            return get(name, Long.class);
        }

        int small(String name) throws NoMarks {
            return (int) whole(name);
        }

        boolean truth(String name) throws NoMarks {
            return get(name, Boolean.class);
        }

        Fields object(String name) throws NoMarks {
            return get(name, Fields.class);
        }

        @Nullable
        String textOrNull(String name) throws NoMarks {
            return fields.containsKey(name) && fields.get(name) == null ? null : text(name);
        }

        @Nullable
        Instant moment(String name) throws NoMarks {
            String text = textOrNull(name);
            try {
                return text == null ? null : Instant.parse(text);
            } catch (DateTimeParseException e) {
                throw new NoMarks("holds no marks: %s is no time".formatted(name));
            }
        }

        <T> List<T> list(String name, Class<T> type) throws NoMarks {
            List<T> list = new ArrayList<>();
            for (Object item : get(name, List.class)) {
                if (!type.isInstance(item)) {
                    throw new NoMarks("holds no marks: %s is not what it should be".formatted(name));
                }
                list.add(type.cast(item));
            }
            return list;
        }
    }

    private MarksReader() {}

    /**
     * Reads one file.
     *
     * @throws NoMarks if it holds none
     * @throws IOException if the stream does
     */
    public static Marks read(InputStream in) throws IOException, NoMarks {
        try (JsonParser json = FACTORY.createParser(ObjectReadContext.empty(), in)) {
            Object value = value(json.nextToken(), json);
            if (json.nextToken() != null || !(value instanceof Fields fields)) {
                throw new NoMarks("holds no marks");
            }
            return marks(fields);
        } catch (JacksonIOException e) {
            throw e.getCause();
        } catch (JacksonException e) {
            throw new NoMarks("line %d, column %d: is no JSON"
                    .formatted(e.getLocation().getLineNr(), e.getLocation().getColumnNr()));
        } catch (IllegalArgumentException e) {
            throw new NoMarks("holds no marks: " + e.getMessage());
        }
    }

    private static @Nullable Object value(@Nullable JsonToken token, JsonParser json) throws NoMarks {
        if (token == null) {
            throw new NoMarks("is empty, or ends too early");
        }
        return switch (token) {
            case START_OBJECT -> {
                Map<String, @Nullable Object> fields = new LinkedHashMap<>();
                while (json.nextToken() != JsonToken.END_OBJECT) {
                    String name = json.currentName();
                    fields.put(name, value(json.nextToken(), json));
                }
                yield new Fields(fields);
            }
            case START_ARRAY -> {
                List<@Nullable Object> items = new ArrayList<>();
                for (JsonToken next = json.nextToken(); next != JsonToken.END_ARRAY; next = json.nextToken()) {
                    items.add(value(next, json));
                }
                yield items;
            }
            case VALUE_STRING -> json.getString();
            case VALUE_NUMBER_INT -> json.getLongValue();
            case VALUE_TRUE -> true;
            case VALUE_FALSE -> false;
            case VALUE_NULL -> null;
            default -> throw new NoMarks("holds no marks");
        };
    }

    private static Marks marks(Fields fields) throws NoMarks {
        if (!fields.text("octurn").equals(MarksJson.FORM)) {
            throw new NoMarks("holds no marks of the form that this version reads (%s)".formatted(MarksJson.FORM));
        }
        List<Marks.Task> tasks = new ArrayList<>();
        for (Fields task : fields.list("tasks", Fields.class)) {
            tasks.add(new Marks.Task(task.small("step"), task.text("title"), task.text("file")));
        }
        Fields limits = fields.object("limits");
        List<Row> rows = new ArrayList<>();
        for (Fields row : fields.list("students", Fields.class)) {
            rows.add(row(row));
        }
        return new Marks(
                new Marks.Heading(
                        fields.text("lesson"),
                        fields.text("title"),
                        tasks,
                        new Marks.Limits(limits.whole("cycles"), limits.small("bytes"), limits.small("seconds")),
                        fields.moment("due"),
                        fields.text("key")),
                rows);
    }

    private static Row row(Fields row) throws NoMarks {
        List<Work> works = new ArrayList<>();
        for (Fields work : row.list("work", Fields.class)) {
            works.add(work(work));
        }
        return new Row(
                row.text("entry"),
                row.text("student"),
                row.moment("handedIn"),
                row.truth("late"),
                row.list("notes", String.class),
                works);
    }

    private static Work work(Fields work) throws NoMarks {
        List<Remark> remarks = new ArrayList<>();
        for (Fields remark : work.list("remarks", Fields.class)) {
            remarks.add(new Remark(
                    remark.small("line"),
                    remark.small("column"),
                    remark.truth("error"),
                    remark.text("message"),
                    remark.textOrNull("hint")));
        }
        List<Checked> checks = new ArrayList<>();
        for (Fields check : work.list("checks", Fields.class)) {
            checks.add(new Checked(
                    check.text("check"),
                    check.text("run"),
                    check.truth("passed"),
                    check.text("message"),
                    check.small("line"),
                    check.whole("cycle")));
        }
        return new Work(
                work.small("step"),
                Status.of(work.text("status")),
                work.text("file"),
                work.text("sha256"),
                new Structure(work.text("structure"), work.small("own")),
                work.truth("asModel"),
                work.text("message"),
                remarks,
                checks);
    }
}
