package octurn.lessons;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import octurn.diag.Nearest;
import octurn.json.JsonValue;
import octurn.json.Problems;
import octurn.lessons.value.Expression;

/** The names that a lesson defines, and where it needs them. */
final class Scope {

    private record Needed(JsonValue at, Expression expression, List<Expression.Use> uses, boolean ofCheck) {}

    private record NeededRun(JsonValue at, String name) {}

    private final Problems problems;
    private final Set<String> numbers = new LinkedHashSet<>();
    private final Set<String> runs = new LinkedHashSet<>();
    private final List<Needed> needed = new ArrayList<>();
    private final List<NeededRun> neededRuns = new ArrayList<>();

    Scope(Problems problems) {
        this.problems = problems;
    }

    void defineNumber(JsonValue.Member member) {
        define(member, numbers);
    }

    void defineRun(JsonValue.Member member) {
        define(member, runs);
    }

    private void define(JsonValue.Member member, Set<String> names) {
        String name = member.name();
        if (Expression.RESERVED.contains(name)) {
            error(
                    member,
                    "%s cannot be defined: it has a meaning of its own".formatted(JsonValue.quoted(name)),
                    "taken: " + String.join(", ", Expression.RESERVED));
        } else if (numbers.contains(name) || runs.contains(name)) {
            error(
                    member,
                    "%s is defined already".formatted(JsonValue.quoted(name)),
                    "the names of vary, runs and values must all be different");
        }
        names.add(name);
    }

    private void error(JsonValue.Member member, String message, String hint) {
        problems.error(member.start(), member.end(), message, hint);
    }

    /** Notes an expression; in those of checks there is a run more. */
    void use(JsonValue at, Expression expression, boolean ofCheck) {
        needed.add(new Needed(at, expression, expression.uses(), ofCheck));
    }

    /** Notes an expression that is a place in a student's program. */
    void usePlace(JsonValue at, Expression expression) {
        needed.add(new Needed(at, expression, expression.usesAsPlace(), true));
    }

    /** Notes the name of a run. */
    void useRun(JsonValue at, String run) {
        neededRuns.add(new NeededRun(at, run));
    }

    /** Tells which names are not defined, and which need each other in a circle. */
    void check(Map<String, Lesson.ProgramRun> definedRuns, Map<String, Expression> values) {
        for (Needed one : needed) {
            one.uses().forEach(use -> check(one, use));
        }
        for (NeededRun one : neededRuns) {
            if (!runs.contains(one.name())) {
                String message = "there is no run %s".formatted(JsonValue.quoted(one.name()));
                problems.error(one.at(), message, hint(one.name(), runs));
            }
        }
        new Circles(problems, definedRuns, values).tell();
    }

    private void check(Needed one, Expression.Use use) {
        if (use.isRun()) {
            boolean known =
                    runs.contains(use.name()) || (one.ofCheck() && use.name().equals(Expression.THE_RUN));
            if (!known) {
                String message = "there is no run %s".formatted(JsonValue.quoted(use.name()));
                problems.add(one.at(), one.expression().error(use, message, hint(use.name(), runs)));
            }
        } else if (!numbers.contains(use.name()) && !use.mayBeLabel()) {
            String message = runs.contains(use.name())
                    ? "the run %s alone is no number".formatted(use.name())
                    : "there is no value %s".formatted(JsonValue.quoted(use.name()));
            String hint =
                    runs.contains(use.name()) ? "as in %s.cycles".formatted(use.name()) : hint(use.name(), numbers);
            problems.add(one.at(), one.expression().error(use, message, hint));
        }
    }

    private static String hint(String word, Set<String> known) {
        String nearest = Nearest.of(word, known);
        return (nearest == null ? "" : "did you mean %s? ".formatted(nearest))
                + (known.isEmpty()
                        ? "the lesson defines none"
                        : (known.size() == 1 ? "there is " : "there are ") + String.join(", ", known));
    }

    /** Looks for values and runs that need themselves. */
    private record Circles(
            Problems problems,
            Map<String, Lesson.ProgramRun> runs,
            Map<String, Expression> values,
            Set<String> open,
            Set<String> done,
            List<String> path) {

        Circles(Problems problems, Map<String, Lesson.ProgramRun> runs, Map<String, Expression> values) {
            this(problems, runs, values, new HashSet<>(), new HashSet<>(), new ArrayList<>());
        }

        void tell() {
            values.keySet().forEach(this::visit);
            runs.keySet().forEach(this::visit);
        }

        private void visit(String name) {
            if (!open.add(name)) {
                return;
            }
            path.add(name);
            for (Expression expression : expressions(name)) {
                Set<String> told = new HashSet<>();
                for (Expression.Use use : expression.uses()) {
                    boolean circle = open.contains(use.name()) && !done.contains(use.name());
                    if (circle && told.add(use.name())) {
                        String circleNames =
                                String.join(" needs ", path.subList(path.indexOf(use.name()), path.size()));
                        String message = "%s needs %s: a circle".formatted(circleNames, use.name());
                        problems.addLast(expression.error(use, message, null));
                    }
                    visit(use.name());
                }
            }
            path.remove(path.size() - 1);
            done.add(name);
        }

        private List<Expression> expressions(String name) {
            Expression value = values.get(name);
            if (value != null) {
                return List.of(value);
            }
            Lesson.ProgramRun run = runs.get(name);
            return run == null ? List.of() : List.copyOf(run.setup().set().values());
        }
    }
}
