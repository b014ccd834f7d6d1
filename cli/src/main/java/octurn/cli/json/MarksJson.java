package octurn.cli.json;

import java.io.IOException;
import java.io.OutputStream;
import java.time.Instant;
import octurn.json.JsonForm;
import octurn.lessons.mark.Alike;
import octurn.lessons.mark.Checked;
import octurn.lessons.mark.Marks;
import octurn.lessons.mark.Remark;
import octurn.lessons.mark.Row;
import octurn.lessons.mark.Work;
import org.jspecify.annotations.Nullable;
import tools.jackson.core.JsonGenerator;

/** Writes the marks of a class as {@code docs/marking.md} describes it; {@link MarksReader} reads them again. */
public final class MarksJson {

    /** What such a file says of itself. */
    static final String FORM = "marks 1";

    private MarksJson() {}

    /**
     * Writes one JSON object.
     *
     * @throws IOException if the stream does
     */
    public static void write(Marks marks, OutputStream out) throws IOException {
        JsonForm.write(out, json -> marks(marks, json));
    }

    private static void marks(Marks marks, JsonGenerator json) {
        Marks.Heading heading = marks.heading();
        json.writeStartObject();
        json.writeStringProperty("octurn", FORM);
        json.writeStringProperty("lesson", heading.lesson());
        json.writeStringProperty("title", heading.title());
        json.writeStringProperty("key", heading.key());
        json.writeObjectPropertyStart("limits");
        json.writeNumberProperty("cycles", heading.limits().cycles());
        json.writeNumberProperty("bytes", heading.limits().bytes());
        json.writeNumberProperty("seconds", heading.limits().seconds());
        json.writeEndObject();
        moment("due", heading.due(), json);
        json.writeArrayPropertyStart("tasks");
        for (Marks.Task task : heading.tasks()) {
            json.writeStartObject();
            json.writeNumberProperty("step", task.step());
            json.writeStringProperty("title", task.title());
            json.writeStringProperty("file", task.file());
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeArrayPropertyStart("students");
        marks.rows().forEach(row -> row(row, json));
        json.writeEndArray();
        json.writeArrayPropertyStart("sameStructure");
        marks.alike().forEach(alike -> alike(alike, marks, json));
        json.writeEndArray();
        json.writeEndObject();
    }

    private static void row(Row row, JsonGenerator json) {
        json.writeStartObject();
        json.writeStringProperty("student", row.student());
        json.writeStringProperty("entry", row.entry());
        moment("handedIn", row.handedIn(), json);
        json.writeBooleanProperty("late", row.late());
        json.writeNumberProperty("passed", row.passed());
        json.writeArrayPropertyStart("notes");
        row.notes().forEach(json::writeString);
        json.writeEndArray();
        json.writeArrayPropertyStart("work");
        row.works().forEach(work -> work(work, json));
        json.writeEndArray();
        json.writeEndObject();
    }

    private static void work(Work work, JsonGenerator json) {
        json.writeStartObject();
        json.writeNumberProperty("step", work.step());
        json.writeStringProperty("status", work.status().text());
        json.writeStringProperty("file", work.file());
        json.writeStringProperty("sha256", work.sha256());
        json.writeStringProperty("structure", work.structure().print());
        json.writeNumberProperty("own", work.structure().own());
        json.writeBooleanProperty("asModel", work.asModel());
        json.writeStringProperty("message", work.message());
        json.writeArrayPropertyStart("remarks");
        for (Remark remark : work.remarks()) {
            json.writeStartObject();
            json.writeNumberProperty("line", remark.line());
            json.writeNumberProperty("column", remark.column());
            json.writeBooleanProperty("error", remark.error());
            json.writeStringProperty("message", remark.message());
            if (remark.hint() == null) {
                json.writeNullProperty("hint");
            } else {
                json.writeStringProperty("hint", remark.hint());
            }
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeArrayPropertyStart("checks");
        for (Checked check : work.checks()) {
            json.writeStartObject();
            json.writeStringProperty("check", check.check());
            json.writeStringProperty("run", check.run());
            json.writeBooleanProperty("passed", check.passed());
            json.writeStringProperty("message", check.message());
            json.writeNumberProperty("line", check.line());
            json.writeNumberProperty("cycle", check.cycle());
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeEndObject();
    }

    private static void alike(Alike alike, Marks marks, JsonGenerator json) {
        json.writeStartObject();
        json.writeNumberProperty("step", alike.step());
        json.writeBooleanProperty("identical", alike.identical());
        json.writeBooleanProperty("asModel", alike.asModel());
        json.writeNumberProperty("own", alike.own());
        json.writeArrayPropertyStart("students");
        for (int row : alike.rows()) {
            json.writeStartObject();
            json.writeStringProperty("student", marks.rows().get(row).student());
            json.writeStringProperty("entry", marks.rows().get(row).entry());
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeEndObject();
    }

    private static void moment(String name, @Nullable Instant moment, JsonGenerator json) {
        if (moment == null) {
            json.writeNullProperty(name);
        } else {
            json.writeStringProperty(name, moment.toString());
        }
    }
}
