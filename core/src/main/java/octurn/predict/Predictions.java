package octurn.predict;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.OptionalLong;
import octurn.arbiter.Rotation;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.machine.State;
import octurn.measure.CoreThinks;
import octurn.measure.Spread;
import octurn.predict.ThinkAndAccess.LongRun;
import octurn.report.RunReport;
import octurn.report.RunReport.CoreReport;
import octurn.report.TurnFigures;

/** What the theories that apply to a design say of one of its runs, beside what was measured. */
public final class Predictions {

    /** Thinks that deviate from their mean by less than this part are called fixed, not geometric. */
    private static final double FIXED = 0.25;

    private final RunReport report;
    private final Design design;
    private final List<CoreThinks> thinks;
    private final Assumptions assumptions;
    private final List<Prediction> list = new ArrayList<>();

    private Predictions(RunReport report, List<CoreThinks> thinks) {
        this.report = report;
        this.design = report.design();
        this.thinks = thinks;
        this.assumptions = new Assumptions(report, thinks);
    }

    /**
     * The predictions for this run.
     *
     * @param thinks of its cores, as {@link octurn.measure.ThinkMeter} measured them
     */
    public static List<Prediction> of(RunReport report, List<CoreThinks> thinks) {
        Predictions predictions = new Predictions(report, thinks);
        if (!thinks.isEmpty()) {
            double stall = predictions.waits();
            predictions.held();
            predictions.stalls(stall);
            predictions.roof();
        }
        return List.copyOf(predictions.list);
    }

    private void add(
            Theory theory, Quantity quantity, double predicted, double measured, boolean bound, List<String> broken) {
        list.add(new Prediction(theory, quantity, "", predicted, measured, bound, broken));
    }

    // ---- waits

    /** Adds what is said of waits; the mean wait that the stall equation is to be fed with. */
    private double waits() {
        if (design.admission() instanceof Admission.Rotation rotation) {
            return waitsInTurn(rotation);
        }
        if (design.admission() instanceof Admission.OwnPort) {
            add(Theory.DEMAND_BOUND, Quantity.LONGEST_WAIT, 0, longestWait(), true, List.of());
            return 0;
        }
        return waitsOnDemand();
    }

    private double meanWait() {
        long waited = thinks.stream().mapToLong(CoreThinks::waited).sum();
        return (double) waited / thinks.stream().mapToLong(CoreThinks::accesses).sum();
    }

    private double longestWait() {
        return report.cores().stream()
                .mapToDouble(core -> (double) core.waits().max())
                .max()
                .orElse(0);
    }

    private double waitsInTurn(Admission.Rotation rotation) {
        TurnFigures figures = TurnFigures.of(design);
        double evenWait = 0;
        long accesses = 0;
        long bound = 0;
        for (CoreThinks core : thinks) {
            TurnFigures.CoreTurns turns = figures.cores().get(core.core());
            evenWait += turns.meanWait().orElse(0) * core.accesses();
            accesses += core.accesses();
            bound = Math.max(bound, turns.worstWait().orElse(0));
        }
        evenWait /= accesses;
        add(Theory.UNIFORM_PHASE, Quantity.MEAN_WAIT, evenWait, meanWait(), false, assumptions.evenPhases());
        add(Theory.TURN_BOUND, Quantity.LONGEST_WAIT, (double) bound, longestWait(), true, List.of());
        fixedInTurn(rotation);
        geometricInTurn(rotation);
        return evenWait;
    }

    private void fixedInTurn(Admission.Rotation admission) {
        Rotation rotation = new Rotation(design.slotCycles(), admission.order(), design.cores());
        double predicted = 0;
        long count = 0;
        for (CoreThinks core : thinks) {
            Spread spread = core.thinks();
            if (spread.count() > 0) {
                LongRun alone = ThinkAndAccess.fixedInTurn(
                        rotation, core.core(), design.slotCycles(), design.rotationCycles(), Math.round(spread.mean()));
                predicted += alone.waitCycles() * core.accesses();
                count += core.accesses();
            }
        }
        if (count > 0) {
            add(
                    Theory.FIXED_THINK,
                    Quantity.MEAN_WAIT,
                    predicted / count,
                    meanWait(),
                    false,
                    Assumptions.joined(assumptions.fixedThinks(), assumptions.dataAlone()));
        }
    }

    private void geometricInTurn(Admission.Rotation rotation) {
        List<Integer> order = rotation.order();
        boolean oneSlotEach = thinks.stream()
                .allMatch(core ->
                        order.stream().filter(owner -> owner == core.core()).count() == 1);
        double mean = assumptions.ofAll().mean();
        if (oneSlotEach && mean >= 1 && isSpread()) {
            LongRun run =
                    ThinkAndAccess.geometricInTurn(thinks.size(), order.size(), design.slotCycles(), 1 / mean, false);
            add(
                    Theory.GEOMETRIC_THINK,
                    Quantity.MEAN_WAIT,
                    run.waitCycles(),
                    meanWait(),
                    false,
                    Assumptions.joined(geometric(), Assumptions.joined(assumptions.alike(), assumptions.longRun())));
        }
    }

    private List<String> geometric() {
        return Assumptions.joined(assumptions.geometricThinks("geometric"), assumptions.fromOneCycle());
    }

    /** Whether the thinks vary enough for theories about chance to have a say. */
    private boolean isSpread() {
        return thinks.stream().anyMatch(core -> core.variation() >= FIXED);
    }

    private double waitsOnDemand() {
        int active = thinks.size();
        double think = assumptions.ofAll().mean();
        int slot = design.slotCycles();
        List<String> steady = Assumptions.joined(assumptions.alike(), assumptions.longRun());
        LongRun bound = ThinkAndAccess.fixedOnDemand(active, slot, think);
        add(
                Theory.ASYMPTOTIC_BOUNDS,
                Quantity.MEAN_WAIT,
                bound.waitCycles(),
                meanWait(),
                true,
                Assumptions.joined(assumptions.fixedThinks(), steady));
        if (think >= 1 && isSpread()) {
            LongRun chain = ThinkAndAccess.geometricOnDemand(active, slot, 1 / think, false);
            add(
                    Theory.GEOMETRIC_THINK,
                    Quantity.MEAN_WAIT,
                    chain.waitCycles(),
                    meanWait(),
                    false,
                    Assumptions.joined(geometric(), steady));
        }
        double queued = MeanValueAnalysis.oneStation(slot, think, active).responseTime() - slot;
        List<String> service = List.of("an access always takes %d cycle%s".formatted(slot, slot == 1 ? "" : "s"));
        add(
                Theory.MEAN_VALUE_ANALYSIS,
                Quantity.MEAN_WAIT,
                queued,
                meanWait(),
                false,
                Assumptions.joined(service, Assumptions.joined(assumptions.geometricThinks("exponential"), steady)));
        OptionalLong longest = longestOnDemand();
        if (longest.isPresent()) {
            add(
                    Theory.DEMAND_BOUND,
                    Quantity.LONGEST_WAIT,
                    (double) longest.getAsLong(),
                    longestWait(),
                    true,
                    List.of());
        }
        if (design.admission() instanceof Admission.Lottery lottery && active > 1) {
            shares(lottery);
        }
        return queued;
    }

    /** The longest wait that any of the cores at work can meet, if all of them have a bound. */
    private OptionalLong longestOnDemand() {
        TurnFigures figures = TurnFigures.of(design);
        long longest = 0;
        for (CoreThinks core : thinks) {
            OptionalLong bound = figures.cores().get(core.core()).worstWait();
            if (bound.isEmpty()) {
                return bound;
            }
            longest = Math.max(longest, bound.getAsLong());
        }
        return OptionalLong.of(longest);
    }

    private void shares(Admission.Lottery lottery) {
        List<Integer> tickets =
                thinks.stream().map(core -> lottery.weights().get(core.core())).toList();
        long all = tickets.stream().mapToLong(Integer::longValue).sum();
        long accesses = thinks.stream().mapToLong(CoreThinks::accesses).sum();
        List<String> broken = new ArrayList<>(assumptions.longRun());
        long fewest = thinks.stream().mapToLong(CoreThinks::accesses).min().orElse(0);
        if (fewest == thinks.stream().mapToLong(CoreThinks::accesses).max().orElse(0)) {
            broken.add("the program gives each core equally many accesses");
        }
        List<String> sitting = new ArrayList<>(broken);
        if (assumptions.ofAll().max() > design.slotCycles()) {
            broken.add(Assumptions.text(
                    "thinks of up to %,d cycles are longer than a slot: a core can sit out more draws than one",
                    assumptions.ofAll().max()));
        }
        sitting.add(0, "a core whose slot has just ended is not yet there for the next draw");
        // Of many cores the one with the most tickets shows it best.
        int shown = 0;
        for (int i = 1; i < tickets.size(); i++) {
            shown = tickets.get(i) > tickets.get(shown) ? i : shown;
        }
        double measured = (double) thinks.get(shown).accesses() / accesses;
        String core = "core %d".formatted(thinks.get(shown).core());
        list.add(new Prediction(
                Theory.LOTTERY_SHARE,
                Quantity.SHARE,
                core,
                Laws.lotteryShare(tickets.get(shown), all),
                measured,
                false,
                sitting));
        list.add(new Prediction(
                Theory.LOTTERY_SITTING_OUT,
                Quantity.SHARE,
                core,
                Laws.lotteryShareSittingOut(shown, tickets),
                measured,
                false,
                broken));
    }

    // ---- memory, instructions

    private void held() {
        double measured = report.cycles() == 0 ? 0 : (double) report.busyCycles() / report.cycles();
        OptionalDouble predicted = OptionalDouble.empty();
        if (design.admission() instanceof Admission.Rotation admission) {
            Rotation rotation = new Rotation(design.slotCycles(), admission.order(), design.cores());
            double sum = 0;
            for (CoreThinks core : thinks) {
                sum += ThinkAndAccess.fixedInTurn(
                                rotation,
                                core.core(),
                                design.slotCycles(),
                                design.rotationCycles(),
                                Math.round(core.thinks().mean()))
                        .utilization();
            }
            predicted = OptionalDouble.of(sum);
        } else if (!(design.admission() instanceof Admission.OwnPort)) {
            predicted = OptionalDouble.of(ThinkAndAccess.fixedOnDemand(
                            thinks.size(),
                            design.slotCycles(),
                            assumptions.ofAll().mean())
                    .utilization());
        }
        if (predicted.isPresent()) {
            boolean inTurn = design.admission() instanceof Admission.Rotation;
            add(
                    inTurn ? Theory.FIXED_THINK : Theory.ASYMPTOTIC_BOUNDS,
                    Quantity.MEMORY_HELD,
                    predicted.getAsDouble(),
                    measured,
                    !inTurn,
                    Assumptions.joined(assumptions.fixedThinks(), assumptions.longRun()));
        }
    }

    private void stalls(double stall) {
        long instructions = 0;
        long work = 0;
        long stalled = 0;
        long accesses = 0;
        for (CoreReport core : report.cores()) {
            instructions += core.instructions();
            accesses += core.accesses();
            work += cycles(core, State.WORK);
            stalled += cycles(core, State.WAIT) + cycles(core, State.SLOT);
        }
        if (instructions > 0) {
            double predicted = Laws.cyclesPerInstruction(
                    (double) work / instructions, (double) accesses / instructions, stall + design.slotCycles());
            add(
                    Theory.MEMORY_STALLS,
                    Quantity.CYCLES_PER_INSTRUCTION,
                    predicted,
                    (double) (work + stalled) / instructions,
                    false,
                    design.admission() instanceof Admission.Rotation ? assumptions.evenPhases() : List.of());
        }
    }

    private static long cycles(CoreReport core, State state) {
        return core.states().getOrDefault(state, 0L);
    }

    private void roof() {
        Point point = point(report);
        add(
                Theory.ROOFLINE,
                Quantity.INSTRUCTIONS_PER_CYCLE,
                roofline(report).attainable(point.intensity()),
                point.performance(),
                true,
                List.of());
    }

    /**
     * Where a program stands under its roofline.
     *
     * @param intensity instructions for each data access; infinite without an access
     * @param performance instructions a cycle, of all cores together
     */
    public record Point(double intensity, double performance) {}

    /** Where this run stands. */
    public static Point point(RunReport report) {
        long instructions =
                report.cores().stream().mapToLong(CoreReport::instructions).sum();
        long accesses = report.cores().stream().mapToLong(CoreReport::accesses).sum();
        return new Point(
                accesses == 0 ? Double.POSITIVE_INFINITY : (double) instructions / accesses,
                report.cycles() == 0 ? 0 : (double) instructions / report.cycles());
    }

    /**
     * The roofline for the cores that ran: the peak is an instruction for each in {@code cost.plain} cycles, the
     * bandwidth an access for each slot that they can have.
     */
    public static Roofline roofline(RunReport report) {
        List<Integer> ran = report.cores().stream()
                .filter(core -> core.instructions() > 0)
                .map(CoreReport::core)
                .toList();
        return roofline(report.design(), ran);
    }

    /** The roofline of a design with these cores at work. */
    public static Roofline roofline(Design design, List<Integer> cores) {
        double bandwidth;
        if (design.admission() instanceof Admission.Rotation rotation) {
            long slots = rotation.order().stream().filter(cores::contains).count();
            bandwidth = (double) slots / design.rotationCycles();
        } else if (design.admission() instanceof Admission.OwnPort) {
            bandwidth = (double) cores.size() / design.slotCycles();
        } else {
            bandwidth = 1.0 / design.slotCycles();
        }
        return new Roofline((double) cores.size() / design.cost().plain(), bandwidth);
    }
}
