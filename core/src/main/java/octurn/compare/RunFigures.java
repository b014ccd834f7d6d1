package octurn.compare;

import java.util.List;
import octurn.machine.End;
import octurn.machine.State;
import octurn.predict.Laws;
import octurn.report.RunReport;
import octurn.report.RunReport.CoreReport;

/**
 * A run in a few figures, those by which runs are compared.
 *
 * @param ended why it ended
 * @param faults cores in fault at the end
 * @param cycles it took
 * @param seconds the same at the design's clock
 * @param instructions that finished
 * @param accesses data accesses admitted
 * @param waitTotal the waits of those accesses, summed up, in cycles
 * @param waitMax the longest of them
 * @param busyCycles in which the memory was held
 * @param turnsOffered slots that began; -1 under other policies than rotation
 * @param turnsUsed those of them in which their core was admitted; -1 likewise
 * @param accessFairness Jain's index of the accesses of those cores that asked for any
 * @param waitFairness Jain's index of the mean waits of those cores; of a core that was never admitted, of all its wait
 * @param clashCycles in which a pin had a clash
 */
public record RunFigures(
        End ended,
        int faults,
        long cycles,
        double seconds,
        long instructions,
        long accesses,
        long waitTotal,
        long waitMax,
        long busyCycles,
        long turnsOffered,
        long turnsUsed,
        double accessFairness,
        double waitFairness,
        long clashCycles) {

    /** The figures of this run. */
    public static RunFigures of(RunReport report) {
        List<CoreReport> asked = report.cores().stream()
                .filter(core -> core.accesses() > 0 || cycles(core, State.WAIT) > 0)
                .toList();
        boolean inTurn = report.cores().get(0).turnsOffered() >= 0;
        long offered =
                report.cores().stream().mapToLong(CoreReport::turnsOffered).sum();
        long used = report.cores().stream().mapToLong(CoreReport::turnsUsed).sum();
        return new RunFigures(
                report.ended(),
                (int) report.cores().stream()
                        .filter(core -> core.fault() != null)
                        .count(),
                report.cycles(),
                (double) report.cycles() / report.design().clock().chipHertz(),
                report.cores().stream().mapToLong(CoreReport::instructions).sum(),
                report.cores().stream().mapToLong(CoreReport::accesses).sum(),
                report.cores().stream().mapToLong(core -> core.waits().total()).sum(),
                report.cores().stream()
                        .mapToLong(core -> Math.max(0, core.waits().max()))
                        .max()
                        .orElse(0),
                report.busyCycles(),
                inTurn ? offered : -1,
                inTurn ? used : -1,
                Laws.jain(asked.size(), i -> asked.get(i).accesses()),
                Laws.jain(asked.size(), i -> meanWait(asked.get(i))),
                report.clashCycles());
    }

    private static double meanWait(CoreReport core) {
        return core.accesses() == 0
                ? cycles(core, State.WAIT)
                : (double) core.waits().total() / core.accesses();
    }

    static long cycles(CoreReport core, State state) {
        return core.states().getOrDefault(state, 0L);
    }

    /** The mean wait of an access in cycles; 0 without one. */
    public double waitMean() {
        return accesses == 0 ? 0 : (double) waitTotal / accesses;
    }

    /** The part of all cycles in which the memory was held. */
    public double busyShare() {
        return cycles == 0 ? 0 : (double) busyCycles / cycles;
    }

    /** The part of the turns that passed unused; NaN under other policies than rotation. */
    public double unusedShare() {
        return turnsOffered < 0 ? Double.NaN : turnsOffered == 0 ? 0 : 1 - (double) turnsUsed / turnsOffered;
    }

    /** Whether every core came to its end without a fault. */
    public boolean finished() {
        return ended == End.ALL_IDLE && faults == 0;
    }
}
