package octurn.benchmarks;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.concurrent.TimeUnit;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.design.Design;
import octurn.design.Field;
import octurn.design.Scenario;
import octurn.machine.Chip;
import octurn.report.RunReport;
import octurn.report.RunReports;
import octurn.run.Run;
import octurn.sweep.Axis;
import octurn.sweep.Grid;
import octurn.sweep.SweepRow;
import octurn.sweep.SweepTask;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

/**
 * How long the work around a run takes, in milliseconds: assembling, saving and restoring, reporting, one point of a
 * sweep.
 *
 * <pre>{@code
 * java -cp benchmarks/target/octurn-benchmarks.jar org.openjdk.jmh.Main ToolsBenchmark
 * }</pre>
 */
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@State(Scope.Thread)
@Fork(2)
@Warmup(iterations = 3, time = 2)
@Measurement(iterations = 5, time = 2)
public class ToolsBenchmark {

    /** The greatest source that the assembler takes, in bytes. */
    static final int SOURCE_BYTES = 1 << 20;

    /** A chip with room for all that such a source can hold. */
    static final Design ROOMY = Field.SHARED_WORDS.with(Design.DEFAULT, 131_072);

    private static final long SWEEP_LIMIT = 100_000;

    private final byte[] source = source();
    private final Run run = advanced();
    private final SweepTask sweep = sweep();
    private int point;

    /** Close to 1 MiB of instructions with labels, expressions and comments, all different, that make no mistake. */
    static byte[] source() {
        StringBuilder text = new StringBuilder("beds = 12\n\ncore 0\n  far bed_0\n\nshared\n");
        int line = 0;
        while (text.length() < SOURCE_BYTES - 100) {
            text.append("bed_%d: add r%d, r%d, (%d + beds) %% 100   ; bed %d\n"
                    .formatted(line, line % 16, (line + 3) % 16, line, line));
            line++;
        }
        text.append("        halt\n");
        return text.toString().getBytes(StandardCharsets.UTF_8);
    }

    private static Run advanced() {
        Run run = Run.of(Load.SHARED.program(Design.DEFAULT), Scenario.QUIET, 1L << 52);
        run.runTo(1_000_000);
        return run;
    }

    /** Slot lengths by core counts: 256 points of a program that runs for 100,000 cycles. */
    static SweepTask sweep() {
        Grid grid =
                new Grid(Design.DEFAULT, List.of(), List.of(Axis.parse("slotCycles=1..32"), Axis.parse("cores=1..8")));
        byte[] text = Load.SHARED.text().getBytes(StandardCharsets.UTF_8);
        return new SweepTask("shared.turn", text, grid, Scenario.QUIET, SWEEP_LIMIT);
    }

    /** A source of 1 MiB to words. */
    @Benchmark
    public Assembly assemble() {
        return Assembler.assemble("beds.turn", source, ROOMY);
    }

    /** The whole state of a chip kept, and the chip set back to it. */
    @Benchmark
    public Chip saveAndRestore() {
        Chip chip = run.chip();
        chip.restore(chip.save());
        return chip;
    }

    /** The report of a run. */
    @Benchmark
    public RunReport report() {
        return RunReports.of(run);
    }

    /** The next point of a sweep: assembled, run for 100,000 cycles, measured. */
    @Benchmark
    public SweepRow sweepPoint() {
        point = (point + 1) % sweep.grid().size();
        return sweep.run(point);
    }
}
