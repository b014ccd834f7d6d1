package octurn.predict;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.design.NamedDesigns;
import octurn.measure.Measured;
import octurn.workload.Think;
import octurn.workload.Workload;
import org.junit.jupiter.api.Test;

class PredictionsTest {

    private static List<Prediction> predictions(Design design, Think think, long accesses) {
        Measured measured = Measured.of(new Workload(design, 8, think, 0, accesses, 1).text(), design);
        return Predictions.of(measured.report(), measured.thinks());
    }

    private static Prediction one(List<Prediction> list, Theory theory, Quantity quantity) {
        return list.stream()
                .filter(one -> one.theory() == theory && one.quantity() == quantity)
                .findFirst()
                .orElseThrow(() -> new AssertionError(theory + " " + quantity + " in " + list));
    }

    private static Design named(String name) {
        return NamedDesigns.of(name).orElseThrow();
    }

    @Test
    void inRotation_fixedThinks_areMetToTheCycleAndEvenPhasesAreNot() {
        List<Prediction> list = predictions(Design.DEFAULT, new Think.Fixed(60), 1000);

        Prediction fixed = one(list, Theory.FIXED_THINK, Quantity.MEAN_WAIT);
        assertThat(fixed.predicted()).isEqualTo(9);
        // Only the first access of each core has another wait, of at most 23.
        assertThat(fixed.measured()).isCloseTo(9, within(23 / 1000.0));
        assertThat(fixed.broken()).isEmpty();

        Prediction even = one(list, Theory.UNIFORM_PHASE, Quantity.MEAN_WAIT);
        assertThat(even.predicted()).isEqualTo(11.5);
        assertThat(even.broken()).containsExactly("requests keep step with the rotation: 100 of 100 wait 9 cycles");
        assertThat(even.differencePercent()).isCloseTo(100 * (9 - 11.5) / 11.5, within(0.5));

        Prediction bound = one(list, Theory.TURN_BOUND, Quantity.LONGEST_WAIT);
        assertThat(bound.bound()).isTrue();
        assertThat(bound.predicted()).isEqualTo(23);
        assertThat(bound.measured()).isLessThanOrEqualTo(23);
        assertThat(one(list, Theory.FIXED_THINK, Quantity.MEMORY_HELD).predicted())
                .isCloseTo(1 / 3.0, within(1e-12));
    }

    @Test
    void inRotation_thinksOverAWholeRotation_makeThePhasesEven() {
        Prediction even = one(
                predictions(Design.DEFAULT, new Think.Uniform(30, 53), 2000), Theory.UNIFORM_PHASE, Quantity.MEAN_WAIT);

        assertThat(even.broken()).isEmpty();
        // 16000 waits with a deviation of sqrt((24^2-1)/12): four standard errors of the mean.
        assertThat(even.measured()).isCloseTo(11.5, within(4 * Math.sqrt(575 / 12.0 / 16_000)));
    }

    @Test
    void onDemand_geometricThinks_areNearTheChainAndBelowTheQueue() {
        List<Prediction> list = predictions(named("next-waiting"), new Think.Geometric(44), 3000);

        Prediction chain = one(list, Theory.GEOMETRIC_THINK, Quantity.MEAN_WAIT);
        assertThat(chain.broken()).containsExactly("no think is shorter than 11 cycles; in theory they begin with 1");
        Prediction queue = one(list, Theory.MEAN_VALUE_ANALYSIS, Quantity.MEAN_WAIT);
        assertThat(queue.broken()).contains("an access always takes 3 cycles");
        assertThat(queue.predicted()).isGreaterThan(queue.measured());
        Prediction bounds = one(list, Theory.ASYMPTOTIC_BOUNDS, Quantity.MEAN_WAIT);
        assertThat(bounds.bound()).isTrue();
        assertThat(bounds.measured()).isGreaterThan(bounds.predicted());
        assertThat(bounds.broken()).anyMatch(text -> text.startsWith("thinks vary from 11 to "));
        Prediction longest = one(list, Theory.DEMAND_BOUND, Quantity.LONGEST_WAIT);
        assertThat(longest.predicted()).isEqualTo(21);
        assertThat(longest.measured()).isLessThanOrEqualTo(21);
    }

    @Test
    void cores_thatThinkDifferently_areToldApart() {
        String text = """
            core 0
                    set r1, 200
            next:   pause 90
                    fetch r2, [0]
                    again r1, next
                    halt
            core 1
                    set r1, 200
            next:   pause 10
                    fetch r2, [0]
                    again r1, next
                    halt
            """;
        Measured measured = Measured.of(text, named("first-come"));

        Prediction bounds =
                one(Predictions.of(measured.report(), measured.thinks()), Theory.ASYMPTOTIC_BOUNDS, Quantity.MEAN_WAIT);

        assertThat(bounds.broken())
                .contains("core 1 thinks 13.0 cycles on average, core 0 93.0")
                .anyMatch(text2 -> text2.startsWith("core 1 made its last access at cycle "));
    }

    @Test
    void lottery_withEqualAccessesByTheProgram_saysSo() {
        Design design = Design.DEFAULT.withAdmission(new Admission.Lottery(List.of(7, 1, 1, 1, 1, 1, 1, 1), 1));

        List<Prediction> list = predictions(design, new Think.Fixed(4), 200);

        Prediction share = one(list, Theory.LOTTERY_SHARE, Quantity.SHARE);
        assertThat(share.of()).isEqualTo("core 0");
        assertThat(share.predicted()).isEqualTo(0.5);
        assertThat(share.measured()).isEqualTo(0.125);
        assertThat(share.broken())
                .contains(
                        "a core whose slot has just ended is not yet there for the next draw",
                        "the program gives each core equally many accesses");
        assertThat(one(list, Theory.LOTTERY_SITTING_OUT, Quantity.SHARE).predicted())
                .isCloseTo(0.35, within(1e-12));
    }

    @Test
    void ownPort_neverWaits_andTheStallIsTheSlotAlone() {
        List<Prediction> list = predictions(named("own-port"), new Think.Fixed(60), 500);

        assertThat(one(list, Theory.DEMAND_BOUND, Quantity.LONGEST_WAIT).measured())
                .isZero();
        Prediction stalls = one(list, Theory.MEMORY_STALLS, Quantity.CYCLES_PER_INSTRUCTION);
        // A pause counts as work for its first cycle only; all else is exact.
        assertThat(stalls.predicted()).isCloseTo(stalls.measured(), within(1e-9));
        assertThat(stalls.differencePercent()).isCloseTo(0, within(1e-6));
    }

    /** Eight cores of plain instructions alone: the peak is reached, and no access limits it. */
    @Test
    void roofline_ofAProgramWithoutAccesses_isThePeak() {
        Measured measured = Measured.of("core all\n set r1, 1000\nnext: again r1, next\n halt\n", Design.DEFAULT);

        assertThat(Predictions.of(measured.report(), measured.thinks())).isEmpty();
        Predictions.Point point = Predictions.point(measured.report());
        assertThat(point.intensity()).isInfinite();
        assertThat(Predictions.roofline(measured.report())).isEqualTo(new Roofline(8, 1 / 3.0));
        assertThat(point.performance()).isLessThanOrEqualTo(8);
    }

    @Test
    void roofline_ofFewCoresInRotation_hasTheBandwidthOfTheirTurns() {
        assertThat(Predictions.roofline(Design.DEFAULT, List.of(0, 1)).bandwidth())
                .isCloseTo(2 / 24.0, within(1e-12));
        assertThat(Predictions.roofline(named("next-waiting"), List.of(0, 1)).bandwidth())
                .isCloseTo(1 / 3.0, within(1e-12));
        assertThat(Predictions.roofline(named("own-port"), List.of(0, 1)).bandwidth())
                .isCloseTo(2 / 3.0, within(1e-12));
    }

    /** No run goes above its roofline or below its bounds, whatever the design. */
    @Test
    void bounds_underEveryDesignByName_hold() {
        for (NamedDesigns.Named named : NamedDesigns.all()) {
            int cores = Math.min(4, named.design().cores());
            String text = new Workload(named.design(), cores, new Think.Uniform(30, 60), 30, 300, 9).text();
            Measured measured = Measured.of(text, named.design());

            for (Prediction one : Predictions.of(measured.report(), measured.thinks())) {
                String what = named.name() + " " + one;
                if (one.bound() && one.theory() != Theory.ASYMPTOTIC_BOUNDS) {
                    assertThat(one.measured()).as(what).isLessThanOrEqualTo(one.predicted() + 1e-12);
                }
                if (one.theory() == Theory.ASYMPTOTIC_BOUNDS && one.quantity() == Quantity.MEAN_WAIT) {
                    assertThat(one.measured()).as(what).isGreaterThanOrEqualTo(one.predicted() - 1e-12);
                }
            }
        }
    }

    @Test
    void thinkTable_ofTheDefaultDesign_hasARowForEachNumberOfCores() {
        ThinkTable table = ThinkTable.of(Design.DEFAULT, 21);

        assertThat(table.rows()).extracting(ThinkTable.Row::cores).containsExactly(1, 2, 3, 4, 5, 6, 7, 8);
        ThinkTable.Row all = table.rows().get(7);
        // 21 + 3 is a whole rotation: nobody waits, and on demand neither.
        assertThat(all.fixedInTurn().orElseThrow().waitCycles()).isZero();
        assertThat(all.fixedOnDemand().waitCycles()).isCloseTo(0, within(1e-9));
        assertThat(all.fixedOnDemand().utilization()).isCloseTo(1, within(1e-12));
        assertThat(all.queue().waitCycles())
                .isEqualTo(MeanValueAnalysis.oneStation(3, 21, 8).responseTime() - 3);
        assertThat(all.geometricOnDemand()).isEqualTo(ThinkAndAccess.geometricOnDemand(8, 3, 1 / 21.0, false));
        assertThat(table.rows().get(0).geometricInTurn())
                .contains(ThinkAndAccess.geometricInTurn(1, 8, 3, 1 / 21.0, false));
    }

    @Test
    void thinkTable_ofAWeightedOrder_hasNoGeometricThinkInTurn() {
        ThinkTable table = ThinkTable.of(named("weighted"), 21);

        assertThat(table.rows().get(0).geometricInTurn()).isEmpty();
        // Core 0 has a slot every 6 cycles: 21 + 3 is a multiple of it.
        assertThat(table.rows().get(0).fixedInTurn().orElseThrow().waitCycles()).isZero();
    }

    @Test
    void thinkTable_ofAThinkBelowOneCycle_isRefused() {
        assertThatThrownBy(() -> ThinkTable.of(Design.DEFAULT, 0.5)).hasMessageContaining("not at least 1");
        assertThatThrownBy(() -> ThinkTable.of(Design.DEFAULT, Double.NaN)).hasMessageContaining("not at least 1");
    }

    /** A task with a serial part of 100 and 800 to be split: Amdahl's law is met exactly. */
    @Test
    void speedUp_ofATaskThatFollowsAmdahl_isPredictedExactly() {
        List<SpeedUp.Measured> measured = List.of(
                new SpeedUp.Measured(1, 900, 900),
                new SpeedUp.Measured(2, 500, 900),
                new SpeedUp.Measured(4, 300, 900),
                new SpeedUp.Measured(8, 200, 900));

        SpeedUp speedUp = SpeedUp.sameTask(measured);

        assertThat(speedUp.law()).isEqualTo(Theory.AMDAHL);
        assertThat(speedUp.serialPart()).isCloseTo(1 / 9.0, within(1e-12));
        assertThat(speedUp.rows())
                .allSatisfy(row -> assertThat(row.differencePercent()).isCloseTo(0, within(1e-9)));
        assertThat(speedUp.rows().get(3).predicted()).isCloseTo(4.5, within(1e-12));
    }

    /** 100 serial and 800 for each processor: Gustafson's law is met exactly. */
    @Test
    void speedUp_ofATaskThatGrows_isPredictedExactly() {
        List<SpeedUp.Measured> measured = List.of(
                new SpeedUp.Measured(1, 900, 900),
                new SpeedUp.Measured(2, 900, 1700),
                new SpeedUp.Measured(8, 900, 6500));

        SpeedUp speedUp = SpeedUp.growingTask(measured);

        assertThat(speedUp.law()).isEqualTo(Theory.GUSTAFSON);
        assertThat(speedUp.serialPart()).isCloseTo(1 / 9.0, within(1e-12));
        assertThat(speedUp.rows().get(2).predicted()).isCloseTo(6500 / 900.0, within(1e-12));
    }

    @Test
    void speedUp_withoutOneProcessorFirst_isRefused() {
        assertThatThrownBy(() ->
                        SpeedUp.sameTask(List.of(new SpeedUp.Measured(2, 10, 10), new SpeedUp.Measured(4, 5, 10))))
                .hasMessageContaining("one processor first");
    }
}
