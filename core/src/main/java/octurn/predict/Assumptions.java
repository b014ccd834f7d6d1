package octurn.predict;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.measure.CoreThinks;
import octurn.measure.Spread;
import octurn.report.RunReport;
import octurn.report.RunReport.CoreReport;

/** Looks in a run for what theories take for granted. Each answer is empty if it holds. */
final class Assumptions {

    /** Means that differ by less than this part count as equal. */
    private static final double EQUAL = 0.05;

    /** Means that differ by less than so many standard errors may do so by chance. */
    private static final double ERRORS = 4;

    /** Cores that end before this part of the time that the last one takes end early. */
    private static final double TO_THE_END = 0.9;

    /** How far the spread of thinks may be from that of geometric ones. */
    private static final double SPREAD = 0.15;

    /** Fewer accesses than this a core tell little about a long run. */
    private static final long LONG_RUN = 100;

    private final RunReport report;
    private final List<CoreThinks> thinks;

    Assumptions(RunReport report, List<CoreThinks> thinks) {
        this.report = report;
        this.thinks = thinks;
    }

    static List<String> joined(List<String> first, List<String> second) {
        List<String> all = new ArrayList<>(first);
        all.addAll(second);
        return all;
    }

    /** Whether requests come at every phase of the rotation equally often (chi-square, 3 standard deviations). */
    List<String> evenPhases() {
        Map<Long, Double> expected = new TreeMap<>();
        Map<Long, Long> seen = new TreeMap<>();
        long count = 0;
        for (CoreReport core : report.cores()) {
            if (core.accesses() > 0) {
                count += core.accesses();
                chances(report.design(), core.core())
                        .forEach((wait, chance) -> expected.merge(wait, chance * core.accesses(), Double::sum));
                core.waits().histogram().forEach((wait, times) -> seen.merge(wait, times, Long::sum));
            }
        }
        int phases = report.design().rotationCycles();
        if (count < 5L * phases) {
            return List.of(text("only %,d accesses for %,d phases", count, phases));
        }
        double chiSquare = 0;
        for (Map.Entry<Long, Double> entry : expected.entrySet()) {
            double off = seen.getOrDefault(entry.getKey(), 0L) - entry.getValue();
            chiSquare += off * off / entry.getValue();
        }
        double freedom = expected.size() - 1.0;
        if (chiSquare <= freedom + 3 * Math.sqrt(2 * freedom)) {
            return List.of();
        }
        Map.Entry<Long, Long> most =
                seen.entrySet().stream().max(Map.Entry.comparingByValue()).orElseThrow();
        return List.of(text(
                "requests keep step with the rotation: %d of 100 wait %d cycles",
                Math.round(100.0 * most.getValue() / count), most.getKey()));
    }

    /** How likely each wait of a core is if its requests come at every phase of the rotation equally often. */
    private static Map<Long, Double> chances(Design design, int core) {
        List<Integer> order = ((Admission.Rotation) design.admission()).order();
        Map<Long, Double> chances = new TreeMap<>();
        long wait = 0;
        // Backwards through two rotations: the second time round the distance to the slot ahead is known.
        for (long cycle = 2L * design.rotationCycles() - 1; cycle >= 0; cycle--) {
            boolean begins = cycle % design.slotCycles() == 0
                    && order.get((int) (cycle / design.slotCycles() % order.size())) == core;
            wait = begins ? 0 : wait + 1;
            if (cycle < design.rotationCycles()) {
                chances.merge(wait, 1.0 / design.rotationCycles(), Double::sum);
            }
        }
        return chances;
    }

    /** Whether each core thinks equally long before every access. */
    List<String> fixedThinks() {
        long varying = thinks.stream()
                .filter(core -> core.thinks().count() > 0 && !core.thinks().isConstant())
                .count();
        if (varying == 0) {
            return List.of();
        }
        Spread all = ofAll();
        return List.of(text("thinks vary from %,d to %,d cycles", all.min(), all.max()));
    }

    /** Whether all cores think alike on average. */
    List<String> alike() {
        CoreThinks least = null;
        CoreThinks most = null;
        for (CoreThinks core : thinks) {
            if (core.thinks().count() > 0) {
                least = least == null || core.thinks().mean() < least.thinks().mean() ? core : least;
                most = most == null || core.thinks().mean() > most.thinks().mean() ? core : most;
            }
        }
        if (least == null || most == null) {
            return List.of();
        }
        double apart = most.thinks().mean() - least.thinks().mean();
        double chance = ERRORS * Math.hypot(error(most), error(least));
        if (apart <= Math.max(EQUAL * least.thinks().mean(), chance)) {
            return List.of();
        }
        return List.of(text(
                "core %d thinks %.1f cycles on average, core %d %.1f",
                least.core(), least.thinks().mean(), most.core(), most.thinks().mean()));
    }

    /** The standard error of a core's mean think. */
    private static double error(CoreThinks core) {
        return core.variation()
                * core.thinks().mean()
                / Math.sqrt((double) core.thinks().count());
    }

    /** Whether the thinks spread as geometric ones do; {@code kind} is what they should be called. */
    List<String> geometricThinks(String kind) {
        double mean = ofAll().mean();
        double wanted = mean > 1 ? Math.sqrt(1 - 1 / mean) : 0;
        double spread = 0;
        long count = 0;
        for (CoreThinks core : thinks) {
            spread += core.variation() * core.thinks().count();
            count += core.thinks().count();
        }
        double is = count == 0 ? 0 : spread / count;
        return Math.abs(is - wanted) <= SPREAD
                ? List.of()
                : List.of(text("thinks are not %s: they deviate by %.2f of their mean, not %.2f", kind, is, wanted));
    }

    /** Whether thinks begin with a single cycle, as those of the theory do. */
    List<String> fromOneCycle() {
        Spread all = ofAll();
        return all.min() - 1 <= EQUAL * all.mean()
                ? List.of()
                : List.of(text("no think is shorter than %,d cycles; in theory they begin with 1", all.min()));
    }

    /** Whether all cores go on to the end, for long enough. */
    List<String> longRun() {
        List<String> broken = new ArrayList<>();
        CoreThinks first = null;
        long last = 0;
        long fewest = Long.MAX_VALUE;
        for (CoreThinks core : thinks) {
            first = first == null || core.lastSlotEnd() < first.lastSlotEnd() ? core : first;
            last = Math.max(last, core.lastSlotEnd());
            fewest = Math.min(fewest, core.accesses());
        }
        if (first != null && first.lastSlotEnd() < TO_THE_END * last) {
            broken.add(text(
                    "core %d made its last access at cycle %,d, others went on to %,d",
                    first.core(), first.lastSlotEnd(), last));
        }
        if (fewest < LONG_RUN) {
            broken.add(text("only %,d accesses of a core", fewest));
        }
        return broken;
    }

    /** Whether the arbiter has only data accesses to serve. */
    List<String> dataAlone() {
        return thinks.stream().anyMatch(CoreThinks::otherAccesses)
                ? List.of("code or images come through the arbiter as well")
                : List.of();
    }

    Spread ofAll() {
        Spread all = Spread.NONE;
        for (CoreThinks core : thinks) {
            all = all.and(core.thinks());
        }
        return all;
    }

    static String text(String format, Object... values) {
        return String.format(Locale.ROOT, format, values);
    }
}
