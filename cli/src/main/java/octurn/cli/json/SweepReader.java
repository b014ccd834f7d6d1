package octurn.cli.json;

import java.io.IOException;
import java.io.InputStream;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import octurn.compare.RunFigures;
import octurn.design.Design;
import octurn.json.DesignReader;
import octurn.json.Reading;
import octurn.machine.End;
import octurn.sweep.Axis;
import octurn.sweep.Grid;
import octurn.sweep.SweepRow;
import octurn.sweep.SweepRow.Status;
import org.jspecify.annotations.Nullable;
import tools.jackson.core.JacksonException;
import tools.jackson.core.JsonParser;
import tools.jackson.core.JsonToken;
import tools.jackson.core.ObjectReadContext;
import tools.jackson.core.StreamReadFeature;
import tools.jackson.core.exc.JacksonIOException;
import tools.jackson.core.json.JsonFactory;

/** Reads sweeps that {@link SweepJson} wrote. Such files are long and made by us, so the first mistake ends the reading. */
public final class SweepReader {

    private static final JsonFactory FACTORY = JsonFactory.builder()
            .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
            .build();

    private static final List<String> FIELDS =
            List.of("program", "fingerprint", "design", "limit", "set", "vary", "own", "points", "finding", "rows");

    /** A file that is no sweep. */
    public static final class NoSweep extends Exception {
        private static final long serialVersionUID = 1;

        private NoSweep(String message) {
            super(message, null, false, false);
        }

        /** What is wrong with it. */
        public String reason() {
            return String.valueOf(getMessage());
        }
    }

    private final JsonParser json;

    private SweepReader(JsonParser json) {
        this.json = json;
    }

    /**
     * Reads one sweep.
     *
     * @throws NoSweep if it is none
     * @throws IOException if the stream does
     */
    public static SweepFile read(InputStream in) throws IOException, NoSweep {
        try (JsonParser json = FACTORY.createParser(ObjectReadContext.empty(), in)) {
            SweepReader reader = new SweepReader(json);
            SweepFile sweep = reader.sweep();
            if (json.nextToken() != null) {
                throw reader.wrong("there is more behind its end");
            }
            return sweep;
        } catch (JacksonIOException e) {
            throw e.getCause();
        } catch (JacksonException e) {
            throw new NoSweep("line %d, column %d: is no JSON"
                    .formatted(e.getLocation().getLineNr(), e.getLocation().getColumnNr()));
        } catch (IllegalArgumentException e) {
            throw new NoSweep(String.valueOf(e.getMessage()));
        }
    }

    private NoSweep wrong(String what) {
        return new NoSweep("line %d, column %d: %s"
                .formatted(
                        json.currentTokenLocation().getLineNr(),
                        json.currentTokenLocation().getColumnNr(),
                        what));
    }

    private void expect(JsonToken token) throws NoSweep {
        if (json.nextToken() != token) {
            throw wrong("is no result of a sweep");
        }
    }

    private SweepFile sweep() throws NoSweep {
        Map<String, Object> fields = new HashMap<>();
        List<Axis> set = List.of();
        List<Axis> vary = List.of();
        List<String> own = List.of();
        Grid grid = null;
        List<SweepRow> rows = new ArrayList<>();
        Design design = Design.DEFAULT;
        expect(JsonToken.START_OBJECT);
        while (json.nextToken() == JsonToken.PROPERTY_NAME) {
            String name = json.currentName();
            switch (name) {
                case "design" -> design = design();
                case "set" -> set = axes();
                case "vary" -> vary = axes();
                case "own" -> own = own(vary);
                case "rows" -> {
                    grid = new Grid(design, set, vary);
                    rows(grid, rows);
                }
                default -> scalar(fields);
            }
            fields.putIfAbsent(name, name);
        }
        for (String name : FIELDS) {
            if (!fields.containsKey(name)) {
                throw wrong("is no result of a sweep: %s is missing".formatted(name));
            }
        }
        int points = (int) whole(fields, "points");
        if (own.size() != vary.size()) {
            throw wrong("is no result of a sweep: own does not go with vary");
        }
        if (grid == null || grid.size() != points) {
            throw wrong("is no result of a sweep: the grid does not have %d points".formatted(points));
        }
        return new SweepFile(
                text(fields, "program"),
                text(fields, "fingerprint"),
                design,
                whole(fields, "limit"),
                set,
                vary,
                own,
                points,
                text(fields, "finding"),
                rows);
    }

    /** The design is read by the reader of design files, from its own piece of the text. */
    private Design design() throws NoSweep {
        StringBuilder text = new StringBuilder();
        copy(text);
        Reading<Design> reading = DesignReader.read("design", text.toString().getBytes(StandardCharsets.UTF_8));
        if (reading instanceof Reading.Accepted<Design> accepted) {
            return accepted.value();
        }
        throw wrong("is no result of a sweep: the design is none");
    }

    private void copy(StringBuilder text) {
        int depth = 0;
        boolean first = true;
        do {
            JsonToken token = json.nextToken();
            boolean ends = token == JsonToken.END_OBJECT || token == JsonToken.END_ARRAY;
            if (!first && !ends) {
                text.append(',');
            }
            first = token == JsonToken.START_OBJECT || token == JsonToken.START_ARRAY;
            switch (token) {
                case START_OBJECT, START_ARRAY -> {
                    text.append(json.getString());
                    depth++;
                }
                case END_OBJECT, END_ARRAY -> {
                    text.append(json.getString());
                    depth--;
                }
                case PROPERTY_NAME -> {
                    text.append(quoted(json.currentName())).append(':');
                    first = true;
                }
                case VALUE_STRING -> text.append(quoted(json.getString()));
                default -> text.append(json.getString());
            }
        } while (depth > 0);
    }

    private static String quoted(String text) {
        StringBuilder quoted = new StringBuilder("\"");
        text.chars().forEach(c -> quoted.append("\\u%04x".formatted(c)));
        return quoted.append('"').toString();
    }

    private List<Axis> axes() throws NoSweep {
        List<Axis> axes = new ArrayList<>();
        expect(JsonToken.START_OBJECT);
        while (json.nextToken() == JsonToken.PROPERTY_NAME) {
            String name = json.currentName();
            List<String> values = new ArrayList<>();
            expect(JsonToken.START_ARRAY);
            while (json.nextToken() != JsonToken.END_ARRAY) {
                values.add(json.getString());
            }
            axes.add(Axis.parse("%s=%s".formatted(name, String.join(",", values))));
        }
        return axes;
    }

    private List<String> own(List<Axis> vary) throws NoSweep {
        List<String> own = new ArrayList<>();
        expect(JsonToken.START_OBJECT);
        while (json.nextToken() == JsonToken.PROPERTY_NAME) {
            boolean fits =
                    own.size() < vary.size() && vary.get(own.size()).name().equals(json.currentName());
            if (!fits) {
                throw wrong("is no result of a sweep: own does not go with vary");
            }
            own.add(json.nextToken() == JsonToken.VALUE_NULL ? "" : json.getString());
        }
        return own;
    }

    private void rows(Grid grid, List<SweepRow> rows) throws NoSweep {
        int last = -1;
        expect(JsonToken.START_ARRAY);
        while (json.nextToken() == JsonToken.START_OBJECT) {
            SweepRow row = row(grid);
            if (row.point() <= last || row.point() >= grid.size()) {
                throw wrong("is no result of a sweep: point %d is out of place".formatted(row.point()));
            }
            last = row.point();
            rows.add(row);
        }
    }

    private SweepRow row(Grid grid) throws NoSweep {
        Map<String, Object> fields = new HashMap<>();
        while (json.nextToken() == JsonToken.PROPERTY_NAME) {
            if (json.currentName().equals("values")) {
                // They follow from the point.
                json.nextToken();
                json.skipChildren();
            } else {
                scalar(fields);
            }
        }
        int point = (int) whole(fields, "point");
        if (point < 0 || point >= grid.size()) {
            throw wrong("is no result of a sweep: there is no point %d".formatted(point));
        }
        Status status = null;
        for (Status one : Status.values()) {
            status = one.text().equals(text(fields, "status")) ? one : status;
        }
        if (status == null) {
            throw wrong("is no result of a sweep: the status of point %d is none".formatted(point));
        }
        boolean ran = status != Status.UNFIT;
        return new SweepRow(
                point,
                grid.values(point),
                status,
                ran ? Optional.of(figures(fields, grid, point)) : Optional.empty(),
                ran ? Long.parseLong(text(fields, "result"), 16) : 0,
                fields.containsKey("message") ? text(fields, "message") : "");
    }

    private RunFigures figures(Map<String, Object> fields, Grid grid, int point) throws NoSweep {
        long cycles = whole(fields, "cycles");
        boolean inTurn = fields.get("turnsOffered") != null;
        return new RunFigures(
                end(text(fields, "ended")),
                (int) whole(fields, "faults"),
                cycles,
                (double) cycles / grid.design(point).clock().chipHertz(),
                whole(fields, "instructions"),
                whole(fields, "accesses"),
                whole(fields, "waitTotal"),
                whole(fields, "waitMax"),
                whole(fields, "busyCycles"),
                inTurn ? whole(fields, "turnsOffered") : -1,
                inTurn ? whole(fields, "turnsUsed") : -1,
                number(fields, "accessFairness"),
                number(fields, "waitFairness"),
                whole(fields, "clashCycles"));
    }

    private End end(String text) throws NoSweep {
        for (End end : End.values()) {
            if (end.text().equals(text)) {
                return end;
            }
        }
        throw wrong("is no result of a sweep: \"%s\" is no end of a run".formatted(text));
    }

    private void scalar(Map<String, Object> fields) throws NoSweep {
        String name = json.currentName();
        JsonToken token = json.nextToken();
        switch (token) {
            case VALUE_STRING -> fields.put(name, json.getString());
            case VALUE_NUMBER_INT, VALUE_NUMBER_FLOAT -> fields.put(name, json.getDecimalValue());
            case VALUE_NULL -> fields.remove(name);
            default -> throw wrong("is no result of a sweep: %s is neither text nor number".formatted(name));
        }
    }

    private String text(Map<String, Object> fields, String name) throws NoSweep {
        if (fields.get(name) instanceof String text) {
            return text;
        }
        throw wrong("is no result of a sweep: %s is no text".formatted(name));
    }

    private @Nullable BigDecimal decimal(Map<String, Object> fields, String name) {
        return fields.get(name) instanceof BigDecimal number ? number : null;
    }

    private long whole(Map<String, Object> fields, String name) throws NoSweep {
        BigDecimal number = decimal(fields, name);
        try {
            if (number != null) {
                return number.longValueExact();
            }
        } catch (ArithmeticException e) {
            // Told below.
        }
        throw wrong("is no result of a sweep: %s is no whole number".formatted(name));
    }

    private double number(Map<String, Object> fields, String name) throws NoSweep {
        BigDecimal number = decimal(fields, name);
        if (number == null) {
            throw wrong("is no result of a sweep: %s is no number".formatted(name));
        }
        return number.doubleValue();
    }
}
