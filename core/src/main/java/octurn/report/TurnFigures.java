package octurn.report;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.OptionalLong;
import octurn.design.Admission;
import octurn.design.Design;

/**
 * What a design promises before any program runs: how long an access waits, and how many accesses a second there can
 * be. Only what follows from the design for every program is given; the rest is absent.
 *
 * <p>With N cores, slots of S cycles and R = the rotation:
 *
 * <ul>
 *   <li>{@code rotation}: a core waits at most its widest gap between two slots of its own less one, so R-1 in plain
 *       order; with its requests spread evenly over the rotation it waits (R-1)/2 on average in plain order, and in
 *       general the sum of g(g-1)/2 over its gaps g, divided by R.
 *   <li>{@code next-waiting}: at most each other core once, (N-1)S.
 *   <li>{@code first-come}: the same; core 0, which goes first among equals, one cycle less.
 *   <li>{@code priority}: the first core in the order waits at most for an access that began just before its request,
 *       S-1; the others have no bound as long as those before them ask.
 *   <li>{@code lottery}: no bound. {@code own-port}: never.
 * </ul>
 *
 * @param cores one for each core, ascending
 * @param togetherPerCycle accesses of all cores together in a cycle, in the long run, when no core does anything else
 * @param capacityPerCycle accesses that the memory can serve in a cycle if it is never free: one a slot, under
 *     {@code own-port} one a slot for each core
 */
public record TurnFigures(List<CoreTurns> cores, double togetherPerCycle, double capacityPerCycle) {

    public TurnFigures {
        cores = List.copyOf(cores);
    }

    /**
     * What one core can count on.
     *
     * @param core its number
     * @param slots slots of its own in a rotation; 0 under other policies than {@code rotation}, or if it has none
     * @param worstWait the longest wait that any access can meet, in cycles, if there is a bound
     * @param meanWait the mean wait of requests spread evenly over the rotation, in cycles; under {@code rotation} alone
     * @param alone accesses one after the other with nothing between them, while no other core asks
     */
    public record CoreTurns(int core, int slots, OptionalLong worstWait, OptionalDouble meanWait, Rate alone) {}

    /**
     * So many accesses in so many cycles, in the long run.
     *
     * @param accesses from 0
     * @param cycles from 1
     */
    public record Rate(long accesses, long cycles) {

        /** Accesses a second under a clock of this many Hz. */
        public double perSecond(long hertz) {
            return (double) accesses * hertz / cycles;
        }

        /** Accesses a cycle. */
        public double perCycle() {
            return (double) accesses / cycles;
        }
    }

    /** The figures of this design. */
    public static TurnFigures of(Design design) {
        return design.admission() instanceof Admission.Rotation rotation
                ? inTurn(design, rotation.order())
                : onDemand(design);
    }

    private static TurnFigures inTurn(Design design, List<Integer> order) {
        List<CoreTurns> cores = new ArrayList<>();
        for (int core = 0; core < design.cores(); core++) {
            cores.add(inTurn(design, order, core));
        }
        double together =
                cores.stream().mapToDouble(core -> core.alone().perCycle()).sum();
        return new TurnFigures(cores, together, 1.0 / design.slotCycles());
    }

    private static CoreTurns inTurn(Design design, List<Integer> order, int core) {
        List<Integer> own = new ArrayList<>();
        for (int slot = 0; slot < order.size(); slot++) {
            if (order.get(slot) == core) {
                own.add(slot);
            }
        }
        if (own.isEmpty()) {
            return new CoreTurns(core, 0, OptionalLong.empty(), OptionalDouble.empty(), new Rate(0, 1));
        }
        long rotation = design.rotationCycles();
        long widest = 0;
        long waits = 0;
        for (int i = 0; i < own.size(); i++) {
            int next = i + 1 < own.size() ? own.get(i + 1) : own.get(0) + order.size();
            long gap = (long) (next - own.get(i)) * design.slotCycles();
            widest = Math.max(widest, gap);
            waits += gap * (gap - 1) / 2;
        }
        return new CoreTurns(
                core,
                own.size(),
                OptionalLong.of(widest - 1),
                OptionalDouble.of((double) waits / rotation),
                backToBack(design, order, own));
    }

    /**
     * The rate of one access after the other: from each slot the core goes on to the first one of its own for which its
     * next request is up in time. Before long the slots come round again, and then the rate is that of the round.
     */
    private static Rate backToBack(Design design, List<Integer> order, List<Integer> own) {
        int length = order.size();
        int core = order.get(own.get(0));
        long busy = (long) design.slotCycles() + design.cost().plain();
        int slotsBusy = (int) ((busy + design.slotCycles() - 1) / design.slotCycles());
        long[] seenAt = new long[length];
        long[] slotAt = new long[length];
        long slot = own.get(0);
        for (long accesses = 1; ; accesses++) {
            int place = (int) (slot % length);
            if (seenAt[place] != 0) {
                return new Rate(accesses - seenAt[place], (slot - slotAt[place]) * design.slotCycles());
            }
            seenAt[place] = accesses;
            slotAt[place] = slot;
            slot += slotsBusy;
            while (order.get((int) (slot % length)) != core) {
                slot++;
            }
        }
    }

    private static TurnFigures onDemand(Design design) {
        int n = design.cores();
        long slot = design.slotCycles();
        long period = slot + design.cost().plain();
        List<CoreTurns> cores = new ArrayList<>();
        for (int core = 0; core < n; core++) {
            cores.add(new CoreTurns(core, 0, worstOnDemand(design, core), OptionalDouble.empty(), new Rate(1, period)));
        }
        double unhindered = (double) n / period;
        if (design.admission() instanceof Admission.OwnPort) {
            return new TurnFigures(cores, unhindered, (double) n / slot);
        }
        // Equal accesses, equal work between them: either the memory is never free, or in the end nobody waits.
        double capacity = 1.0 / slot;
        return new TurnFigures(cores, Math.min(unhindered, capacity), capacity);
    }

    private static OptionalLong worstOnDemand(Design design, int core) {
        long others = design.cores() - 1L;
        long slot = design.slotCycles();
        if (others == 0 || design.admission() instanceof Admission.OwnPort) {
            return OptionalLong.of(0);
        }
        if (design.admission() instanceof Admission.NextWaiting) {
            return OptionalLong.of(others * slot);
        }
        if (design.admission() instanceof Admission.FirstCome) {
            return OptionalLong.of(core == 0 ? others * slot - 1 : others * slot);
        }
        if (design.admission() instanceof Admission.Priority priority
                && priority.order().get(0) == core) {
            return OptionalLong.of(slot - 1);
        }
        return OptionalLong.empty();
    }
}
