package octurn.report;

import static octurn.report.Runs.design;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.report.RunReport.CoreReport;
import octurn.report.TurnFigures.CoreTurns;
import octurn.report.TurnFigures.Rate;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

class TurnFiguresTest {

    private static Admission.Rotation inOrder(Integer... order) {
        return new Admission.Rotation(List.of(order));
    }

    private static Admission.Rotation plain(int cores) {
        return new Admission.Rotation(Design.plainOrder(cores));
    }

    @Test
    void rotation_defaultDesign_isAsTheDocumentsSay() {
        TurnFigures figures = TurnFigures.of(Design.DEFAULT);
        assertThat(figures.cores()).hasSize(8);
        for (CoreTurns core : figures.cores()) {
            assertThat(core.slots()).isEqualTo(1);
            assertThat(core.worstWait()).hasValue(23);
            assertThat(core.meanWait()).hasValue(11.5);
            assertThat(core.alone()).isEqualTo(new Rate(1, 24));
            assertThat(core.alone().perSecond(48_000_000)).isEqualTo(2_000_000);
        }
        assertThat(figures.togetherPerCycle()).isCloseTo(1.0 / 3, within(1e-12));
        assertThat(figures.capacityPerCycle()).isEqualTo(1.0 / 3);
    }

    /**
     * With N cores and slots of s cycles, an access that fills its slot waits at most (N-1)s + s - 1, and on average over
     * all phases (Ns-1)/2 (background: Kelter, Falk, Marwedel, Chattopadhyay, Roychoudhury, "Bus-Aware Multicore WCET
     * Analysis through TDMA Offset Bounds", ECRTS 2011; the values are derived).
     */
    @ParameterizedTest
    @CsvSource({"8,1,7,3.5", "8,4,31,15.5", "8,3,23,11.5", "1,5,4,2.0", "32,64,2047,1023.5"})
    void rotation_plainOrder_waitsAsDerived(int cores, int slot, long worst, double mean) {
        CoreTurns core =
                TurnFigures.of(design(cores, slot, plain(cores))).cores().get(cores - 1);
        assertThat(core.worstWait()).hasValue(worst);
        assertThat(core.meanWait()).hasValue(mean);
    }

    @Test
    void rotation_weightedOrder_countsTheGapsBetweenOwnSlots() {
        // Slots of core 0 at 0 and 1 of 5: gaps of 1 and 4 slots, that is 3 and 12 cycles of 15.
        TurnFigures figures = TurnFigures.of(design(4, 3, inOrder(0, 0, 1, 2, 1)));
        CoreTurns first = figures.cores().get(0);
        assertThat(first.slots()).isEqualTo(2);
        assertThat(first.worstWait()).hasValue(11);
        assertThat(first.meanWait()).hasValue((3 * 2 / 2 + 12 * 11 / 2) / 15.0);
        CoreTurns missing = figures.cores().get(3);
        assertThat(missing.slots()).isZero();
        assertThat(missing.worstWait()).isEmpty();
        assertThat(missing.meanWait()).isEmpty();
        assertThat(missing.alone().perCycle()).isZero();
    }

    /** The mean over all phases of the rotation, each tried out. */
    @ParameterizedTest
    @ValueSource(ints = {0, 1, 2})
    void rotation_everyPhaseTriedOut_hasTheMeanAndTheWorst(int core) {
        Design design = design(3, 2, inOrder(0, 1, 0, 2, 2, 0));
        int rotation = design.rotationCycles();
        long total = 0;
        long worst = 0;
        for (int phase = 0; phase < rotation; phase++) {
            // The request is up one cycle after the fetch begins.
            String text = "core %d\n pause %d\n fetch r1, [0]\n halt\n".formatted(core, rotation + phase);
            CoreReport report = Runs.report(text, design, 1000).cores().get(core);
            total += report.waits().total();
            worst = Math.max(worst, report.waits().max());
        }
        CoreTurns figures = TurnFigures.of(design).cores().get(core);
        assertThat(figures.meanWait()).hasValue((double) total / rotation);
        assertThat(figures.worstWait()).hasValue(worst);
    }

    static Stream<Design> designs() {
        return Stream.of(
                design(1, 3, plain(1)),
                design(2, 1, 3, plain(2)),
                design(8, 3, plain(8)),
                design(3, 2, 5, inOrder(0, 1, 0, 2, 2, 0)),
                design(4, 5, 7, inOrder(3, 3, 0, 1, 1, 1, 2, 0, 3)),
                design(1, 3, new Admission.NextWaiting()),
                design(4, 3, new Admission.NextWaiting()),
                design(2, 2, 9, new Admission.NextWaiting()),
                design(5, 3, new Admission.FirstCome()),
                design(3, 1, 2, new Admission.Priority(List.of(2, 0, 1))),
                design(2, 1, 4, new Admission.Priority(List.of(1, 0))),
                design(6, 2, new Admission.Lottery(List.of(1, 2, 3, 4, 5, 6), 1)),
                design(4, 3, 2, new Admission.OwnPort()));
    }

    /** 600 accesses one after the other: alone, and on all cores at once. The ends of the run count for a little. */
    @ParameterizedTest
    @MethodSource("designs")
    void rates_measured_areAsPredicted(Design design) {
        int accesses = 600;
        String body = " fetch r1, [0]\n".repeat(accesses);
        TurnFigures figures = TurnFigures.of(design);
        for (int core = 0; core < design.cores(); core++) {
            RunReport alone = Runs.report("core %d\n%s halt\n".formatted(core, body), design, 1_000_000);
            double rate = (double) accesses / alone.cycles();
            assertThat(rate).isCloseTo(figures.cores().get(core).alone().perCycle(), within(0.01 * rate));
        }
        // Long before any core is done.
        RunReport together = Runs.report("core all\n%s halt\n".formatted(body), design, 400L * design.slotCycles());
        long made = together.cores().stream().mapToLong(CoreReport::accesses).sum();
        double rate = (double) made / together.cycles();
        assertThat(rate).isCloseTo(figures.togetherPerCycle(), within(0.03 * rate));
    }

    @Test
    void worstWait_onDemand_isThatOfThePolicy() {
        assertThat(worst(design(4, 3, new Admission.NextWaiting()))).containsExactly(9L, 9L, 9L, 9L);
        assertThat(worst(design(4, 3, new Admission.FirstCome()))).containsExactly(8L, 9L, 9L, 9L);
        assertThat(worst(design(3, 5, new Admission.Priority(List.of(1, 0, 2)))))
                .containsExactly(-1L, 4L, -1L);
        assertThat(worst(design(2, 3, new Admission.Lottery(List.of(1, 1), 1)))).containsExactly(-1L, -1L);
        assertThat(worst(design(2, 3, new Admission.OwnPort()))).containsExactly(0L, 0L);
        assertThat(worst(design(1, 3, new Admission.Lottery(List.of(1), 1)))).containsExactly(0L);
        assertThat(worst(design(1, 3, new Admission.Priority(List.of(0))))).containsExactly(0L);
    }

    private static List<Long> worst(Design design) {
        return TurnFigures.of(design).cores().stream()
                .map(core -> core.worstWait().orElse(-1))
                .toList();
    }

    /**
     * Random programs that ask at random times, some from shared code: no wait is longer than the bound, and the bound is
     * met by some.
     */
    @ParameterizedTest
    @MethodSource("bounded")
    void worstWait_randomPrograms_isNeverExceededAndIsMet(Design design) {
        long[] longest = new long[design.cores()];
        for (long seed = 1; seed <= 60; seed++) {
            RunReport report = Runs.report(randomProgram(design, seed), design, 20_000);
            for (CoreReport core : report.cores()) {
                longest[core.core()] =
                        Math.max(longest[core.core()], core.waits().max());
            }
        }
        assertThat(IntStream.range(0, design.cores())
                        .mapToObj(core -> worst(design).get(core) < 0 ? -1L : longest[core])
                        .toList())
                .isEqualTo(worst(design));
    }

    static Stream<Design> bounded() {
        return Stream.of(
                design(4, 3, new Admission.NextWaiting()),
                design(3, 4, new Admission.FirstCome()),
                design(3, 5, new Admission.Priority(List.of(1, 0, 2))),
                design(3, 2, inOrder(0, 1, 0, 2, 2, 0)),
                design(3, 2, new Admission.OwnPort()));
    }

    private static String randomProgram(Design design, long seed) {
        Random random = new Random(seed);
        StringBuilder text = new StringBuilder();
        for (int core = 0; core < design.cores(); core++) {
            text.append("core %d\n".formatted(core));
            for (int i = 0; i < 60; i++) {
                text.append(" pause %d\n fetch r1, [0]\n".formatted(1 + random.nextInt(12)));
            }
            text.append(core % 2 == 0 ? " far code\n" : " halt\n");
        }
        text.append("shared at 100\ncode:\n");
        text.append(" fetch r1, [0]\n add r1, r1, 1\n".repeat(20)).append(" halt\n");
        return text.toString();
    }
}
