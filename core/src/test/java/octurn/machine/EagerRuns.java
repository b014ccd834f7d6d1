package octurn.machine;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import octurn.asm.Program;
import octurn.design.Scenario;
import octurn.report.RunReport;
import octurn.report.RunReports;
import octurn.run.Run;

/** A program on the clear engine, and on a fast one that translates code and looks for loops almost at once. */
final class EagerRuns {

    /** So few instructions make code busy. */
    private static final int HOT = 4;

    private final Program program;
    private final Scenario scenario;
    private final long limit;
    private final List<FastEngine> engines = new ArrayList<>();

    EagerRuns(Program program, Scenario scenario, long limit) {
        this.program = program;
        this.scenario = scenario;
        this.limit = limit;
    }

    private Run eager() {
        return Run.of(program, scenario, limit, (chip, end) -> {
            FastEngine engine = new FastEngine(chip, end, HOT);
            engines.add(engine);
            return engine;
        });
    }

    /**
     * Holds the chip of the fast engine against the clear engine's: in one run at random cycles and at the end, and at the
     * end of one without stops.
     *
     * @param seed of the cycles
     * @param apart they are at most
     * @param what it is, for a failure
     * @return how many cycles of the run without stops were gone round in loops
     */
    long compare(long seed, int apart, String what) {
        Run clear = Run.of(program, scenario, limit, Engine.Maker.CLEAR);
        Run whole = eager();
        Run stopped = eager();
        Random random = new Random(seed);
        for (long cycle = 0; !clear.isOver() && cycle < limit; cycle += 1 + random.nextInt(apart)) {
            clear.runTo(cycle);
            stopped.runTo(cycle);
            assertSame(stopped, clear, what);
        }
        clear.finish();
        stopped.finish();
        whole.finish();
        assertSame(stopped, clear, what);
        assertSame(whole, clear, what);
        return engines.get(0).loops.cycles();
    }

    private static void assertSame(Run run, Run clear, String what) {
        RunReport report = RunReports.of(run);
        RunReport expected = RunReports.of(clear);
        // The description is made in a failure only: it is a whole program.
        if (!report.equals(expected)) {
            assertThat(report).as("at %d of %s", clear.chip().cycle(), what).isEqualTo(expected);
        }
    }
}
