package octurn.lessons;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CancellationException;
import java.util.function.BooleanSupplier;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.asm.Program;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.diag.Diagnostic;
import octurn.json.Passage;
import octurn.lessons.text.Prose;
import octurn.lessons.text.Template;
import octurn.lessons.value.Expression;
import octurn.lessons.value.Measured;
import octurn.lessons.value.Names;
import octurn.lessons.value.Unresolved;
import org.jspecify.annotations.Nullable;

/**
 * A lesson with one student's numbers: texts with their values in them, programs to watch, questions. Runs are made when
 * something needs them, once each. For one thread.
 *
 * <p>Whatever it throws as {@link Unresolved} is a mistake in the lesson.
 */
public final class Sitting {

    private final Lesson lesson;
    private final LessonFiles files;
    private final Variant variant;
    private final BooleanSupplier stop;
    private final Map<String, Double> values = new HashMap<>();
    private final Map<String, Measured> runs = new HashMap<>();
    private final Names names = new OwnNames(null);

    /** A sitting that nobody stops. */
    public Sitting(Lesson lesson, LessonFiles files, Variant variant) {
        this(lesson, files, variant, () -> false);
    }

    /**
     * A sitting.
     *
     * @param stop asked now and then during runs whether to give up; whoever needs a run then gets a
     *     {@link CancellationException}
     */
    public Sitting(Lesson lesson, LessonFiles files, Variant variant, BooleanSupplier stop) {
        this.lesson = lesson;
        this.files = files;
        this.variant = variant;
        this.stop = stop;
    }

    /** The lesson. */
    public Lesson lesson() {
        return lesson;
    }

    /** The student's numbers. */
    public Variant variant() {
        return variant;
    }

    // ---- numbers and texts

    /** What an expression of the lesson comes to. */
    public double number(Expression expression) throws Unresolved {
        return expression.value(names);
    }

    /** The names of the lesson; with a run, that one is called {@value Expression#THE_RUN}. */
    public Names names(@Nullable Measured theRun) {
        return new OwnNames(theRun);
    }

    /** A text with its values in it. */
    public Prose prose(Template text) throws Unresolved {
        return text.fill(hole -> shown(hole, names));
    }

    /** The same for the text of a check, about this run. */
    public Prose prose(Template text, Measured theRun) throws Unresolved {
        Names withRun = names(theRun);
        return text.fill(hole -> shown(hole, withRun));
    }

    private String shown(Template.Hole hole, Names in) throws Unresolved {
        return hole.format()
                .show(
                        hole.expression().value(in),
                        design(hole.expression(), in).clock().chipHertz());
    }

    /** The design of the first run that an expression needs, itself or through values; the default one if none. */
    Design design(Expression expression) throws Unresolved {
        return design(expression, names);
    }

    private Design design(Expression expression, Names in) throws Unresolved {
        Design design = firstDesign(expression, in);
        return design == null ? Design.DEFAULT : design;
    }

    private @Nullable Design firstDesign(Expression expression, Names in) throws Unresolved {
        for (Expression.Use use : expression.uses()) {
            Measured run = use.isRun() ? in.run(use.name()) : null;
            Expression value = use.isRun() ? null : lesson.values().get(use.name());
            Design design = run != null ? run.design() : value == null ? null : firstDesign(value, in);
            if (design != null) {
                return design;
            }
        }
        return null;
    }

    // ---- programs

    /**
     * A run of the lesson.
     *
     * @throws IllegalArgumentException if it has none of this name
     */
    public Measured run(String name) throws Unresolved {
        Measured run = names.run(name);
        if (run == null) {
            throw new IllegalArgumentException("no run " + name);
        }
        return run;
    }

    private Measured make(Lesson.ProgramRun run) throws Unresolved {
        RunSetup setup = run.setup();
        return Measured.run(program(run.program(), setup), setup.scenario(), setup.cycles(), stop);
    }

    /** A program of the lesson, for what it is to run on. */
    public Program program(Passage file, RunSetup setup) throws Unresolved {
        Assembly assembly = Assembler.assemble(file.text(), bytes(file), setup.design(), constants(setup));
        if (assembly instanceof Assembly.Assembled assembled) {
            return assembled.program();
        }
        List<Diagnostic> diagnostics = new ArrayList<>();
        diagnostics.add(file.error("%s has errors".formatted(file.text()), null));
        diagnostics.addAll(((Assembly.Rejected) assembly).errors());
        throw new Unresolved(diagnostics);
    }

    /** The values that constants of a program get. */
    public Map<String, Long> constants(RunSetup setup) throws Unresolved {
        Map<String, Long> constants = new LinkedHashMap<>();
        for (Map.Entry<String, Expression> entry : setup.set().entrySet()) {
            constants.put(entry.getKey(), entry.getValue().whole(names, Integer.MIN_VALUE, 0xFFFF_FFFFL));
        }
        return constants;
    }

    /** What is in a file of the lesson. */
    public byte[] bytes(Passage file) throws Unresolved {
        byte[] bytes = files.read(file.text());
        if (bytes == null) {
            throw new Unresolved(file.error("there is no file %s".formatted(file.text()), null));
        }
        return bytes;
    }

    /**
     * What a student begins a task with: the file, with the student's own numbers for the constants that the task's first
     * run sets.
     */
    public byte[] start(Step.Task task) throws Unresolved {
        byte[] bytes = bytes(task.start());
        return task.isDesign()
                ? bytes
                : OwnConstants.put(bytes, constants(task.on().get(0)));
    }

    /**
     * Something to look at in the stepper.
     *
     * @param program what runs
     * @param scenario what the world does meanwhile
     * @param limit the cycle at which the run ends at the latest
     * @param text what it is about
     * @param script what to do, in order
     */
    public record Show(Program program, Scenario scenario, long limit, Prose text, List<Line> script) {
        public Show {
            script = List.copyOf(script);
        }
    }

    /**
     * One line of a script.
     *
     * @param command a command of the stepper's command line
     * @param say what there is to see then; empty if nothing is said
     */
    public record Line(String command, Prose say) {}

    /** What a watch step shows. */
    public Show show(Step.Watch watch) throws Unresolved {
        Lesson.ProgramRun run = lesson.runs().get(watch.run());
        if (run == null) {
            throw new IllegalArgumentException("no run " + watch.run());
        }
        RunSetup setup = run.setup();
        List<Line> script = new ArrayList<>();
        for (Step.Cue cue : watch.script()) {
            String command = cue.command().fillPlain(hole -> shown(hole, names));
            Template say = cue.say();
            script.add(new Line(command, say == null ? Prose.EMPTY : prose(say)));
        }
        return new Show(program(run.program(), setup), setup.scenario(), setup.cycles(), prose(watch.text()), script);
    }

    /** A question with its answer. */
    public Question question(Step.Predict predict) throws Unresolved {
        return Questions.of(this, predict);
    }

    /** The lesson's numbers and runs. */
    private final class OwnNames implements Names {
        private final @Nullable Measured theRun;

        OwnNames(@Nullable Measured theRun) {
            this.theRun = theRun;
        }

        @Override
        public @Nullable Double number(String name) throws Unresolved {
            Long own = variant.numbers().get(name);
            if (own != null) {
                return own.doubleValue();
            }
            Double known = values.get(name);
            Expression expression = lesson.values().get(name);
            if (known != null || expression == null) {
                return known;
            }
            double value = expression.value(this);
            values.put(name, value);
            return value;
        }

        @Override
        public @Nullable Measured run(String name) throws Unresolved {
            if (name.equals(Expression.THE_RUN)) {
                return theRun;
            }
            Measured known = runs.get(name);
            Lesson.ProgramRun run = lesson.runs().get(name);
            if (known != null || run == null) {
                return known;
            }
            Measured made = make(run);
            runs.put(name, made);
            return made;
        }
    }
}
