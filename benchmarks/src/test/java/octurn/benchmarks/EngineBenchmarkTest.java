package octurn.benchmarks;

import static org.assertj.core.api.Assertions.assertThat;

import octurn.design.Design;
import octurn.design.Scenario;
import octurn.machine.Chip;
import octurn.machine.Engine;
import octurn.run.Run;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The loads do what they are said to do, so that a figure is one of that work. */
class EngineBenchmarkTest {

    private static Chip after(Load load, String policy, long cycles, Engine.Maker engine) {
        Design design = EngineBenchmark.design(policy, 8);
        Run run = Run.of(load.program(design), Scenario.QUIET, 1L << 52, engine);
        run.runTo(cycles);
        return run.chip();
    }

    /** A pass of PLAIN takes 8 + 2 cycles; one of SHARED two rotations of 24. */
    @ParameterizedTest
    @CsvSource({"PLAIN, 900000", "SHARED, 83332"})
    void load_aMillionCycles_doesSoManyInstructions(Load load, long instructions) {
        assertThat(after(load, "rotation", 1_000_000, Engine.Maker.FAST).core(0).instructions())
                .isEqualTo(instructions);
    }

    /** Long enough for all that makes the fast engine fast. */
    @ParameterizedTest
    @ValueSource(strings = {"rotation", "next-waiting", "priority", "first-come", "lottery", "own-port"})
    void load_anyPolicy_endsTheSameOnBothEngines(String policy) {
        for (Load load : Load.values()) {
            Chip fast = after(load, policy, 3_000_000, Engine.Maker.FAST);
            Chip clear = after(load, policy, 3_000_000, Engine.Maker.CLEAR);

            assertThat(fast.sharedWord(0)).isEqualTo(clear.sharedWord(0));
            for (int i = 0; i < 8; i++) {
                assertThat(fast.core(i).instructions()).isEqualTo(clear.core(i).instructions());
                assertThat(fast.core(i).waitTotal()).isEqualTo(clear.core(i).waitTotal());
            }
        }
    }
}
