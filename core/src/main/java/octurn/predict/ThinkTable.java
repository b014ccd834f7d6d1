package octurn.predict;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import octurn.arbiter.Rotation;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.predict.ThinkAndAccess.LongRun;

/**
 * What theory says of a design without any program: so many cores think for a given time, access, and so on without end;
 * in rotation and on demand.
 *
 * @param design its slots and, if it is a rotation, its order; under another policy the rotation is the plain one
 * @param think mean cycles from the end of a slot to the next request, at least 1
 * @param rows for 1, 2 .. all cores at work, those with the lowest numbers
 */
public record ThinkTable(Design design, double think, List<Row> rows) {

    public ThinkTable {
        rows = List.copyOf(rows);
    }

    /**
     * So many cores at work.
     *
     * @param cores how many
     * @param fixedInTurn in rotation, the think always the same (rounded to whole cycles); empty if one of the cores has
     *     no slot
     * @param geometricInTurn in rotation, the think geometric; empty unless each of the cores has one slot
     * @param fixedOnDemand on demand, the think always the same: the asymptotic bounds, reached
     * @param geometricOnDemand on demand, the think geometric
     * @param queue on demand by mean value analysis, think and access exponential
     */
    public record Row(
            int cores,
            Optional<LongRun> fixedInTurn,
            Optional<LongRun> geometricInTurn,
            LongRun fixedOnDemand,
            LongRun geometricOnDemand,
            LongRun queue) {}

    /**
     * The table of a design and a think time.
     *
     * @throws IllegalArgumentException if the think is shorter than 1 cycle
     */
    public static ThinkTable of(Design design, double think) {
        if (!(think >= 1)) {
            throw new IllegalArgumentException("think: %s, not at least 1".formatted(think));
        }
        List<Integer> order = design.admission() instanceof Admission.Rotation rotation
                ? rotation.order()
                : Design.plainOrder(design.cores());
        Rotation rotation = new Rotation(design.slotCycles(), order, design.cores());
        return new ThinkTable(
                design,
                think,
                IntStream.rangeClosed(1, design.cores())
                        .mapToObj(cores -> row(design, think, order, rotation, cores))
                        .toList());
    }

    private static Row row(Design design, double think, List<Integer> order, Rotation rotation, int cores) {
        int slot = design.slotCycles();
        MeanValueAnalysis.Solution queue = MeanValueAnalysis.oneStation(slot, think, cores);
        return new Row(
                cores,
                fixedInTurn(design, think, order, rotation, cores),
                geometricInTurn(design, think, order, cores),
                ThinkAndAccess.fixedOnDemand(cores, slot, think),
                ThinkAndAccess.geometricOnDemand(cores, slot, 1 / think, false),
                new LongRun(queue.responseTime() - slot, queue.throughput(), queue.throughput() * slot));
    }

    private static Optional<LongRun> fixedInTurn(
            Design design, double think, List<Integer> order, Rotation rotation, int cores) {
        List<LongRun> alone = new ArrayList<>();
        for (int core = 0; core < cores; core++) {
            if (!order.contains(core)) {
                return Optional.empty();
            }
            alone.add(ThinkAndAccess.fixedInTurn(
                    rotation, core, design.slotCycles(), order.size() * design.slotCycles(), Math.round(think)));
        }
        double throughput = alone.stream().mapToDouble(LongRun::throughput).sum();
        double waits = alone.stream()
                .mapToDouble(run -> run.waitCycles() * run.throughput())
                .sum();
        return Optional.of(new LongRun(waits / throughput, throughput, throughput * design.slotCycles()));
    }

    private static Optional<LongRun> geometricInTurn(Design design, double think, List<Integer> order, int cores) {
        for (int core = 0; core < cores; core++) {
            int number = core;
            if (order.stream().filter(owner -> owner == number).count() != 1) {
                return Optional.empty();
            }
        }
        return Optional.of(ThinkAndAccess.geometricInTurn(cores, order.size(), design.slotCycles(), 1 / think, false));
    }
}
