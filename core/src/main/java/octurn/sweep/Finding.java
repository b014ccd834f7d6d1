package octurn.sweep;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import octurn.asm.Program;
import octurn.compare.RunFigures;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.design.Field;
import org.jspecify.annotations.Nullable;

/**
 * What a sweep found, in a few sentences: the point that takes the least time, how it compares with the design and the
 * program as they are, and what to be careful about.
 *
 * @param best the point that took the least time, of equals the first; empty if none came to its end
 * @param own the point at which the design and program are what they are without the sweep, if it is in the grid
 * @param sentence the same in words
 */
public record Finding(Optional<SweepRow> best, Optional<SweepRow> own, String sentence) {

    /**
     * What these rows say.
     *
     * @param rows of a whole grid, or of a part of it
     * @param ownValues for each axis what it is without the sweep; see {@link #ownValues}
     */
    public static Finding of(Grid grid, List<SweepRow> rows, List<String> ownValues) {
        List<SweepRow> finished = rows.stream().filter(SweepRow::finished).toList();
        Optional<SweepRow> best = finished.stream()
                .min(Comparator.comparingDouble(Finding::seconds).thenComparingInt(SweepRow::point));
        Optional<SweepRow> own =
                rows.stream().filter(row -> row.values().equals(ownValues)).findFirst();
        List<String> sentences = new ArrayList<>();
        best.ifPresentOrElse(
                row -> sentences.add(bestSentence(grid, rows.size(), row, own, finished)),
                () -> sentences.add("At no point did the program come to its end."));
        own.filter(SweepRow::finished)
                .ifPresent(row -> neighbours(grid, row, finished).ifPresent(sentences::add));
        if (best.isPresent() && finished.size() < rows.size()) {
            int missing = rows.size() - finished.size();
            sentences.add(text("%,d of %,d points did not come to their end.", missing, rows.size()));
        }
        if (otherWork(grid, best, own)) {
            sentences.add("But there it leaves another result in shared memory, so it may do other work in that time.");
        } else if (resultsDiffer(grid, finished)) {
            sentences.add("The results in shared memory differ between the points, though no constant of the program"
                    + " was varied: look at the column \"result\" before you trust the times.");
        }
        return new Finding(best, own, String.join(" ", sentences));
    }

    private static String bestSentence(
            Grid grid, int points, SweepRow best, Optional<SweepRow> own, List<SweepRow> finished) {
        String took = took(best);
        long equal =
                finished.stream().filter(row -> seconds(row) == seconds(best)).count();
        String ties = equal > 1 ? text(", as at %,d more", equal - 1) : "";
        if (own.isEmpty() || !own.get().finished()) {
            return text("Of %,d points %s takes the least time: %s%s.", points, name(grid, best), took, ties);
        }
        if (seconds(own.get()) == seconds(best)) {
            Optional<SweepRow> next = finished.stream()
                    .filter(row -> seconds(row) > seconds(best))
                    .min(Comparator.comparingDouble(Finding::seconds));
            return text("No point beats %s, as it is now: %s", name(grid, own.get()), took(own.get()))
                    + next.map(row -> text(
                                    "; the next best, %s, takes %s more.",
                                    name(grid, row), percent(seconds(row) / seconds(best) - 1)))
                            .orElse("; all take the same time.");
        }
        return text(
                "With %s it would have taken %s less time than with %s, as it is now: %s instead of %s; of %,d points"
                        + " it is the best%s.",
                name(grid, best),
                percent(1 - seconds(best) / seconds(own.get())),
                name(grid, own.get()),
                took,
                took(own.get()),
                points,
                ties);
    }

    /** For a single axis of numbers: what a little less and a little more would have done. */
    private static Optional<String> neighbours(Grid grid, SweepRow own, List<SweepRow> finished) {
        if (grid.axes().size() != 1 || !grid.axes().get(0).kind().isNumber()) {
            return Optional.empty();
        }
        Optional<SweepRow> less = finished.stream()
                .filter(row -> number(row) < number(own))
                .max(Comparator.comparingLong(Finding::number));
        Optional<SweepRow> more = finished.stream()
                .filter(row -> number(row) > number(own))
                .min(Comparator.comparingLong(Finding::number));
        if (less.isEmpty() && more.isEmpty()) {
            return Optional.empty();
        }
        List<String> parts = new ArrayList<>();
        less.ifPresent(row -> parts.add(beside(row, own)));
        more.ifPresent(row -> parts.add(beside(row, own)));
        return Optional.of("Next to it: %s.".formatted(String.join(", ", parts)));
    }

    private static long number(SweepRow row) {
        return Long.parseLong(row.values().get(0));
    }

    private static String beside(SweepRow row, SweepRow own) {
        double part = seconds(row) / seconds(own) - 1;
        return part == 0
                ? text("%s takes as long", row.values().get(0))
                : text("%s takes %s %s", row.values().get(0), percent(Math.abs(part)), part > 0 ? "more" : "less");
    }

    private static String took(SweepRow row) {
        return text("%,d cycles", row.figures().map(RunFigures::cycles).orElse(0L));
    }

    private static double seconds(SweepRow row) {
        return row.figures().map(RunFigures::seconds).orElse(Double.POSITIVE_INFINITY);
    }

    private static String percent(double part) {
        return text(part < 0.1 ? "%.1f %%" : "%.0f %%", 100 * part);
    }

    private static String name(Grid grid, SweepRow row) {
        List<String> parts = new ArrayList<>();
        for (int i = 0; i < grid.axes().size(); i++) {
            parts.add(grid.axes().get(i).name() + " " + row.values().get(i));
        }
        return parts.isEmpty() ? "the only one" : String.join(", ", parts);
    }

    /** With other cores or constants a program may do more or less; then the best is not the same work done faster. */
    private static boolean otherWork(Grid grid, Optional<SweepRow> best, Optional<SweepRow> own) {
        return !sameProgram(grid)
                && best.isPresent()
                && own.filter(SweepRow::finished).isPresent()
                && best.get().sharedChecksum() != own.get().sharedChecksum();
    }

    private static boolean sameProgram(Grid grid) {
        return grid.axes().stream()
                .noneMatch(
                        axis -> axis.kind() == Axis.Kind.CONSTANT || axis.name().equals(Field.CORES.path()));
    }

    private static boolean resultsDiffer(Grid grid, List<SweepRow> finished) {
        return sameProgram(grid)
                && finished.stream().map(SweepRow::sharedChecksum).distinct().count() > 1;
    }

    // ---- the point that is no change

    /**
     * What each axis is without the sweep; empty text where it is nothing.
     *
     * @param program assembled for the design as it is, or null if it cannot be
     */
    public static List<String> ownValues(Grid grid, @Nullable Program program) {
        return grid.axes().stream()
                .map(axis -> ownValue(axis, grid.base(), program))
                .toList();
    }

    private static String ownValue(Axis axis, Design design, @Nullable Program program) {
        Admission admission = design.admission();
        return switch (axis.kind()) {
            case FIELD ->
                Arrays.stream(Field.values())
                        .filter(field -> field.path().equals(axis.name()))
                        .map(field -> Integer.toString(field.of(design)))
                        .findFirst()
                        .orElseThrow();
            case POLICY -> admission.policy();
            case ORDER ->
                admission instanceof Admission.Rotation rotation
                        ? joined(rotation.order())
                        : admission instanceof Admission.Priority priority ? joined(priority.order()) : "";
            case WEIGHTS -> admission instanceof Admission.Lottery lottery ? joined(lottery.weights()) : "";
            case SEED -> admission instanceof Admission.Lottery lottery ? Long.toString(lottery.seed()) : "";
            case CLOCK_SOURCE -> design.clock().source().text();
            case CONSTANT -> {
                Long value = program == null ? null : program.constants().get(axis.name());
                yield value == null ? "" : value.toString();
            }
        };
    }

    private static String joined(List<Integer> numbers) {
        return numbers.stream().map(Object::toString).collect(Collectors.joining(":"));
    }

    private static String text(String format, Object... values) {
        return String.format(Locale.ROOT, format, values);
    }
}
