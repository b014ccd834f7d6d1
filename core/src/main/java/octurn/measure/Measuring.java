package octurn.measure;

import java.util.Optional;
import java.util.OptionalLong;
import octurn.asm.Program;
import octurn.design.Scenario;
import octurn.measure.Measurement.Between;
import octurn.report.RunReports;
import octurn.run.Run;
import octurn.trace.Sink;
import org.jspecify.annotations.Nullable;

/**
 * A run with all meters listening.
 *
 * <pre>{@code
 * Measuring measuring = Measuring.of(program, Scenario.QUIET, Run.DEFAULT_LIMIT);
 * measuring.run().finish();
 * Measurement measurement = measuring.measurement();
 * }</pre>
 */
public final class Measuring {

    private final StallMeter stalls;
    private final LoopMeter loops;
    private final ThinkMeter thinks;
    private final @Nullable RegionMeter regions;
    private final Optional<Wanted> wanted;
    private final Run run;

    /**
     * Two labels that are to be measured between.
     *
     * @param from the label at which a pass begins
     * @param to the label at which it ends; it may be the same
     * @param withinCycles how long it may take, if there is a deadline
     */
    public record Wanted(String from, String to, OptionalLong withinCycles) {}

    private Measuring(Program program, Scenario scenario, long limit, Optional<Wanted> wanted) {
        this.stalls = new StallMeter(program, limit);
        this.loops = new LoopMeter(program);
        this.thinks = new ThinkMeter(program, limit);
        this.wanted = wanted;
        this.regions = wanted.map(it -> new RegionMeter(program, it.from(), it.to(), it.withinCycles()))
                .orElse(null);
        Sink sink = Sink.both(Sink.both(stalls, loops), thinks);
        this.run = Run.of(program, scenario, limit, regions == null ? sink : Sink.both(sink, regions));
    }

    /** A run at cycle 0. */
    public static Measuring of(Program program, Scenario scenario, long limit) {
        return new Measuring(program, scenario, limit, Optional.empty());
    }

    /**
     * The same, with a look at what is between two labels.
     *
     * @throws IllegalArgumentException if the program has no such label; see {@link RegionMeter#labels}
     */
    public static Measuring of(Program program, Scenario scenario, long limit, Wanted wanted) {
        return new Measuring(program, scenario, limit, Optional.of(wanted));
    }

    /** The run. */
    public Run run() {
        return run;
    }

    /** What was measured so far. */
    public Measurement measurement() {
        RegionMeter meter = regions;
        return new Measurement(
                run.program(),
                RunReports.of(run),
                stalls.stalls(),
                loops.loops(),
                thinks.thinks(),
                wanted.flatMap(it -> meter == null
                        ? Optional.empty()
                        : Optional.of(new Between(
                                it.from(),
                                it.to(),
                                it.withinCycles(),
                                meter.regions(run.chip().cycle())))));
    }
}
