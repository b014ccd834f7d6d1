package octurn.asm;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashMap;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import octurn.design.Design;
import octurn.diag.Nearest;
import org.jspecify.annotations.Nullable;

/** The names of a file: who may be called what, what a name stands for where, and in which order constants follow. */
final class Symbols {

    static final int LONGEST_NAME = 64;

    /** A longer circle is told in part. */
    private static final int LONGEST_CIRCLE = 8;

    private final Problems problems;
    private final Map<String, Long> overrides;

    /** The names of the whole file: constants, labels of {@code shared}, images, and those known from the start. */
    private final Map<String, Symbol> global = new LinkedHashMap<>();

    /** For each label of a section of its own, the first one in the file. */
    private final Map<String, Symbol> firstLocal = new HashMap<>();

    private final List<Symbol> constants = new ArrayList<>();

    Symbols(Design design, Map<String, Long> overrides, Problems problems) {
        this.problems = problems;
        this.overrides = overrides;
        known("clock", design.clock().chipHertz());
        known("cores", design.cores());
        known("slot", design.slotCycles());
        known("rotation", design.rotationCycles());
    }

    private void known(String name, long number) {
        global.put(name, Symbol.known(name, number));
    }

    void defineConstant(Token name, @Nullable Section section, Expression expression) {
        if (mayDefine(name, null)) {
            Long override = overrides.get(name.text());
            Symbol constant = Symbol.constant(
                    name.text(),
                    name.place(),
                    section,
                    override == null ? expression : new Expression.Literal(override, expression.place()));
            constants.add(constant);
            global.put(constant.name, constant);
        }
    }

    /** Defines a label of this section. */
    @Nullable
    Symbol defineLabel(Token name, Section section) {
        if (!section.isPrivate()) {
            Symbol label = defineAddress(name, section);
            if (label != null) {
                section.labels.put(label.name, label);
            }
            return label;
        }
        if (!mayDefine(name, section)) {
            return null;
        }
        Symbol label = Symbol.address(name.text(), name.place(), section);
        section.labels.put(label.name, label);
        firstLocal.putIfAbsent(label.name, label);
        return label;
    }

    /** Defines a name of the whole file that stands for a shared address. */
    @Nullable
    Symbol defineAddress(Token name, Section section) {
        if (!mayDefine(name, null)) {
            return null;
        }
        Symbol symbol = Symbol.address(name.text(), name.place(), section);
        global.put(symbol.name, symbol);
        return symbol;
    }

    /** Defines a name whose definition cannot be read, so that its uses are no further mistakes. */
    void defineSpoiled(Token name) {
        if (mayDefine(name, null)) {
            Symbol symbol = Symbol.spoiled(name.text(), name.place());
            constants.add(symbol);
            global.put(symbol.name, symbol);
        }
    }

    /** Tells what is wrong with a new name, for this section alone or (null) for the whole file. */
    private boolean mayDefine(Token token, @Nullable Section section) {
        String name = token.text();
        String meaning = Vocabulary.meaning(name);
        if (meaning != null) {
            problems.error(
                    token.place(),
                    "%s is %s and cannot be defined".formatted(Text.quoted(name), meaning),
                    "choose another name");
            return false;
        }
        if (name.length() > LONGEST_NAME) {
            problems.error(
                    token.place(),
                    "the name %s has %d characters".formatted(Text.quoted(name), name.length()),
                    "a name has at most " + LONGEST_NAME);
        }
        // A label of one section and a name of the whole file are two things, each of them known where it should be.
        Symbol same = section == null ? global.get(name) : section.labels.get(name);
        Symbol first = same != null ? same : section == null ? firstLocal.get(name) : global.get(name);
        if (first != null && first.place.line() == 0) {
            problems.error(
                    token.place(),
                    "%s is known from the start and cannot be defined".formatted(Text.quoted(name)),
                    "choose another name");
        } else if (first != null) {
            problems.error(
                    token.place(),
                    "%s is defined twice".formatted(Text.quoted(name)),
                    "first defined on line " + first.place.line());
        }
        return same == null;
    }

    /** What this name stands for in this section, or (null) outside of all. */
    @Nullable
    Symbol find(String name, @Nullable Section section) {
        Symbol local = section == null ? null : section.labels.get(name);
        return local != null ? local : global.get(name);
    }

    /** What to say about a name that stands for nothing in this section. */
    @Nullable
    String hintFor(String name, @Nullable Section section) {
        if (name.matches("[rR][0-9]+")) {
            return "registers are r0..r15";
        }
        Symbol elsewhere = firstLocal.get(name);
        if (elsewhere != null) {
            return "the label on line %d is known in its own section alone".formatted(elsewhere.place.line());
        }
        List<String> names = new ArrayList<>(global.keySet());
        if (section != null && section.isPrivate()) {
            names.addAll(section.labels.keySet());
        }
        String near = Nearest.of(name, names);
        return near == null
                ? "define it as a label or as a constant"
                : "did you mean %s?%s".formatted(near, near.equalsIgnoreCase(name) ? " Case counts in names" : "");
    }

    /** The constants that the file defines, in its order. */
    List<Symbol> constants() {
        return constants;
    }

    /** Tells which overridden constants the file does not define. */
    void checkOverrides() {
        for (String name : overrides.keySet()) {
            Symbol symbol = global.get(name);
            if (symbol == null || !constants.contains(symbol)) {
                List<String> names = new ArrayList<>();
                constants.forEach(constant -> names.add(constant.name));
                String near = Nearest.of(name, names);
                problems.error(
                        Place.FILE,
                        "the program defines no constant %s to set".formatted(Text.quoted(name)),
                        near == null ? null : "did you mean %s?".formatted(near));
            }
        }
    }

    /**
     * The constants in such an order that each follows those that it needs. Tells of constants that need themselves.
     */
    List<Symbol> ordered() {
        List<Symbol> order = new ArrayList<>(constants.size());
        Deque<Visit> path = new ArrayDeque<>();
        for (Symbol constant : constants) {
            if (constant.search == Symbol.Search.NEW) {
                path.addLast(visit(constant));
                while (!path.isEmpty()) {
                    step(path, order);
                }
            }
        }
        return order;
    }

    /** A constant on the way down through those that it needs. A stack of our own: such a chain may be long. */
    private record Visit(Symbol constant, Iterator<Symbol> needs) {}

    private Visit visit(Symbol constant) {
        constant.search = Symbol.Search.OPEN;
        List<Symbol> needs = new ArrayList<>();
        if (constant.expression != null) {
            constant.expression.names(name -> {
                Symbol symbol = find(name.name(), constant.section);
                if (symbol != null) {
                    needs.add(symbol);
                }
            });
        }
        return new Visit(constant, needs.iterator());
    }

    private void step(Deque<Visit> path, List<Symbol> order) {
        Visit visit = path.getLast();
        Symbol constant = visit.constant;
        if (!visit.needs.hasNext()) {
            constant.search = Symbol.Search.DONE;
            order.add(constant);
            path.removeLast();
            if (!path.isEmpty()) {
                needNewest(path.getLast().constant, constant.newest);
            }
            return;
        }
        Symbol need = visit.needs.next();
        if (need.search == Symbol.Search.OPEN) {
            if (!need.settled) {
                tellCircle(path, need);
            }
        } else if (need.search == Symbol.Search.NEW && need.expression != null) {
            path.addLast(visit(need));
        } else {
            needNewest(constant, need.newest);
        }
    }

    private static void needNewest(Symbol constant, @Nullable Symbol label) {
        if (label != null && (constant.newest == null || label.place.line() > constant.newest.place.line())) {
            constant.newest = label;
        }
    }

    /** The end of the path from this constant on is a circle: it is told where its first constant is defined. */
    private void tellCircle(Deque<Visit> path, Symbol from) {
        List<Symbol> circle = new ArrayList<>();
        for (Visit visit : path) {
            if (visit.constant == from || !circle.isEmpty()) {
                circle.add(visit.constant);
                visit.constant.settle(null);
            }
        }
        int first = 0;
        for (int i = 1; i < circle.size(); i++) {
            if (circle.get(i).place.line() < circle.get(first).place.line()) {
                first = i;
            }
        }
        StringBuilder names = new StringBuilder();
        for (int i = 0; i < Math.min(circle.size(), LONGEST_CIRCLE); i++) {
            names.append(Text.escaped(circle.get((first + i) % circle.size()).name))
                    .append(" -> ");
        }
        if (circle.size() > LONGEST_CIRCLE) {
            names.append(".. -> ");
        }
        Symbol told = circle.get(first);
        problems.error(
                told.place,
                "%s is defined by itself".formatted(Text.quoted(told.name)),
                "break the circle " + names + Text.escaped(told.name));
    }
}
