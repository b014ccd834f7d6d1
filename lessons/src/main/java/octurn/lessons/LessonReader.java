package octurn.lessons;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.BiFunction;
import octurn.design.Design;
import octurn.design.NamedDesigns;
import octurn.design.Scenario;
import octurn.diag.Diagnostic;
import octurn.diag.Nearest;
import octurn.diag.Span;
import octurn.json.DesignReader;
import octurn.json.Document;
import octurn.json.Fields;
import octurn.json.JsonValue;
import octurn.json.Passage;
import octurn.json.Problems;
import octurn.json.Reading;
import octurn.json.ScenarioReader;
import octurn.lessons.text.Template;
import octurn.lessons.value.Expression;
import octurn.run.Run;
import org.jspecify.annotations.Nullable;

/**
 * Reads {@code lesson.json} and the files that it names: texts, designs and scenarios with all that is wrong in them.
 * Programs it only looks for, since what becomes of them depends on the student's numbers.
 */
public final class LessonReader {

    /** What a lesson file says it is. */
    static final String FORM = "lesson 1";

    /** The cycle at which a run of a lesson ends if nothing else is said. */
    public static final long STANDARD_CYCLES = 1_000_000;

    private static final List<String> FIELDS = List.of(
            "octurn",
            "id",
            "title",
            "aim",
            "minutes",
            "needs",
            "introduces",
            "uses",
            "examines",
            "vary",
            "runs",
            "values",
            "steps");
    private static final List<String> STEPS = List.of("tell", "watch", "predict", "do");
    private static final int MOST_OPTIONS = 9;
    private static final int MOST_RUNS_OF_A_TASK = 32;
    private static final String TEXT = "Markdown, or @ and the name of a file, as in @text.md";

    private final LessonFiles files;
    private final Problems problems;
    private final Strings strings;
    private final Scope scope;

    private LessonReader(LessonFiles files, Problems problems) {
        this.files = files;
        this.problems = problems;
        this.strings = new Strings(problems);
        this.scope = new Scope(problems);
    }

    /** Reads the lesson that these files are; answers it, or all that is wrong with them. */
    public static Reading<Lesson> read(LessonFiles files) {
        return read(files, LessonReader::lesson);
    }

    /**
     * Reads only what a list of lessons shows, from {@code lesson.json} alone; answers it, or what is wrong in that much.
     * Whoever goes into the lesson has to {@link #read} it: the rest may have mistakes still.
     */
    public static Reading<LessonOutline> outline(LessonFiles files) {
        return read(files, LessonReader::outline);
    }

    private static <T> Reading<T> read(LessonFiles files, BiFunction<LessonReader, JsonValue, @Nullable T> body) {
        byte[] utf8 = files.read(LessonFiles.LESSON);
        if (utf8 == null) {
            Span place = Span.file(LessonFiles.LESSON);
            String hint = files.names().contains(LessonFiles.COURSE)
                    ? "this is a course: name the folder of one of its lessons"
                    : "a lesson is a folder with a file of this name";
            return new Reading.Refused<>(List.of(Diagnostic.error(place, "there is no such file", hint, null)));
        }
        return Document.read(
                LessonFiles.LESSON,
                utf8,
                "a lesson",
                (root, problems) -> body.apply(new LessonReader(files, problems), root));
    }

    private @Nullable LessonOutline outline(JsonValue root) {
        Fields fields = Fields.of(root, "", FIELDS, problems);
        if (fields == null) {
            return null;
        }
        strings.form(fields, FORM);
        strings.required(fields, "id", Strings.ID);
        String title = strings.required(fields, "title", Strings.TITLE);
        String aim = strings.required(fields, "aim", Strings.SENTENCE);
        Long minutes = fields.requiredWhole("minutes", 1, 240);
        List<String> needs = passages(fields, "needs", Strings.ID).stream()
                .map(Passage::text)
                .toList();
        List<Boolean> asking = kinds(fields).stream()
                .map(kind -> kind.equals("predict") || kind.equals("do"))
                .toList();
        return problems.anyError() || title == null || aim == null || minutes == null
                ? null
                : new LessonOutline(title, aim, minutes.intValue(), needs, asking);
    }

    /** The sorts of the steps, in order. */
    private List<String> kinds(Fields lesson) {
        List<String> kinds = new ArrayList<>();
        lesson.required("steps", "a row of tell, watch, predict, do");
        items(lesson, "steps", "objects with one of tell, watch, predict, do").forEach((path, value) -> {
            Fields fields = Fields.of(value, path, STEPS, problems);
            String kind = fields == null ? null : theOne(fields, path, STEPS);
            if (kind != null) {
                kinds.add(kind);
            }
        });
        return kinds;
    }

    private @Nullable Lesson lesson(JsonValue root) {
        Fields fields = Fields.of(root, "", FIELDS, problems);
        if (fields == null) {
            return null;
        }
        strings.form(fields, FORM);
        String id = strings.required(fields, "id", Strings.ID);
        String title = strings.required(fields, "title", Strings.TITLE);
        String aim = strings.required(fields, "aim", Strings.SENTENCE);
        Long minutes = fields.requiredWhole("minutes", 1, 240);
        List<Passage> needs = passages(fields, "needs", Strings.ID);
        List<Passage> introduces = passages(fields, "introduces", Strings.CONCEPT);
        List<Passage> uses = passages(fields, "uses", Strings.CONCEPT);
        List<Passage> examines = passages(fields, "examines", Strings.CONCEPT);
        Map<String, Vary> vary = vary(fields);
        Map<String, Lesson.ProgramRun> runs = runs(fields);
        Map<String, Expression> values = values(fields);
        List<Step> steps = steps(fields);
        scope.check(runs, values);
        return problems.anyError() || id == null || title == null || aim == null || minutes == null
                ? null
                : new Lesson(
                        id,
                        title,
                        aim,
                        minutes.intValue(),
                        needs,
                        introduces,
                        uses,
                        examines,
                        vary,
                        runs,
                        values,
                        steps);
    }

    private List<Passage> passages(Fields fields, String name, Strings.Kind kind) {
        return strings.list(fields, name, kind).stream().map(problems::passage).toList();
    }

    // ---- numbers that vary, runs, values

    private List<JsonValue.Member> named(Fields lesson, String field, String allowed) {
        JsonValue value = lesson.value(field);
        List<JsonValue.Member> members = value == null ? null : Fields.members(value, field, allowed, problems);
        if (members == null) {
            return List.of();
        }
        members.forEach(member -> strings.checkName(member, field, Strings.NAME));
        return members;
    }

    private Map<String, Vary> vary(Fields lesson) {
        Map<String, Vary> vary = new LinkedHashMap<>();
        for (JsonValue.Member member : named(lesson, "vary", "numbers by name")) {
            scope.defineNumber(member);
            Fields fields =
                    Fields.of(member.value(), "vary." + member.name(), List.of("from", "to", "one-of"), problems);
            Vary numbers = fields == null ? null : choices(fields);
            vary.put(member.name(), numbers == null ? Vary.between(0, 0) : numbers);
        }
        return vary;
    }

    private @Nullable Vary choices(Fields fields) {
        final long least = Integer.MIN_VALUE;
        final long most = 0xFFFF_FFFFL;
        JsonValue list = fields.value("one-of");
        if (list != null) {
            String hint = "allowed: either from and to, or one-of";
            fields.misplaced("from", "%s: one-of is given already".formatted(fields.path("from")), hint);
            fields.misplaced("to", "%s: one-of is given already".formatted(fields.path("to")), hint);
            List<JsonValue> items = Fields.items(list, fields.path("one-of"), "whole numbers", problems);
            List<Long> numbers = new ArrayList<>();
            for (int i = 0; items != null && i < items.size(); i++) {
                String path = "%s[%d]".formatted(fields.path("one-of"), i);
                Long number = Fields.whole(items.get(i), path, least, most, problems);
                if (number != null) {
                    numbers.add(number);
                }
            }
            if (items != null && (items.isEmpty() || items.size() > Vary.MOST)) {
                String message = "%s: %d numbers are not in 1..%d";
                problems.error(list, message.formatted(fields.path("one-of"), items.size(), Vary.MOST), null);
                return null;
            }
            return numbers.isEmpty() ? null : new Vary(numbers);
        }
        Long from = fields.requiredWhole("from", least, most);
        Long to = fields.requiredWhole("to", least, most);
        if (from == null || to == null) {
            return null;
        }
        if (to < from || to - from >= Vary.MOST) {
            String message = "%s: from %d to %d are not 1..%d numbers";
            fields.misplaced("to", message.formatted(fields.path("to"), from, to, Vary.MOST), null);
            return null;
        }
        return Vary.between(from, to);
    }

    private Map<String, Lesson.ProgramRun> runs(Fields lesson) {
        Map<String, Lesson.ProgramRun> runs = new LinkedHashMap<>();
        for (JsonValue.Member member : named(lesson, "runs", "runs by name")) {
            scope.defineRun(member);
            Fields fields = Fields.of(
                    member.value(),
                    "runs." + member.name(),
                    List.of("program", "design", "scenario", "cycles", "set"),
                    problems);
            if (fields != null) {
                Passage program = file(fields, "program", ".turn");
                RunSetup setup = setup(fields);
                if (program != null) {
                    runs.put(member.name(), new Lesson.ProgramRun(program, setup));
                }
            }
        }
        return runs;
    }

    private Map<String, Expression> values(Fields lesson) {
        Map<String, Expression> values = new LinkedHashMap<>();
        for (JsonValue.Member member : named(lesson, "values", "expressions by name")) {
            scope.defineNumber(member);
            Expression value = expression(member.value(), "values." + member.name());
            if (value != null) {
                values.put(member.name(), value);
            }
        }
        return values;
    }

    /** What a program runs on, as the fields design, scenario, cycles and set say. */
    private RunSetup setup(Fields fields) {
        JsonValue designValue = fields.value("design");
        String designName = "default";
        Design design = Design.DEFAULT;
        if (designValue != null) {
            String given = Fields.text(designValue, fields.path("design"), "a design's name or file", problems);
            if (given != null) {
                designName = given;
                design = design(designValue, fields.path("design"), given);
            }
        }
        JsonValue scenarioValue = fields.value("scenario");
        String scenarioName = "";
        Scenario scenario = Scenario.QUIET;
        if (scenarioValue != null) {
            Passage given = file(fields, "scenario", ".scenario.json");
            if (given != null) {
                scenarioName = given.text();
                scenario =
                        taken(scenarioValue, ScenarioReader.read(given.text(), bytes(given.text()), design), scenario);
            }
        }
        Long cycles = fields.whole("cycles", 1, Run.DEFAULT_LIMIT);
        long limit = cycles != null
                ? cycles
                : Math.min(Run.DEFAULT_LIMIT, scenario.limit().orElse(STANDARD_CYCLES));
        return new RunSetup(designName, design, scenarioName, scenario, limit, set(fields));
    }

    private Design design(JsonValue value, String path, String name) {
        Optional<Design> named = NamedDesigns.of(name);
        if (named.isPresent()) {
            return named.get();
        }
        if (!name.endsWith(".design.json")) {
            List<String> names =
                    NamedDesigns.all().stream().map(NamedDesigns.Named::name).toList();
            String nearest = Nearest.of(name, names);
            problems.error(
                    value,
                    "%s: there is no design %s at hand".formatted(path, JsonValue.quoted(name)),
                    (nearest == null ? "" : "did you mean %s? ".formatted(nearest))
                            + "allowed: a file, *.design.json, or " + String.join(", ", names));
            return Design.DEFAULT;
        }
        return isThere(value, path, name)
                ? taken(value, DesignReader.read(name, bytes(name)), Design.DEFAULT)
                : Design.DEFAULT;
    }

    /** What a file says; if anything is wrong with it, that is noted. */
    private <T> T taken(JsonValue at, Reading<T> reading, T standIn) {
        if (reading instanceof Reading.Accepted<T> accepted) {
            accepted.warnings().forEach(warning -> problems.add(at, warning));
            return accepted.value();
        }
        ((Reading.Refused<T>) reading).problems().forEach(problem -> problems.add(at, problem));
        return standIn;
    }

    private Map<String, Expression> set(Fields fields) {
        Map<String, Expression> set = new LinkedHashMap<>();
        JsonValue value = fields.value("set");
        List<JsonValue.Member> members =
                value == null ? null : Fields.members(value, fields.path("set"), "values for constants", problems);
        for (JsonValue.Member member : members == null ? List.<JsonValue.Member>of() : members) {
            strings.checkName(member, fields.path("set"), Strings.NAME);
            Expression expression = expression(member.value(), fields.path("set") + "." + member.name());
            if (expression != null) {
                set.put(member.name(), expression);
            }
        }
        return set;
    }

    // ---- files, texts, expressions

    /** The name of a file that must be given, or null (and noted). */
    private @Nullable Passage file(Fields fields, String name, String... endings) {
        String kinds = "*" + String.join(" or *", endings);
        JsonValue value = fields.required(name, kinds);
        String file = value == null ? null : strings.text(value, fields.path(name), Strings.FILE);
        if (value == null || file == null) {
            return null;
        }
        if (List.of(endings).stream().noneMatch(file::endsWith)) {
            String message = "%s: %s is no %s".formatted(fields.path(name), value.described(), kinds);
            problems.error(value, message, "allowed: " + kinds);
            return null;
        }
        return isThere(value, fields.path(name), file) ? problems.passage(value) : null;
    }

    private boolean isThere(JsonValue value, String path, String file) {
        if (files.names().contains(file)) {
            return true;
        }
        String nearest = Nearest.of(file, files.names().stream().sorted().toList());
        String hint = nearest == null ? "it must lie beside lesson.json" : "did you mean %s?".formatted(nearest);
        problems.error(value, "%s: there is no file %s".formatted(path, JsonValue.quoted(file)), hint);
        return false;
    }

    private byte[] bytes(String file) {
        byte[] bytes = files.read(file);
        return bytes == null ? new byte[0] : bytes;
    }

    private @Nullable Template requiredText(Fields fields, String name) {
        JsonValue value = fields.required(name, TEXT);
        return value == null ? null : text(value, fields.path(name), false);
    }

    private @Nullable Template optionalText(Fields fields, String name, boolean ofCheck) {
        JsonValue value = fields.value(name);
        return value == null ? null : text(value, fields.path(name), ofCheck);
    }

    private @Nullable Template text(JsonValue value, String path, boolean ofCheck) {
        String text = Fields.text(value, path, TEXT, problems);
        if (text == null) {
            return null;
        }
        Passage passage =
                text.startsWith("@") ? passageOfFile(value, path, text.substring(1)) : problems.passage(value);
        if (passage == null) {
            return null;
        }
        if (passage.text().isBlank()) {
            problems.error(value, "%s: an empty text".formatted(path), "allowed: " + TEXT);
        }
        Template template = Template.parse(passage, problem -> problems.add(value, problem));
        if (template != null) {
            template.holes().forEach(hole -> scope.use(value, hole.expression(), ofCheck));
        }
        return template;
    }

    private @Nullable Passage passageOfFile(JsonValue value, String path, String file) {
        boolean isText = file.endsWith(".md") && Strings.fits(file, Strings.FILE);
        if (!isText) {
            problems.error(value, "%s: %s names no text".formatted(path, value.described()), "allowed: " + TEXT);
            return null;
        }
        if (!isThere(value, path, file)) {
            return null;
        }
        Reading<Passage> reading = Passage.file(file, bytes(file));
        if (reading instanceof Reading.Accepted<Passage> accepted) {
            return accepted.value();
        }
        ((Reading.Refused<Passage>) reading).problems().forEach(problem -> problems.add(value, problem));
        return null;
    }

    private @Nullable Expression expression(JsonValue value, String path) {
        return expression(value, path, false);
    }

    private @Nullable Expression expression(JsonValue value, String path, boolean ofCheck) {
        Expression expression = parsed(value, path);
        if (expression != null) {
            scope.use(value, expression, ofCheck);
        }
        return expression;
    }

    private @Nullable Expression parsed(JsonValue value, String path) {
        if (!(value instanceof JsonValue.Str) && !(value instanceof JsonValue.Num)) {
            String message = "%s: %s is no expression".formatted(path, value.described());
            problems.error(value, message, "allowed: a number, or a string as in \"first.cycles / 2\"");
            return null;
        }
        return Expression.parse(problems.passage(value), problem -> problems.add(value, problem));
    }

    private @Nullable Expression required(Fields fields, String name) {
        JsonValue value = fields.required(name, "a number or an expression");
        return value == null ? null : expression(value, fields.path(name));
    }

    private @Nullable Expression optional(Fields fields, String name) {
        JsonValue value = fields.value(name);
        return value == null ? null : expression(value, fields.path(name));
    }

    /** The items of a field, with their paths; none if it is left out or (noted) no array. */
    private Map<String, JsonValue> items(Fields fields, String name, String allowed) {
        Map<String, JsonValue> items = new LinkedHashMap<>();
        JsonValue value = fields.value(name);
        List<JsonValue> list = value == null ? null : Fields.items(value, fields.path(name), allowed, problems);
        for (int i = 0; list != null && i < list.size(); i++) {
            items.put("%s[%d]".formatted(fields.path(name), i), list.get(i));
        }
        return items;
    }

    // ---- steps

    private List<Step> steps(Fields lesson) {
        List<Step> steps = new ArrayList<>();
        lesson.required("steps", "a row of tell, watch, predict, do");
        items(lesson, "steps", "objects with one of tell, watch, predict, do").forEach((path, value) -> {
            Step step = step(value, path);
            if (step != null) {
                steps.add(step);
            }
        });
        JsonValue value = lesson.value("steps");
        if (value instanceof JsonValue.Arr array && array.items().isEmpty()) {
            problems.error(value, "steps: a lesson of no steps", "allowed: at least one");
        }
        return steps;
    }

    private @Nullable Step step(JsonValue value, String path) {
        Fields fields = Fields.of(value, path, STEPS, problems);
        if (fields == null) {
            return null;
        }
        String kind = theOne(fields, path, STEPS);
        JsonValue what = kind == null ? null : fields.value(kind);
        if (kind == null || what == null) {
            return null;
        }
        String inner = fields.path(kind);
        return switch (kind) {
            case "tell" -> tell(what, inner);
            case "watch" -> watch(what, inner);
            case "predict" -> predict(what, inner);
            default -> task(what, inner);
        };
    }

    /** The one of these fields that is given; null (and noted) if there is none, and the first if there are more. */
    private @Nullable String theOne(Fields fields, String path, List<String> names) {
        List<String> given = fields.given(names);
        String hint = "allowed: exactly one of " + String.join(", ", names);
        if (given.isEmpty()) {
            fields.wrong("%s: none of %s is given".formatted(path, String.join(", ", names)), hint);
            return null;
        }
        for (String extra : given.subList(1, given.size())) {
            fields.misplaced(extra, "%s: %s is given already".formatted(fields.path(extra), given.get(0)), hint);
        }
        return given.get(0);
    }

    private @Nullable Step tell(JsonValue value, String path) {
        if (value instanceof JsonValue.Str) {
            Template text = text(value, path, false);
            return text == null ? null : new Step.Tell(text);
        }
        Fields fields = Fields.of(value, path, List.of("text"), problems);
        Template text = fields == null ? null : requiredText(fields, "text");
        return text == null ? null : new Step.Tell(text);
    }

    private @Nullable Step watch(JsonValue value, String path) {
        Fields fields = Fields.of(value, path, List.of("text", "run", "script"), problems);
        if (fields == null) {
            return null;
        }
        Template text = requiredText(fields, "text");
        JsonValue runValue = fields.required("run", "the name of one of the runs");
        String run = runValue == null ? null : Fields.text(runValue, fields.path("run"), "a run's name", problems);
        if (runValue != null && run != null) {
            scope.useRun(runValue, run);
        }
        List<Step.Cue> script = new ArrayList<>();
        fields.required("script", "a row of objects with do and say");
        items(fields, "script", "objects with do and say").forEach((cuePath, cueValue) -> {
            Fields cue = Fields.of(cueValue, cuePath, List.of("do", "say"), problems);
            Template command = cue == null ? null : requiredText(cue, "do");
            Template say = cue == null ? null : optionalText(cue, "say", false);
            if (command != null) {
                script.add(new Step.Cue(command, say));
            }
        });
        return text == null || run == null ? null : new Step.Watch(text, run, script);
    }

    private @Nullable Step predict(JsonValue value, String path) {
        List<String> ways = List.of("number", "core", "choose");
        List<String> known =
                List.of("ask", "number", "core", "choose", "unit", "tolerance", "right", "explain", "wrong", "known");
        Fields fields = Fields.of(value, path, known, problems);
        if (fields == null) {
            return null;
        }
        Template ask = requiredText(fields, "ask");
        Template explain = requiredText(fields, "explain");
        String way = theOne(fields, path, ways);
        Step.Answer answer = way == null
                ? null
                : switch (way) {
                    case "number" -> numberAnswer(fields);
                    case "core" -> coreAnswer(fields);
                    default -> choiceAnswer(fields);
                };
        return ask == null || explain == null || answer == null ? null : new Step.Predict(ask, answer, explain);
    }

    /** Notes those of these fields that go with another sort of question. */
    private static void forbid(Fields fields, String way, String... names) {
        for (String name : names) {
            fields.misplaced(
                    name,
                    "%s: not allowed with %s".formatted(fields.path(name), way),
                    "leave it out, or ask another sort of question");
        }
    }

    private Step.@Nullable Answer numberAnswer(Fields fields) {
        forbid(fields, "number", "right");
        Expression number = required(fields, "number");
        JsonValue unitValue = fields.value("unit");
        String unit = unitValue == null ? "" : strings.text(unitValue, fields.path("unit"), Strings.UNIT);
        Expression tolerance = optional(fields, "tolerance");
        List<Step.WrongNumber> wrong = wrongNumbers(fields);
        List<Known> known = new ArrayList<>();
        items(fields, "known", "names of misconceptions").forEach((path, value) -> {
            String allowed = String.join(", ", Known.names());
            String name = Fields.text(value, path, allowed, problems);
            if (name != null) {
                Known.of(name).ifPresentOrElse(known::add, () -> unknown(value, path, name, Known.names()));
            }
        });
        return number == null ? null : new Step.NumberAnswer(number, unit == null ? "" : unit, tolerance, wrong, known);
    }

    private void unknown(JsonValue value, String path, String word, List<String> words) {
        String nearest = Nearest.of(word, words);
        problems.error(
                value,
                "%s: there is no %s".formatted(path, JsonValue.quoted(word)),
                (nearest == null ? "" : "did you mean \"%s\"? ".formatted(nearest)) + "allowed: "
                        + String.join(", ", words));
    }

    private List<Step.WrongNumber> wrongNumbers(Fields fields) {
        List<Step.WrongNumber> wrong = new ArrayList<>();
        items(fields, "wrong", "objects with gives and say").forEach((path, value) -> {
            Fields one = Fields.of(value, path, List.of("gives", "say"), problems);
            Expression gives = one == null ? null : required(one, "gives");
            Template say = one == null ? null : requiredText(one, "say");
            if (gives != null && say != null) {
                wrong.add(new Step.WrongNumber(gives, say));
            }
        });
        return wrong;
    }

    private Step.@Nullable Answer coreAnswer(Fields fields) {
        forbid(fields, "core", "unit", "tolerance", "right", "known");
        Expression core = required(fields, "core");
        List<Step.WrongNumber> wrong = wrongNumbers(fields);
        return core == null ? null : new Step.CoreAnswer(core, wrong);
    }

    private Step.@Nullable Answer choiceAnswer(Fields fields) {
        forbid(fields, "choose", "unit", "tolerance", "known");
        List<Step.Option> options = new ArrayList<>();
        Map<String, JsonValue> given = items(fields, "choose", "objects with text and value");
        given.forEach((path, value) -> {
            Fields one = Fields.of(value, path, List.of("text", "value"), problems);
            Template text = one == null ? null : requiredText(one, "text");
            Expression expression = one == null ? null : required(one, "value");
            if (text != null && expression != null) {
                options.add(new Step.Option(text, expression));
            }
        });
        JsonValue list = fields.value("choose");
        if (list instanceof JsonValue.Arr && (given.size() < 2 || given.size() > MOST_OPTIONS)) {
            String message = "%s: %d things to choose from are not in 2..%d";
            problems.error(list, message.formatted(fields.path("choose"), given.size(), MOST_OPTIONS), null);
        }
        List<String> ends = List.of("least", "greatest");
        JsonValue rightValue = fields.required("right", String.join(", ", ends));
        String right = rightValue == null
                ? null
                : Fields.text(rightValue, fields.path("right"), String.join(", ", ends), problems);
        if (rightValue != null && right != null && !ends.contains(right)) {
            unknown(rightValue, fields.path("right"), right, ends);
        }
        List<Step.WrongChoice> wrong = new ArrayList<>();
        items(fields, "wrong", "objects with choice and say").forEach((path, value) -> {
            Fields one = Fields.of(value, path, List.of("choice", "say"), problems);
            Long choice = one == null ? null : one.requiredWhole("choice", 1, Math.max(1, given.size()));
            Template say = one == null ? null : requiredText(one, "say");
            if (choice != null && say != null) {
                wrong.add(new Step.WrongChoice(choice.intValue(), say));
            }
        });
        return new Step.ChoiceAnswer(options, "greatest".equals(right), wrong);
    }

    private @Nullable Step task(JsonValue value, String path) {
        List<String> known = List.of("text", "start", "model", "program", "on", "checks", "hints");
        Fields fields = Fields.of(value, path, known, problems);
        if (fields == null) {
            return null;
        }
        Template text = requiredText(fields, "text");
        Passage start = file(fields, "start", ".turn", ".design.json");
        Passage model = file(fields, "model", ".turn", ".design.json");
        boolean isDesign = start != null && start.text().endsWith(".design.json");
        if (start != null && model != null && isDesign != model.text().endsWith(".design.json")) {
            problems.add(
                    value, model.error("%s: not the same sort of file as start".formatted(fields.path("model")), null));
        }
        Passage load = null;
        if (isDesign) {
            load = file(fields, "program", ".turn");
        } else {
            fields.misplaced(
                    "program",
                    "%s: only where a design is changed".formatted(fields.path("program")),
                    "leave it out, or let start be a *.design.json");
        }
        List<RunSetup> on = on(fields, isDesign);
        List<Check> checks = new ArrayList<>();
        fields.required("checks", "a row of checks");
        CheckReader reader = new CheckReader(problems, new CheckReader.Parts() {
            @Override
            public @Nullable Expression expression(JsonValue at, String in) {
                return LessonReader.this.expression(at, in, true);
            }

            @Override
            public @Nullable Expression place(JsonValue at, String in) {
                Expression place = LessonReader.this.parsed(at, in);
                if (place != null) {
                    scope.usePlace(at, place);
                }
                return place;
            }

            @Override
            public @Nullable Template text(JsonValue at, String in) {
                return LessonReader.this.text(at, in, true);
            }
        });
        items(fields, "checks", "objects, one for each check").forEach((checkPath, checkValue) -> {
            Check check = reader.check(checkValue, checkPath);
            if (check != null) {
                checks.add(check);
            }
        });
        JsonValue list = fields.value("checks");
        if (list instanceof JsonValue.Arr array && array.items().isEmpty()) {
            problems.error(list, "%s: a task without checks".formatted(fields.path("checks")), "allowed: at least one");
        }
        List<Template> hints = new ArrayList<>();
        items(fields, "hints", "texts").forEach((hintPath, hint) -> {
            Template read = text(hint, hintPath, false);
            if (read != null) {
                hints.add(read);
            }
        });
        return text == null || start == null || model == null || (isDesign && load == null)
                ? null
                : new Step.Task(text, start, model, load, on, checks, hints);
    }

    private List<RunSetup> on(Fields task, boolean isDesign) {
        List<RunSetup> on = new ArrayList<>();
        Map<String, JsonValue> items = items(task, "on", "objects with design, scenario, cycles, set");
        items.forEach((path, value) -> {
            Fields fields = Fields.of(value, path, List.of("design", "scenario", "cycles", "set"), problems);
            if (fields != null) {
                if (isDesign) {
                    fields.misplaced(
                            "design",
                            "%s: the design is the student's here".formatted(fields.path("design")),
                            "leave it out");
                }
                on.add(setup(fields));
            }
        });
        JsonValue list = task.value("on");
        if (list instanceof JsonValue.Arr && (items.isEmpty() || items.size() > MOST_RUNS_OF_A_TASK)) {
            String message = "%s: %d runs are not in 1..%d";
            problems.error(list, message.formatted(task.path("on"), items.size(), MOST_RUNS_OF_A_TASK), null);
        }
        return on.isEmpty()
                ? List.of(new RunSetup("default", Design.DEFAULT, "", Scenario.QUIET, STANDARD_CYCLES, Map.of()))
                : on;
    }
}
