package octurn.timing;

import static org.assertj.core.api.Assertions.assertThat;

import octurn.design.Admission;
import octurn.run.Run;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Cores that think for Z cycles and then need the memory for one. Bounds of a closed system with constant times, after
 * Denning and Buzen, "The Operational Analysis of Queueing Network Models", 1978 (from memory; the values are derived).
 */
class ConstantThinkTest {

    private static final int CORES = 8;
    /** A whole number of periods in every case below. */
    private static final int WINDOW = 5760;

    /** With a active cores, next-waiting keeps the memory busy for min(1, a / (Z + 1)) of the time. */
    @ParameterizedTest
    @CsvSource({"3, 2, 0.5", "7, 8, 1", "8, 8, 0.888888889", "15, 8, 0.5"})
    void nextWaiting_withConstantThink_isBusyAsBounded(int think, int active, double busy) {
        assertThat(busyCycles(think, active, new Admission.NextWaiting())).isEqualTo(Math.round(busy * WINDOW));
    }

    /** Under rotation a core comes round every 8 ceil((Z + 1) / 8) cycles. */
    @ParameterizedTest
    @CsvSource({"3, 2, 0.25", "7, 8, 1", "8, 8, 0.5", "15, 8, 0.5"})
    void rotation_withConstantThink_isBusyOnceAWholeRotation(int think, int active, double busy) {
        assertThat(busyCycles(think, active, Lab.rotation(CORES))).isEqualTo(Math.round(busy * WINDOW));
    }

    /** Busy cycles in a window, after a window to come to rest. */
    private static long busyCycles(int think, int active, Admission admission) {
        // The work before the access takes 1 cycle and the jump 2; the rest is a pause.
        String pause = think == 3 ? "" : " pause " + (think - 3) + "\n";
        String text = "core 0..%d\nnext: bump r1, [0]\n%s jump next\n".formatted(active - 1, pause);
        Run run = Lab.run(text, Lab.design(CORES, 1, admission), 3 * WINDOW);
        run.runTo(WINDOW);
        long before = run.chip().busyCycles();
        run.runTo(2 * WINDOW);
        return run.chip().busyCycles() - before;
    }
}
