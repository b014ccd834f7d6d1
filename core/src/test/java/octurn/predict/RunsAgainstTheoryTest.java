package octurn.predict;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import octurn.asm.Program;
import octurn.design.Admission;
import octurn.design.Clock;
import octurn.design.Cost;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.machine.State;
import octurn.measure.Measured;
import octurn.predict.ThinkAndAccess.LongRun;
import octurn.report.RunReport;
import octurn.report.RunReports;
import octurn.run.Run;
import octurn.workload.Think;
import octurn.workload.Workload;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Programs whose cores make their random numbers themselves, run on the chip and held against theory. How far a mean may
 * be off follows from the run: its stretches are taken as samples, and four standard errors of their mean are allowed
 * (with 20 samples, Student's t of 19 degrees passes that in fewer than one of 1000 cases; from memory).
 */
class RunsAgainstTheoryTest {

    private static final int CORES = 8;
    private static final int BATCHES = 20;
    private static final double ERRORS = 4;

    /** What one step of the geometric think takes; slots as long as it make the chain exact. */
    private static final int STEP = 11;

    private static final int THINK = 8 * STEP;

    private static Design design(int slotCycles, Admission admission) {
        return new Design("theory", CORES, 1024, 16384, slotCycles, admission, Cost.DEFAULT, 16, Clock.DEFAULT);
    }

    /** A mean with its standard error. */
    private record Estimate(double mean, double error) {
        static Estimate of(List<Double> samples) {
            double mean = samples.stream().mapToDouble(x -> x).average().orElseThrow();
            double squares =
                    samples.stream().mapToDouble(x -> (x - mean) * (x - mean)).sum();
            return new Estimate(mean, Math.sqrt(squares / (samples.size() - 1.0) / samples.size()));
        }

        void assertIs(double theory, String what) {
            assertThat(mean).as("%s, error %.4f", what, error).isCloseTo(theory, within(ERRORS * error));
        }
    }

    /** The memory's use and the mean wait in each of the stretches of a run, after one stretch to settle. */
    private static List<Estimate> useAndWait(Program program, long stretch) {
        Run run = Run.of(program, Scenario.QUIET, (BATCHES + 1) * stretch);
        List<Double> uses = new ArrayList<>();
        List<Double> waits = new ArrayList<>();
        run.runTo(stretch);
        RunReport before = RunReports.of(run);
        for (int batch = 1; batch <= BATCHES; batch++) {
            run.runTo((batch + 1) * stretch);
            RunReport after = RunReports.of(run);
            uses.add((after.busyCycles() - before.busyCycles()) / (double) stretch);
            waits.add((waited(after) - waited(before)) / (double) (accesses(after) - accesses(before)));
            before = after;
        }
        return List.of(Estimate.of(uses), Estimate.of(waits));
    }

    private static long waited(RunReport report) {
        return report.cores().stream().mapToLong(core -> core.waits().total()).sum();
    }

    private static long accesses(RunReport report) {
        return report.cores().stream().mapToLong(core -> core.accesses()).sum();
    }

    private static Program workload(Design design, Think think) {
        return Measured.assemble(new Workload(design, CORES, think, 0, Workload.MOST_ACCESSES, 3).text(), design);
    }

    /** Use and mean wait are those of the chain under every policy that never idles while a request is up. */
    @ParameterizedTest
    @ValueSource(strings = {"next-waiting", "priority", "first-come", "lottery"})
    void geometricThink_onDemand_behavesAsTheChain(String policy) {
        Design design = design(STEP, Admission.plain(policy, CORES));

        List<Estimate> measured = useAndWait(workload(design, new Think.Geometric(THINK)), 150_000);

        // In steps: a slot is one, and a think is at least one.
        LongRun theory = ThinkAndAccess.geometricOnDemand(CORES, 1, 1 / 8.0, false);
        measured.get(0).assertIs(theory.utilization(), "use under " + policy);
        measured.get(1).assertIs(theory.waitCycles() * STEP, "wait under " + policy);
    }

    @Test
    void geometricThink_inRotation_behavesAsTheFormula() {
        Design design = design(STEP, Admission.plain("rotation", CORES));

        List<Estimate> measured = useAndWait(workload(design, new Think.Geometric(THINK)), 150_000);

        LongRun theory = ThinkAndAccess.geometricInTurn(CORES, CORES, 1, 1 / 8.0, false);
        measured.get(0).assertIs(theory.utilization(), "use");
        measured.get(1).assertIs(theory.waitCycles() * STEP, "wait");
    }

    /** Slots of two steps: the chain with S = 2. */
    @Test
    void geometricThink_withSlotsOfTwoSteps_behavesAsTheChain() {
        Design design = design(2 * STEP, new Admission.FirstCome());

        List<Estimate> measured = useAndWait(workload(design, new Think.Geometric(2 * THINK)), 300_000);

        LongRun theory = ThinkAndAccess.geometricOnDemand(CORES, 2, 1 / 16.0, false);
        measured.get(0).assertIs(theory.utilization(), "use");
        measured.get(1).assertIs(theory.waitCycles() * STEP, "wait");
    }

    /**
     * A think that takes each of R lengths equally often makes a request at every phase equally often: the mean wait is
     * (R-1)/2 = 11.5 (derived; background: Kelter et al., ECRTS 2011).
     */
    @Test
    void uniformThink_overAWholeRotation_waitsHalfARotation() {
        Design design = design(3, Admission.plain("rotation", CORES));

        List<Estimate> measured = useAndWait(workload(design, new Think.Uniform(30, 53)), 100_000);

        measured.get(1).assertIs(11.5, "wait");
    }

    /** Constant think on demand reaches the asymptotic bounds (Denning and Buzen 1978): exact over whole periods. */
    @ParameterizedTest
    @ValueSource(ints = {4, 13, 21, 60})
    void fixedThink_onDemand_reachesTheBounds(int think) {
        Design design = design(3, new Admission.NextWaiting());
        LongRun theory = ThinkAndAccess.fixedOnDemand(CORES, 3, think);
        long period = Math.round(CORES / theory.throughput());
        Run run = Run.of(workload(design, new Think.Fixed(think)), Scenario.QUIET, 1_000_000);
        run.runTo(100 * period);
        RunReport before = RunReports.of(run);
        run.runTo(200 * period);
        RunReport after = RunReports.of(run);

        assertThat((after.busyCycles() - before.busyCycles()) / (100.0 * period))
                .isEqualTo(theory.utilization());
        assertThat((waited(after) - waited(before)) / (double) (accesses(after) - accesses(before)))
                .isCloseTo(theory.waitCycles(), within(1e-9));
    }

    /**
     * Lottery with the winner away for one draw: after its slot a core works three cycles, as long as the next slot, so
     * it misses that draw and no other. The share is the derived one, not the textbook's t/T. The error is that of
     * independent draws, which is more than that of winners that keep apart.
     */
    @Test
    void lottery_onTheChip_givesTheShareOfAWinnerThatSitsOut() {
        List<Integer> tickets = List.of(7, 1, 1, 1, 1, 1, 1, 1);
        Design design = design(3, new Admission.Lottery(tickets, Admission.Lottery.DEFAULT_SEED));
        Run run = Run.of(
                Measured.assemble("core all\nnext: fetch r1, [0]\n jump next\n", design), Scenario.QUIET, 300_000);
        run.finish();
        RunReport report = RunReports.of(run);

        long draws = accesses(report);
        double share = (double) report.cores().get(0).accesses() / draws;
        double theory = Laws.lotteryShareSittingOut(0, tickets);
        assertThat(share).isCloseTo(theory, within(ERRORS * Laws.lotteryDeviation(theory, draws) / draws));
        assertThat(Math.abs(share - Laws.lotteryShare(7, 14))).isGreaterThan(0.1);
    }

    /** Little 1961: on a trace that runs empty the waits and slots add up to the requests up or served, cycle by cycle. */
    @Test
    void waitsAndSlots_ofARunThatEnds_addUpToTheRequestsOfEveryCycle() {
        Design design = design(5, new Admission.FirstCome());
        Measured measured =
                Measured.of(new Workload(design, CORES, new Think.Geometric(90), 30, 200, 5).text(), design);
        long sum = waited(measured.report()) + 5 * accesses(measured.report());

        long byCycle = 0;
        Run run = Run.of(measured.program(), Scenario.QUIET, 10_000_000);
        for (long cycle = 0; !run.isOver(); run.runTo(++cycle)) {
            for (int core = 0; core < CORES; core++) {
                State state = run.chip().core(core).state();
                byCycle += state.isWaiting() || state.isAdmitted() ? 1 : 0;
            }
        }

        assertThat(byCycle).isEqualTo(sum);
    }
}
