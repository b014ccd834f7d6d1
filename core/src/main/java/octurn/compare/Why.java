package octurn.compare;

import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import octurn.compare.Outcome.Difference;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.machine.State;
import octurn.report.RunReport;
import octurn.report.RunReport.CoreReport;
import octurn.report.RunReport.FaultReport;
import octurn.report.Verdict;

/**
 * Why a program takes longer or shorter under one design than under another: told by the core that decides when the run
 * ends ({@link Comparison#deciding}). Its cycles are work, waits, slots, code, loading and sleep; what grew or shrank the
 * most tells where the difference comes from, and what differs between the designs why.
 */
final class Why {

    /** Differences of less than this are called none. */
    private static final double NOTICEABLE = 0.005;

    /** Memory that is held for so many percent of the time can hardly serve more. */
    private static final int NEVER_FREE_PERCENT = 95;

    /** From this factor on one speaks of times, below of percent. */
    private static final double MANIFOLD = 1.5;

    private Why() {}

    /** Where the cycles of a core can go, as far as designs change it. */
    private enum Part {
        WORK("worked", State.WORK),
        WAIT("waited", State.WAIT),
        SLOT("held the memory", State.SLOT),
        CODE("fetched code", State.CODE_WAIT, State.CODE_SLOT),
        LOADING("loaded images", State.LOAD_WAIT, State.LOAD_SLOT),
        SLEEP("slept", State.SLEEP);

        private final String did;
        private final List<State> states;

        Part(String did, State... states) {
            this.did = did;
            this.states = List.of(states);
        }

        private long of(CoreReport core) {
            return states.stream()
                    .mapToLong(state -> RunFigures.cycles(core, state))
                    .sum();
        }
    }

    /** What is to be said of a run by itself. */
    static String alone(RunReport report) {
        return Verdict.of(report).sentence();
    }

    /** What is to be said of a run beside that of the first design. */
    static String compared(RunReport base, RunReport other, List<Difference> differences) {
        String ended = notFinished(other);
        if (!ended.isEmpty()) {
            return ended + baseToo(base);
        }
        String speed = notFinished(base).isEmpty() ? speed(base, other) : comesToItsEnd(other);
        return speed
                + result(differences, base.design().cores() == other.design().cores());
    }

    // ---- runs that did not come to their end

    private static String notFinished(RunReport report) {
        Optional<CoreReport> faulted = report.cores().stream()
                .filter(core -> core.fault() != null)
                .min(Comparator.comparingLong(Why::faultCycle));
        if (faulted.isPresent() && faulted.get().fault() != null) {
            FaultReport fault = faulted.get().fault();
            return "Core %d faults at cycle %,d: %s."
                    .formatted(faulted.get().core(), faultCycle(faulted.get()), fault == null ? "" : fault.message());
        }
        return switch (report.ended()) {
            case STUCK -> Verdict.of(report).sentence();
            case LIMIT -> text("It had not come to its end at the limit of %,d cycles.", report.cycles());
            case ALL_IDLE -> "";
        };
    }

    private static long faultCycle(CoreReport core) {
        FaultReport fault = core.fault();
        return fault == null ? Long.MAX_VALUE : fault.cycle();
    }

    private static String baseToo(RunReport base) {
        return notFinished(base).isEmpty() ? "" : " Neither did the first come to its end.";
    }

    private static String comesToItsEnd(RunReport report) {
        return text("It comes to its end after %,d cycles; the first did not.", report.cycles());
    }

    // ---- faster or slower

    private static String speed(RunReport base, RunReport other) {
        double before = seconds(base);
        double after = seconds(other);
        if (base.cycles() == other.cycles() && before == after) {
            return same(base, other);
        }
        CoreReport slow = deciding(base);
        CoreReport now = decidesStill(slow, other);
        String how = how(before, after);
        if (base.cycles() == other.cycles()) {
            return "%s: the clock is another one, the cycles are the same.".formatted(how);
        }
        if (Math.abs(before / after - 1) < NOTICEABLE && neverFree(base) && neverFree(other)) {
            return text(
                    "%s: under both the memory is held for %d %% of the time and more, so whoever is admitted, it"
                            + " cannot serve more.",
                    how, Math.min(percent(base), percent(other)));
        }
        Part part = greatestChange(slow, now, other.cycles() < base.cycles());
        String who = slow.core() == now.core()
                ? "core %d".formatted(now.core())
                : "core %d, which now decides,".formatted(now.core());
        String change = text("%s %s %,d cycles instead of %,d", who, part.did, part.of(now), part.of(slow));
        String reason = reason(part, base, other, slow, now);
        return "%s: %s%s.".formatted(how, change, reason.isEmpty() ? "" : ", " + reason);
    }

    private static boolean neverFree(RunReport report) {
        return percent(report) >= NEVER_FREE_PERCENT && !(report.design().admission() instanceof Admission.OwnPort);
    }

    private static String same(RunReport base, RunReport other) {
        CoreReport before = deciding(base);
        CoreReport core = decidesStill(before, other);
        long waited = Part.WAIT.of(core);
        long waitedBefore = Part.WAIT.of(before);
        if (waited == waitedBefore) {
            return text(
                    "As fast, to the cycle: core %d, which decides, waits %,d cycles in both.", core.core(), waited);
        }
        return text(
                "As fast, to the cycle: core %d waits %,d cycles instead of %,d, but makes up for it elsewhere.",
                core.core(), waited, waitedBefore);
    }

    private static double seconds(RunReport report) {
        return (double) report.cycles() / report.design().clock().chipHertz();
    }

    private static String how(double before, double after) {
        double faster = before / after;
        if (Math.abs(faster - 1) < NOTICEABLE) {
            return faster > 1 ? "Hardly faster" : "Hardly slower";
        }
        if (faster >= MANIFOLD) {
            return text("%.2f times as fast", faster);
        }
        if (faster <= 1 / MANIFOLD) {
            return text("Takes %.2f times as long", 1 / faster);
        }
        return faster > 1
                ? text("Takes %.1f %% less time", 100 * (1 - 1 / faster))
                : text("Takes %.1f %% more time", 100 * (1 / faster - 1));
    }

    /** See {@link Comparison#deciding}. */
    static CoreReport deciding(RunReport report) {
        long longest = report.cores().stream().mapToLong(Why::active).max().orElse(0);
        return report.cores().stream()
                .filter(core -> 10 * active(core) >= 9 * longest)
                .max(Comparator.comparingLong(Part.WORK::of).thenComparingInt(core -> -core.core()))
                .orElseThrow();
    }

    /** The same core in another run if it decides there, too, as far as can be told; else the one that does. */
    private static CoreReport decidesStill(CoreReport core, RunReport other) {
        long longest = other.cores().stream().mapToLong(Why::active).max().orElse(0);
        return other.cores().stream()
                .filter(same -> same.core() == core.core() && 10 * active(same) >= 9 * longest)
                .findFirst()
                .orElseGet(() -> deciding(other));
    }

    private static long active(CoreReport core) {
        long active = 0;
        for (Part part : Part.values()) {
            active += part.of(core);
        }
        return active;
    }

    private static Part greatestChange(CoreReport before, CoreReport after, boolean shrank) {
        Part greatest = Part.WAIT;
        long most = 0;
        for (Part part : Part.values()) {
            long change = shrank ? part.of(before) - part.of(after) : part.of(after) - part.of(before);
            if (change > most) {
                most = change;
                greatest = part;
            }
        }
        return greatest;
    }

    // ---- why

    private static String reason(Part part, RunReport base, RunReport other, CoreReport before, CoreReport after) {
        return switch (part) {
            case WAIT, CODE, LOADING -> waitReason(base, other, before, after);
            case SLOT -> slotReason(base, other, before, after);
            case WORK -> workReason(before, after);
            case SLEEP -> "for it woke up at other times";
        };
    }

    private static String waitReason(RunReport base, RunReport other, CoreReport before, CoreReport after) {
        Design first = base.design();
        Design second = other.design();
        Admission now = second.admission();
        if (2 * Math.min(before.accesses(), after.accesses()) < Math.max(before.accesses(), after.accesses())) {
            return text("for it made %,d accesses instead of %,d", after.accesses(), before.accesses());
        }
        boolean longer = Part.WAIT.of(after) > Part.WAIT.of(before);
        if (now instanceof Admission.OwnPort) {
            return "for with a port of its own no core ever waits: access for access, no shared memory can beat that";
        }
        if (first.admission() instanceof Admission.Rotation && now instanceof Admission.Rotation) {
            return inTurnReason(first, second, after.core(), longer);
        }
        if (first.admission() instanceof Admission.Rotation) {
            return longer
                    ? text(
                            "for on demand the cores stand in line behind one another (%d %% of the time the memory was"
                                    + " held), where each had a slot kept for it",
                            percent(other))
                    : text(
                            "for no slot passes unused while a request is up; in rotation %d of 100 did",
                            unusedPercent(base));
        }
        if (now instanceof Admission.Rotation) {
            return longer
                    ? text("for %d of 100 slots pass unused, as their owners do not want them", unusedPercent(other))
                    : "for a slot is kept for it, whoever else wants the memory";
        }
        return text("for %s lets others in before it at other times", now.policy());
    }

    private static String inTurnReason(Design first, Design second, int core, boolean longer) {
        int slots = slots(first, core);
        int slotsNow = slots(second, core);
        int rotation = first.rotationCycles();
        int rotationNow = second.rotationCycles();
        if (slots != slotsNow) {
            return text(
                    "for it has %d slot%s in a rotation of %d cycles instead of %d in %d",
                    slotsNow, slotsNow == 1 ? "" : "s", rotationNow, slots, rotation);
        }
        if (rotation != rotationNow) {
            String change = text("for its slots come round every %d cycles instead of every %d", rotationNow, rotation);
            boolean expected = longer == rotationNow > rotation;
            return expected
                    ? change
                    : change + ", and its requests come just "
                            + (longer ? "too late for them more often" : "in time for them more often");
        }
        return "for its requests fall differently into the rotation";
    }

    private static int slots(Design design, int core) {
        return design.admission() instanceof Admission.Rotation rotation
                ? (int) rotation.order().stream().filter(owner -> owner == core).count()
                : 0;
    }

    private static String slotReason(RunReport base, RunReport other, CoreReport before, CoreReport after) {
        int slot = base.design().slotCycles();
        int slotNow = other.design().slotCycles();
        return slot != slotNow
                ? text("for each of its %,d accesses takes %d instead of %d", after.accesses(), slotNow, slot)
                : text("for it made %,d accesses instead of %,d", after.accesses(), before.accesses());
    }

    private static String workReason(CoreReport before, CoreReport after) {
        return before.instructions() == after.instructions()
                ? "for its instructions take other times"
                : text("for it did %,d instructions instead of %,d", after.instructions(), before.instructions());
    }

    private static int percent(RunReport report) {
        return report.cycles() == 0 ? 0 : (int) (100 * report.busyCycles() / report.cycles());
    }

    private static int unusedPercent(RunReport report) {
        return (int) Math.round(100 * RunFigures.of(report).unusedShare());
    }

    // ---- results

    private static String result(List<Difference> differences, boolean sameCores) {
        if (differences.isEmpty()) {
            return "";
        }
        Difference first = differences.get(0);
        String more = differences.size() > 1 ? text("; %,d more words differ", differences.size() - 1) : "";
        return " Its result differs%s: %s is %s, under the first design %s%s."
                .formatted(
                        sameCores ? ", so it depends on timing" : ", with other cores at work",
                        word(first),
                        value(first.there()),
                        value(first.here()),
                        more);
    }

    /** How a word is called in a sentence. */
    static String word(Difference difference) {
        String memory =
                difference.memory() == Outcome.SHARED ? "shared" : "core %d's private".formatted(difference.memory());
        return difference.name().isEmpty()
                ? "%s word %d".formatted(memory, difference.address())
                : "%s %s".formatted(memory, difference.name());
    }

    private static String value(long value) {
        return value == Outcome.UNCHANGED ? "unchanged" : text("%,d", value);
    }

    private static String text(String format, Object... values) {
        return String.format(Locale.ROOT, format, values);
    }
}
