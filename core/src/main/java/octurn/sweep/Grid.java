package octurn.sweep;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import octurn.design.Design;

/**
 * All combinations of the values of some axes. The points have numbers from 0; the last axis varies the fastest.
 *
 * @param base the design that the fields are changed in
 * @param set what has one value for all points: axes of one value each
 * @param axes what is varied
 */
public record Grid(Design base, List<Axis> set, List<Axis> axes) {

    /** No grid has more points. */
    public static final int MOST_POINTS = 1_000_000;

    /**
     * @throws IllegalArgumentException if there are too many points, or a name comes twice
     */
    public Grid {
        set = List.copyOf(set);
        axes = List.copyOf(axes);
        Set<String> names = new HashSet<>();
        long points = 1;
        for (Axis axis : set) {
            if (!names.add(axis.name())) {
                throw new IllegalArgumentException("%s is given twice".formatted(axis.name()));
            }
            if (axis.values().size() != 1) {
                throw new IllegalArgumentException("%s is set to one value, not to %d"
                        .formatted(axis.name(), axis.values().size()));
            }
        }
        for (Axis axis : axes) {
            if (!names.add(axis.name())) {
                throw new IllegalArgumentException("%s is given twice".formatted(axis.name()));
            }
            points = Math.multiplyExact(points, axis.values().size());
            if (points > MOST_POINTS) {
                throw new IllegalArgumentException(
                        "the grid has more than %,d points; fewer values, or larger steps (0..1000+10), make it smaller"
                                .formatted(MOST_POINTS));
            }
        }
    }

    /** How many points there are. */
    public int size() {
        int size = 1;
        for (Axis axis : axes) {
            size *= axis.values().size();
        }
        return size;
    }

    /** The values of a point, one for each axis. */
    public List<String> values(int point) {
        String[] values = new String[axes.size()];
        int rest = point;
        for (int i = values.length - 1; i >= 0; i--) {
            List<String> those = axes.get(i).values();
            values[i] = those.get(rest % those.size());
            rest /= those.size();
        }
        return List.of(values);
    }

    /**
     * The design of a point.
     *
     * @throws IllegalArgumentException if its values do not go together
     */
    public Design design(int point) {
        List<String> values = values(point);
        List<Change> changes = new ArrayList<>();
        for (Axis axis : set) {
            changes.add(new Change(axis, axis.values().get(0)));
        }
        for (int i = 0; i < values.size(); i++) {
            changes.add(new Change(axes.get(i), values.get(i)));
        }
        // First the cores, then the policy, then what a policy has: each fits into what stands before it.
        changes.sort(Comparator.comparingInt(Change::turn));
        Design design = base;
        for (Change change : changes) {
            design = change.axis().with(design, change.value());
        }
        return design;
    }

    private record Change(Axis axis, String value) {
        int turn() {
            return switch (axis.kind()) {
                case FIELD -> 0;
                case POLICY -> 1;
                default -> 2;
            };
        }
    }

    /** The constants of the program that have a value of their own at a point. */
    public Map<String, Long> constants(int point) {
        Map<String, Long> constants = new LinkedHashMap<>();
        for (Axis axis : set) {
            addConstant(axis, axis.values().get(0), constants);
        }
        List<String> values = values(point);
        for (int i = 0; i < values.size(); i++) {
            addConstant(axes.get(i), values.get(i), constants);
        }
        return constants;
    }

    private static void addConstant(Axis axis, String value, Map<String, Long> constants) {
        if (axis.kind() == Axis.Kind.CONSTANT) {
            constants.put(axis.name(), Long.parseLong(value));
        }
    }

    /** The constants that any point sets, by name. */
    public List<String> constantNames() {
        List<String> names = new ArrayList<>();
        for (List<Axis> some : List.of(set, axes)) {
            some.stream().filter(axis -> axis.kind() == Axis.Kind.CONSTANT).forEach(axis -> names.add(axis.name()));
        }
        return names;
    }
}
