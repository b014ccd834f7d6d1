package octurn.timing;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.List;
import java.util.Random;
import octurn.design.Admission;
import octurn.machine.State;
import octurn.report.RunReport;
import octurn.run.Run;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Thirty-two cores with one access each, at random times that do not depend on how they are served. */
class ConservationTest {

    private static final int CORES = 32;
    private static final int SLOT = 3;

    private static final List<Admission> BUSY_POLICIES = List.of(
            new Admission.NextWaiting(), new Admission.FirstCome(), Lab.priority(CORES), Lab.evenLottery(CORES));

    /**
     * The conservation law (Kleinrock 1965): with equal services the total wait is the same under every policy that
     * never idles while a request is up. Rotation, which does idle, is never below it.
     */
    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10})
    void totalWait_underEveryBusyPolicy_isThatOfOneQueue(long seed) {
        int[] arrivals = arrivals(seed);
        long expected = 0;
        long free = 0;
        for (int arrival : arrivals) {
            long begin = Math.max(free, arrival);
            expected += begin - arrival;
            free = begin + SLOT;
        }

        for (Admission policy : BUSY_POLICIES) {
            assertThat(totalWait(arrivals, policy))
                    .as("%s, seed %d", policy, seed)
                    .isEqualTo(expected);
        }
        assertThat(totalWait(arrivals, Lab.rotation(CORES))).isGreaterThanOrEqualTo(expected);
    }

    /**
     * Little's law (1961) on a run that ends empty: the sum of all times from request to end of access is the sum over
     * the cycles of how many cores request or hold the memory.
     */
    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3})
    void waitsAndSlots_added_areTheCoresPresentInEachCycle(long seed) {
        int[] arrivals = arrivals(seed);
        for (Admission policy : BUSY_POLICIES) {
            Run run = Lab.run(text(arrivals), Lab.design(CORES, SLOT, policy), 100_000);
            long present = 0;
            for (long cycle = 0; !run.isOver(); run.runTo(++cycle)) {
                for (int core = 0; core < CORES; core++) {
                    State state = run.chip().core(core).state();
                    present += state.isWaiting() || state.isAdmitted() ? 1 : 0;
                }
            }
            assertThat(present).isEqualTo(totalWait(arrivals, policy) + (long) CORES * SLOT);
        }
    }

    private static long totalWait(int[] arrivals, Admission policy) {
        RunReport report = Lab.report(text(arrivals), Lab.design(CORES, SLOT, policy), 100_000);
        assertThat(report.cores())
                .allSatisfy(core -> assertThat(core.accesses()).isEqualTo(1));
        return report.cores().stream().mapToLong(core -> core.waits().total()).sum();
    }

    /** A core that pauses for a - 1 cycles and works for 1 requests at cycle a. */
    private static String text(int[] arrivals) {
        StringBuilder text = new StringBuilder();
        for (int core = 0; core < CORES; core++) {
            text.append("core %d\n pause %d\n fetch r1, [0]\n halt\n".formatted(core, arrivals[core] - 1));
        }
        return text.toString();
    }

    /** Ascending; together a good load on the memory. */
    private static int[] arrivals(long seed) {
        Random random = new Random(seed);
        int[] arrivals = random.ints(CORES, 2, 2 + 110).toArray();
        Arrays.sort(arrivals);
        return arrivals;
    }
}
