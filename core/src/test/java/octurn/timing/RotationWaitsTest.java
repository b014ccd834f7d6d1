package octurn.timing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.LongStream;
import octurn.report.RunReport.Waits;
import octurn.run.Run;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class RotationWaitsTest {

    /** One access each 4 R + 1 cycles, R times: a request at every phase of the rotation. */
    private static final String EVERY_PHASE = """
            core 0
                    read  r1, time
                    set   r3, rotation
            next:   add   r1, r1, 4 * rotation + 1
                    until r1
                    fetch r4, [0]
                    again r3, next
                    halt
            """;

    /**
     * Requests at uniformly spread phases: each wait 0 .. R-1 comes once, so the mean is (R-1)/2, the variance
     * (R*R-1)/12 and the greatest R-1 (derived: the discrete uniform distribution). The greatest is also the worst case
     * (N-1) s + l - 1 of an access that cannot be cut and fills its slot, l = s (derived; for the setting see Kelter et
     * al., "Bus-Aware Multicore WCET Analysis through TDMA Offset Bounds", ECRTS 2011).
     */
    @ParameterizedTest
    @CsvSource({
        "8, 1, 3.5, 5.25, 7",
        "8, 3, 11.5, 47.916667, 23",
        "8, 4, 15.5, 85.25, 31",
        "4, 3, 5.5, 11.916667, 11",
        "1, 5, 2, 2, 4",
        "32, 2, 31.5, 341.25, 63",
    })
    void requests_atEveryPhase_waitFrom0ToRotationLess1(
            int cores, int slotCycles, double mean, double variance, long greatest) {
        Waits waits = Lab.report(EVERY_PHASE, Lab.design(cores, slotCycles, Lab.rotation(cores)), 1_000_000)
                .cores()
                .get(0)
                .waits();

        long rotation = (long) cores * slotCycles;
        Map<Long, Long> onceEach =
                LongStream.range(0, rotation).boxed().collect(Collectors.toMap(wait -> wait, wait -> 1L));
        assertThat(waits.histogram()).isEqualTo(onceEach);
        assertThat(waits.max()).isEqualTo(greatest);
        assertThat(Lab.mean(waits.histogram())).isEqualTo(mean);
        assertThat(Lab.variance(waits.histogram())).isCloseTo(variance, within(1e-6));
    }

    /**
     * The response time of a job of c cycles under time-division slots, when it arrives right at the end of its own
     * slot: ceil(c / slot) * (cycle - slot) + c, as proved in the PROSA library of real-time analyses. Here the slot is
     * one cycle, and the job c accesses of one cycle, one after the other; the cycle of work between two of them hides
     * in the wait.
     */
    @ParameterizedTest
    @CsvSource({"8, 1, 8", "8, 2, 16", "8, 4, 32", "3, 5, 15"})
    void accesses_inARow_takeTheWorstResponseTimeOfTimeDivision(int cores, int accesses, int response) {
        String text = "core 0\n" + " fetch r1, [0]\n".repeat(accesses) + " read r2, time\n halt\n";
        Run run = Lab.run(text, Lab.design(cores, 1, Lab.rotation(cores)), 10_000);
        run.finish();

        // The first request is up from cycle 1: the slot of core 0 was cycle 0.
        assertThat(run.chip().core(0).register(2) - 1).isEqualTo(response);
        assertThat(response).isEqualTo(accesses * (cores - 1) + accesses);
    }
}
