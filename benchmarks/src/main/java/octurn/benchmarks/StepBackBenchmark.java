package octurn.benchmarks;

import java.util.SplittableRandom;
import java.util.concurrent.TimeUnit;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.run.Moment;
import octurn.run.Progress;
import octurn.run.Timeline;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Level;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

/**
 * Moves in a run of 100 million cycles, in a heap of 256 MB, in milliseconds. Both end with the moment around the present
 * cycle that the stepper shows.
 *
 * <pre>{@code
 * java -cp benchmarks/target/octurn-benchmarks.jar org.openjdk.jmh.Main StepBackBenchmark
 * }</pre>
 */
@BenchmarkMode(Mode.SampleTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@State(Scope.Thread)
@Fork(value = 1, jvmArgsAppend = "-Xmx256m")
@Warmup(iterations = 2, time = 2)
@Measurement(iterations = 5, time = 2)
public class StepBackBenchmark {

    /** Cycles on each side of the present one that a wide screen shows. */
    private static final int AROUND = 80;

    @Param
    public Load load = Load.SHARED;

    @Param("100000000")
    public long cycles = 1_000_000;

    private Timeline timeline = start(load);
    private SplittableRandom random = new SplittableRandom(1);

    private static Timeline start(Load load) {
        return Timeline.of(load.program(Design.DEFAULT), Scenario.QUIET, 1L << 52);
    }

    /** Goes through the whole run once. */
    @Setup(Level.Trial)
    public void setUp() {
        timeline = start(load);
        timeline.moveTo(cycles, Progress.NONE);
        random = new SplittableRandom(1);
    }

    /** Somewhere in the run, as after a jump, with what is around it shown. */
    @State(Scope.Thread)
    public static class Place {

        /** Goes there. */
        @Setup(Level.Invocation)
        public void go(StepBackBenchmark run) {
            run.jump();
        }
    }

    /** A cycle back, from anywhere. */
    @Benchmark
    public Moment stepBack(Place place) {
        timeline.moveTo(timeline.cycle() - 1, Progress.NONE);
        return timeline.moment(AROUND, AROUND);
    }

    /** To any cycle of the run. */
    @Benchmark
    public Moment jump() {
        timeline.moveTo(1 + random.nextLong(cycles), Progress.NONE);
        return timeline.moment(AROUND, AROUND);
    }
}
