package octurn.predict;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import octurn.arbiter.Rotation;
import octurn.design.Design;
import octurn.predict.ThinkAndAccess.LongRun;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The formulas against worked numbers of their sources, or of the definition. */
class PublishedFormulasTest {

    /** Amdahl 1967, numbers worked from the definition; the limit for f = 0.8 is 5. */
    @ParameterizedTest
    @CsvSource({"0.8, 8, 3.333333", "0.95, 8, 5.925926", "0.9, 8, 4.705882", "0.8, 1000000, 5", "0, 8, 1", "1, 8, 8"})
    void amdahl_ofWorkedExamples_isAsPublished(double parallel, int processors, double speedUp) {
        assertThat(Laws.amdahl(parallel, processors)).isCloseTo(speedUp, within(2e-5));
    }

    /** Gustafson 1988 (CACM 31(5)), numbers worked from the definition. */
    @ParameterizedTest
    @CsvSource({"0.1, 10, 9.1", "0.05, 8, 7.65", "0, 8, 8", "1, 8, 1"})
    void gustafson_ofWorkedExamples_isAsPublished(double serial, int processors, double speedUp) {
        assertThat(Laws.gustafson(serial, processors)).isCloseTo(speedUp, within(1e-12));
    }

    /** The serial part of Karp and Flatt is the inverse of Amdahl's law (derived). */
    @ParameterizedTest
    @CsvSource({"0.2, 2", "0.05, 8", "0.5, 32"})
    void serialPart_ofAmdahlsSpeedUp_isTheOneItWasMadeOf(double serial, int processors) {
        assertThat(Laws.serialPart(Laws.amdahl(1 - serial, processors), processors))
                .isCloseTo(serial, within(1e-12));
    }

    /**
     * Patterson and Hennessy, Computer Organization and Design, chapter on memory: base 2, instruction misses 2 %, data
     * misses 4 % of 36 %, penalty 100: 5.44, 2.72 times the base. Hennessy and Patterson, appendix on memory: base 1,
     * 50 % loads and stores, 1 % misses of all 1.5 accesses, penalty 50: 1.75.
     */
    @Test
    void cyclesPerInstruction_ofTheTextbooksExamples_isAsPrinted() {
        double first = Laws.cyclesPerInstruction(Laws.cyclesPerInstruction(2, 0.02, 100), 0.36 * 0.04, 100);

        assertThat(first).isCloseTo(5.44, within(1e-12));
        assertThat(first / 2).isCloseTo(2.72, within(1e-12));
        assertThat(Laws.cyclesPerInstruction(1, 1.5 * 0.01, 50)).isCloseTo(1.75, within(1e-12));
    }

    /** Jain, Chiu, Hawe, DEC-TR-301, 1984; numbers worked from the definition. */
    @Test
    void jain_ofWorkedExamples_isAsDefined() {
        assertThat(Laws.jain(1, 1, 1, 1, 1, 1, 1, 1)).isEqualTo(1);
        assertThat(Laws.jain(1, 0, 0, 0, 0, 0, 0, 0)).isEqualTo(0.125);
        assertThat(Laws.jain(1, 3, 5)).isCloseTo(0.771429, within(1e-6));
        assertThat(Laws.jain(4, 1, 1, 1, 1)).isCloseTo(0.64, within(1e-12));
        assertThat(Laws.jain(8, i -> 8.0 - i)).isCloseTo(0.794118, within(1e-6));
        assertThat(Laws.jain(0, 0)).isEqualTo(1);
    }

    /** Waldspurger and Weihl, OSDI 1994: tickets 5, 3, 2; B wins 30 %, and 60 % while A is away. */
    @Test
    void lotteryShare_ofThePublishedExample_is30And60Percent() {
        assertThat(Laws.lotteryShare(3, 5 + 3 + 2)).isCloseTo(0.3, within(1e-12));
        assertThat(Laws.lotteryShare(3, 3 + 2)).isCloseTo(0.6, within(1e-12));
        // One of eight in 8000 draws: 1000 wins, one deviation 29.58.
        assertThat(Laws.lotteryDeviation(1 / 8.0, 8000)).isCloseTo(29.58, within(0.005));
    }

    /** The winner sits out a draw: two take turns whatever their tickets; equal ones share equally (derived). */
    @Test
    void lotteryShareSittingOut_ofSpecialCases_isAsDerived() {
        assertThat(Laws.lotteryShareSittingOut(0, List.of(9, 1))).isEqualTo(0.5);
        assertThat(Laws.lotteryShareSittingOut(2, List.of(4, 4, 4, 4))).isEqualTo(0.25);
        assertThat(Laws.lotteryShareSittingOut(0, List.of(7, 1, 1, 1, 1, 1, 1, 1)))
                .isCloseTo(0.35, within(1e-12));
    }

    /** Williams, Waterman, Patterson, CACM 52(4), 2009: peak 17.6 GFlop/s, 15 GB/s. */
    @ParameterizedTest
    @CsvSource({"0.5, 7.5", "1, 15", "2, 17.6"})
    void roofline_ofThePublishedMachine_isAsPrinted(double intensity, double attainable) {
        Roofline roofline = new Roofline(17.6, 15);

        assertThat(roofline.attainable(intensity)).isCloseTo(attainable, within(1e-12));
        assertThat(roofline.ridge()).isCloseTo(1.1733, within(5e-5));
    }

    /**
     * R. Jain, The Art of Computer Systems Performance Analysis, 1991, example 34.2, table 34.1, which applies Reiser and
     * Lavenberg 1980: S = .125, .3, .2; V = 16, 10, 5; Z = 4.
     */
    @ParameterizedTest
    @CsvSource({
        "1, 6.000, 0.100",
        "2, 7.400, 0.175",
        "3, 9.088, 0.229",
        "4, 11.051, 0.266",
        "5, 13.256, 0.290",
        "20, 56.016, 0.333"
    })
    void meanValueAnalysis_ofThePrintedExample_givesItsTable(int customers, double response, double throughput) {
        List<MeanValueAnalysis.Solution> table =
                MeanValueAnalysis.solve(new double[] {.125, .3, .2}, new double[] {16, 10, 5}, 4, 20);

        assertThat(table.get(customers - 1).responseTime()).isCloseTo(response, within(6e-4));
        assertThat(table.get(customers - 1).throughput()).isCloseTo(throughput, within(6e-4));
        assertThat(table.get(19).queueLengths().get(0)).isCloseTo(1.991, within(6e-4));
        assertThat(table.get(19).queueLengths().get(1)).isCloseTo(16.177, within(6e-4));
        assertThat(table.get(19).queueLengths().get(2)).isCloseTo(0.500, within(6e-4));
    }

    /** One station, S = 1, Z = 7; values worked from the definition. */
    @ParameterizedTest
    @CsvSource({
        "1, 0.125000",
        "2, 0.246154",
        "3, 0.362454",
        "4, 0.472655",
        "5, 0.575281",
        "6, 0.668670",
        "7, 0.751129",
        "8, 0.821178"
    })
    void meanValueAnalysis_ofOneStation_isAsWorkedOut(int customers, double utilization) {
        assertThat(MeanValueAnalysis.oneStation(1, 7, customers).utilizations().get(0))
                .isCloseTo(utilization, within(1e-6));
        assertThat(MeanValueAnalysis.oneStation(1, 7, 8).responseTime()).isCloseTo(2.742100, within(1e-6));
    }

    /** Geometric think on demand, slots of one cycle, R with the access; derived. */
    @ParameterizedTest
    @CsvSource({
        "1, 0.125, 0.125000, 1",
        "2, 0.125, 0.247807, 1.070796",
        "3, 0.125, 0.367614, 1.160723",
        "4, 0.125, 0.483263, 1.277072",
        "5, 0.125, 0.593095, 1.430350",
        "6, 0.125, 0.694810, 1.635453",
        "7, 0.125, 0.785403, 1.912618",
        "8, 0.125, 0.861427, 2.286912",
        "8, 0.05, 0.394875, 1.259559",
        "8, 0.1, 0.739072, 1.824392",
        "8, 0.25, 0.999444, 5.004451"
    })
    void geometricOnDemand_ofSlotsOfOneCycle_isAsDerived(int cores, double chance, double use, double response) {
        LongRun run = ThinkAndAccess.geometricOnDemand(cores, 1, chance, true);

        assertThat(run.utilization()).isCloseTo(use, within(1e-6));
        assertThat(run.waitCycles() + 1).isCloseTo(response, within(2e-6));
    }

    /** The same in rotation: U = 1-(1-p)^N, R = N/U - 1/p + 1; derived. */
    @ParameterizedTest
    @CsvSource({"0.125, 0.656391, 5.187856", "0.25, 0.899887, 5.890004", "0.05, 0.336580, 4.768525"})
    void geometricInTurn_ofSlotsOfOneCycle_isAsDerived(double chance, double use, double response) {
        LongRun run = ThinkAndAccess.geometricInTurn(8, 8, 1, chance, true);

        assertThat(run.utilization()).isCloseTo(use, within(1e-6));
        assertThat(run.waitCycles() + 1).isCloseTo(response, within(2e-6));
    }

    /** Constant think, after Denning and Buzen 1978 (from memory; the values are derived). */
    @ParameterizedTest
    @CsvSource({"3, 2, 0.5, 0.25", "7, 8, 1, 1", "8, 8, 0.888889, 0.5", "15, 8, 0.5, 0.5"})
    void constantThink_ofSlotsOfOneCycle_isAsDerived(int think, int active, double onDemand, double inTurn) {
        Rotation rotation = new Rotation(1, Design.plainOrder(8), 8);

        assertThat(ThinkAndAccess.fixedOnDemand(active, 1, think).utilization()).isCloseTo(onDemand, within(1e-6));
        assertThat(active * ThinkAndAccess.fixedInTurn(rotation, 0, 1, 8, think).utilization())
                .isCloseTo(inTurn, within(1e-6));
    }

    /** With one slot in each rotation of R cycles the period is R ceil((Z+S)/R) (derived). */
    @Test
    void fixedInTurn_ofOneSlotARotation_hasAPeriodOfWholeRotations() {
        Rotation rotation = new Rotation(3, Design.plainOrder(8), 8);
        for (int think = 1; think <= 100; think++) {
            int period = 24 * ((think + 3 + 23) / 24);

            LongRun run = ThinkAndAccess.fixedInTurn(rotation, 5, 3, 24, think);

            assertThat(1 / run.throughput()).isCloseTo(period, within(1e-9));
            assertThat(run.waitCycles()).isCloseTo(period - 3.0 - think, within(1e-9));
        }
    }

    /** An order with two slots for core 0, 2 and 4 places apart: with a think of 4 slots it goes round in 6 + 6 (derived). */
    @Test
    void fixedInTurn_ofSeveralSlots_followsTheOrder() {
        Rotation rotation = new Rotation(2, List.of(0, 1, 0, 2, 3, 1), 4);

        // Slots at 0, 4, 12, 16 ..: from 0 the request is up at 4 and met; from 4 at 8, met at 12.
        LongRun run = ThinkAndAccess.fixedInTurn(rotation, 0, 2, 12, 2);

        assertThat(run.throughput()).isCloseTo(2 / 12.0, within(1e-12));
        assertThat(run.waitCycles()).isCloseTo((0 + 4) / 2.0, within(1e-12));
    }
}
