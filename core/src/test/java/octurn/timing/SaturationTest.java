package octurn.timing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.stream.Stream;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.machine.State;
import octurn.report.RunReport;
import octurn.report.RunReport.CoreReport;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class SaturationTest {

    private static final int CORES = 8;
    private static final int SLOT = 3;

    /** All cores always want the memory: 1 cycle of work and 2 of jump between two accesses. */
    private static final String GREEDY = """
            core all
            next:   bump  r1, [0]
                    jump  next
            """;

    static Stream<Admission> fair() {
        return Stream.of(Lab.rotation(CORES), new Admission.NextWaiting(), new Admission.FirstCome());
    }

    /** Derived: with all of N cores always requesting, each gets exactly 1/N. */
    @ParameterizedTest
    @MethodSource("fair")
    void greedyCores_underAFairPolicy_getEqualShares(Admission admission) {
        RunReport report = Lab.report(GREEDY, Lab.design(CORES, SLOT, admission), 24_000);

        List<Long> accesses = report.cores().stream().map(CoreReport::accesses).toList();
        assertThat(accesses).allSatisfy(count -> assertThat(count).isBetween(998L, 1000L));
        assertThat(jain(accesses)).isCloseTo(1, within(1e-5));
        assertThat(report.busyCycles()).isGreaterThan(23_970);
    }

    /** Derived: with one request outstanding a core, at most N - 1 services come before one's own. */
    @ParameterizedTest
    @MethodSource("fair")
    void greedyCores_underAFairPolicy_waitForTheOthersAtMost(Admission admission) {
        RunReport report = Lab.report(GREEDY, Lab.design(CORES, SLOT, admission), 24_000);

        assertThat(report.cores())
                .allSatisfy(core -> assertThat(core.waits().max()).isLessThan(CORES * SLOT));
        if (!(admission instanceof Admission.Rotation)) {
            assertThat(report.cores())
                    .allSatisfy(core -> assertThat(core.waits().max()).isLessThanOrEqualTo((CORES - 1) * SLOT));
        }
    }

    /** Under priority the wait of the lowest has no bound. */
    @Test
    void greedyCores_underPriority_starveTheLowest() {
        RunReport report = Lab.report(GREEDY, Lab.design(CORES, SLOT, Lab.priority(CORES)), 24_000);

        CoreReport last = report.cores().get(CORES - 1);
        assertThat(last.accesses()).isZero();
        assertThat(last.states()).containsEntry(State.WAIT, 24_000L - 1);
        assertThat(report.cores().get(0).accesses()).isEqualTo(4000);
    }

    /** Jain, Chiu and Hawe, DEC-TR-301, 1984: (sum x)^2 / (n sum x^2). */
    @Test
    void jainsIndex_ofItsExamples_isAsComputed() {
        assertThat(jain(List.of(1L, 1L, 1L, 1L, 1L, 1L, 1L, 1L))).isEqualTo(1);
        assertThat(jain(List.of(1L, 0L, 0L, 0L, 0L, 0L, 0L, 0L))).isEqualTo(0.125);
        assertThat(jain(List.of(1L, 3L, 5L))).isCloseTo(0.771429, within(1e-6));
        assertThat(jain(List.of(4L, 1L, 1L, 1L, 1L))).isCloseTo(0.64, within(1e-9));
    }

    private static double jain(List<Long> shares) {
        double sum = shares.stream().mapToLong(Long::longValue).sum();
        double squares = shares.stream().mapToDouble(x -> (double) x * x).sum();
        return sum * sum / (shares.size() * squares);
    }

    /**
     * The identity behind "CPU time with memory stalls" (Patterson and Hennessy, Computer Organization and Design,
     * chapter on memory), for a core without sleep: cycles = work + waits + accesses x slot.
     */
    @ParameterizedTest
    @MethodSource("fair")
    void cycles_ofACoreThatHalts_areWorkWaitsAndSlots(Admission admission) {
        String text = """
                core all
                        set   r2, 50
                next:   bump  r1, [0]
                        mul   r3, r1, r1
                        again r2, next
                        halt
                """;
        Design design = Lab.design(CORES, SLOT, admission);
        RunReport report = Lab.report(text, design, 24_000);

        // set, then 50 times the work of bump, mul and again, the last again a cycle shorter, and halt
        long work = 1 + 50 * (1 + 4 + 2) - 1 + 1;
        assertThat(report.cores()).allSatisfy(core -> {
            long idle = core.states().getOrDefault(State.IDLE, 0L);
            assertThat(report.cycles() - idle).isEqualTo(work + core.waits().total() + core.accesses() * SLOT);
        });
    }
}
