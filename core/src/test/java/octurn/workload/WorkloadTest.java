package octurn.workload;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.stream.Stream;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.design.Admission;
import octurn.design.Clock;
import octurn.design.Cost;
import octurn.design.Design;
import octurn.measure.CoreThinks;
import octurn.measure.Measured;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class WorkloadTest {

    private static final int CORES = 8;
    private static final long ACCESSES = 500;

    private static Design design(Cost cost) {
        return new Design("workload", CORES, 1024, 16384, 3, new Admission.FirstCome(), cost, 16, Clock.DEFAULT);
    }

    private static Measured run(Design design, Think think, int writes) {
        String text = new Workload(design, CORES, think, writes, ACCESSES, 1).text();
        Assembly assembly = Assembler.assemble("workload.turn", text, design);
        assertThat(assembly).as(text).isInstanceOf(Assembly.Assembled.class);
        assertThat(((Assembly.Assembled) assembly).warnings()).as(text).isEmpty();
        return Measured.of(text, design);
    }

    /** Costs of all kinds: a jump that is dearer than a nop, as dear, cheaper. */
    static Stream<Cost> costs() {
        return Stream.of(
                Cost.DEFAULT,
                new Cost(1, 1, 1, 1, 1),
                new Cost(3, 2, 1, 4, 16),
                new Cost(2, 2, 3, 1, 1),
                new Cost(4, 2, 2, 9, 9),
                new Cost(1, 1, 20, 1, 1));
    }

    @ParameterizedTest
    @MethodSource("costs")
    void fixedThink_isAsLongAsAsked_whateverIsRead(Cost cost) {
        for (int writes : List.of(0, 30, 100)) {
            long think = Workload.least(design(cost), new Think.Fixed(0), writes) + cost.plain() + 40;

            Measured measured = run(design(cost), new Think.Fixed(think), writes);

            assertThat(measured.thinks()).hasSize(CORES).allSatisfy(core -> {
                assertThat(core.thinks().isConstant()).as(core.toString()).isTrue();
                assertThat(core.thinks().min()).isEqualTo(think);
                assertThat(core.accesses()).isEqualTo(ACCESSES);
            });
        }
    }

    @Test
    void fixedThink_canBeThatOfTheLoopAlone() {
        assertThat(Workload.least(Design.DEFAULT, new Think.Fixed(0), 0)).isEqualTo(3);

        Measured measured = run(Design.DEFAULT, new Think.Fixed(3), 0);

        assertThat(measured.thinks().get(0).thinks().max()).isEqualTo(3);
    }

    @ParameterizedTest
    @MethodSource("costs")
    void uniformThink_staysInItsRangeAndIsEven(Cost cost) {
        long least = Workload.least(design(cost), new Think.Uniform(0, 0), 30) + cost.plain();
        long most = least + 19;

        Measured measured = run(design(cost), new Think.Uniform(least, most), 30);

        long[] seen = new long[20];
        for (CoreThinks core : measured.thinks()) {
            core.histogram().forEach((think, count) -> {
                assertThat(think).isBetween(least, most);
                seen[(int) (think - least)] += count;
            });
        }
        assertEven(seen);
    }

    /** Chi-square with 19 degrees of freedom: above 43.8 in one of 1000 cases (from memory). */
    private static void assertEven(long[] seen) {
        double expected = 0;
        for (long count : seen) {
            expected += (double) count / seen.length;
        }
        double chiSquare = 0;
        for (long count : seen) {
            chiSquare += (count - expected) * (count - expected) / expected;
        }
        assertThat(chiSquare).isLessThan(43.8);
    }

    /** Steps of one length, and their number geometric: the mean is within four standard errors, as is each share. */
    @ParameterizedTest
    @MethodSource("costs")
    void geometricThink_goesInStepsWithTheSameChance(Cost cost) {
        long step = Workload.least(design(cost), new Think.Geometric(0), 30);
        double chance = 1 / 5.0;

        Measured measured = run(design(cost), new Think.Geometric(5 * step), 30);

        long count = 0;
        long total = 0;
        long single = 0;
        for (CoreThinks core : measured.thinks()) {
            assertThat(core.histogram().keySet())
                    .allSatisfy(think -> assertThat(think % step).isZero());
            count += core.thinks().count();
            total += core.thinks().total();
            single += core.histogram().getOrDefault(step, 0L);
        }
        double deviation = Math.sqrt(1 - chance) / chance * step;
        assertThat((double) total / count).isCloseTo(5.0 * step, within(4 * deviation / Math.sqrt((double) count)));
        assertThat((double) single / count).isCloseTo(chance, within(4 * Math.sqrt(chance * (1 - chance) / count)));
    }

    /** Of 4000 accesses 30 % write, within four deviations of a binomial. */
    @Test
    void writes_areTheShareAsked() {
        String text = new Workload(Design.DEFAULT, CORES, new Think.Fixed(60), 30, ACCESSES, 1).text();
        Measured measured = Measured.of(text, Design.DEFAULT);
        int postLine = 1 + List.of(text.split("\n")).indexOf("put:    post  r2, [r8]");

        long all = 0;
        long writes = 0;
        for (var spot : measured.report().hotSpots()) {
            all += spot.count();
            writes += spot.line() == postLine ? spot.count() : 0;
        }

        assertThat(all).isEqualTo(CORES * ACCESSES);
        assertThat((double) writes / all).isCloseTo(0.3, within(4 * Math.sqrt(0.3 * 0.7 / all)));
    }

    @Test
    void text_isTheSameForTheSameSeed_andTheRunAnotherForAnother() {
        Think think = new Think.Geometric(100);
        String one = new Workload(Design.DEFAULT, CORES, think, 30, 100, 1).text();
        String same = new Workload(Design.DEFAULT, CORES, think, 30, 100, 1).text();
        String other = new Workload(Design.DEFAULT, CORES, think, 30, 100, 2).text();

        assertThat(same).isEqualTo(one);
        assertThat(Measured.of(other, Design.DEFAULT).report().cycles())
                .isNotEqualTo(Measured.of(one, Design.DEFAULT).report().cycles());
    }

    /** Each core draws numbers of its own. */
    @Test
    void cores_drawDifferentNumbers() {
        Measured measured = run(Design.DEFAULT, new Think.Geometric(100), 0);

        assertThat(measured.thinks()).extracting(CoreThinks::histogram).doesNotHaveDuplicates();
    }

    @Test
    void text_keepsToEightyColumns() {
        for (Think think : List.of(
                new Think.Fixed(1_000_000_000),
                new Think.Uniform(500_000_000, 999_999_999),
                new Think.Geometric(999_999_999))) {
            String text = new Workload(Design.DEFAULT, CORES, think, 33, Workload.MOST_ACCESSES, 134_217_727).text();

            assertThat(text.lines())
                    .allSatisfy(line -> assertThat(line.length()).isLessThanOrEqualTo(80));
            assertThat(Assembler.assemble("w.turn", text, Design.DEFAULT)).isInstanceOf(Assembly.Assembled.class);
        }
    }

    @Test
    void aWorkloadThatCannotBe_isRefused() {
        assertRefused(9, new Think.Fixed(60), 0, 1, "cores: 9, not 1..8");
        assertRefused(8, new Think.Fixed(60), 101, 1, "writes: 101, not 0..100");
        assertRefused(8, new Think.Fixed(60), 0, 0, "accesses: 0, not 1..1000000000");
        assertRefused(8, new Think.Fixed(2), 0, 1, "think: 2, not 4..1000000000");
        assertRefused(8, new Think.Uniform(5, 9), 0, 1, "the least think: 5, not 16..1000000000");
        assertRefused(8, new Think.Uniform(30, 30), 0, 1, "the longest think: 30, not 31..1000000000");
        assertRefused(8, new Think.Geometric(11), 0, 1, "the mean think: 11, not 12..1000000000");
    }

    private static void assertRefused(int cores, Think think, int writes, long accesses, String message) {
        assertThatThrownBy(() -> new Workload(Design.DEFAULT, cores, think, writes, accesses, 1))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage(message);
    }
}
