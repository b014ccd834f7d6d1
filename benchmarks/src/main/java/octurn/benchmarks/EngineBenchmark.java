package octurn.benchmarks;

import java.util.concurrent.TimeUnit;
import octurn.asm.Program;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.design.Field;
import octurn.design.Scenario;
import octurn.machine.Engine;
import octurn.run.Run;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OperationsPerInvocation;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

/**
 * Chip cycles simulated in a microsecond, which is millions a second: each load on each engine, under each policy. One
 * operation is one chip cycle of a run that goes on from one call to the next, with the run report's accounting on.
 *
 * <pre>{@code
 * java -cp benchmarks/target/octurn-benchmarks.jar org.openjdk.jmh.Main EngineBenchmark -rf json -rff engine.json
 * java -cp benchmarks/target/octurn-benchmarks.jar org.openjdk.jmh.Main EngineBenchmark -p engine=FAST -p policy=lottery
 * }</pre>
 */
@BenchmarkMode(Mode.Throughput)
@OutputTimeUnit(TimeUnit.MICROSECONDS)
@State(Scope.Thread)
@Fork(2)
@Warmup(iterations = 3, time = 2)
@Measurement(iterations = 5, time = 2)
public class EngineBenchmark {

    private static final int CYCLES = 24_000_000;

    /** Which engine. */
    public enum Which {
        CLEAR(Engine.Maker.CLEAR),
        FAST(Engine.Maker.FAST);

        private final Engine.Maker maker;

        Which(Engine.Maker maker) {
            this.maker = maker;
        }
    }

    @Param
    public Which engine = Which.FAST;

    @Param
    public Load load = Load.PLAIN;

    @Param({"rotation", "next-waiting", "priority", "first-come", "lottery", "own-port"})
    public String policy = "rotation";

    @Param("8")
    public int cores = 8;

    private Run run = start();

    /** A run at cycle 0. */
    @Setup
    public void setUp() {
        run = start();
    }

    private Run start() {
        Program program = load.program(design(policy, cores));
        return Run.of(program, Scenario.QUIET, 1L << 52, engine.maker);
    }

    /** The standard design under this policy, with so many cores. */
    static Design design(String policy, int cores) {
        Design standard = Field.CORES.with(Design.DEFAULT, cores);
        return switch (policy) {
            case "rotation" -> standard;
            case "next-waiting" -> standard.withAdmission(new Admission.NextWaiting());
            case "priority" -> standard.withAdmission(new Admission.Priority(Design.plainOrder(cores)));
            case "first-come" -> standard.withAdmission(new Admission.FirstCome());
            case "lottery" ->
                standard.withAdmission(
                        new Admission.Lottery(Design.plainWeights(cores), Admission.Lottery.DEFAULT_SEED));
            case "own-port" -> standard.withAdmission(new Admission.OwnPort());
            default -> throw new IllegalArgumentException("no policy: " + policy);
        };
    }

    /** Runs on; the instructions done are returned so that the work cannot be left out. */
    @Benchmark
    @OperationsPerInvocation(CYCLES)
    public long run() {
        run.runTo(run.chip().cycle() + CYCLES);
        return run.chip().core(0).instructions();
    }
}
