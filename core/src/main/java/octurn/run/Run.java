package octurn.run;

import octurn.asm.Block;
import octurn.asm.Program;
import octurn.design.Input;
import octurn.design.Scenario;
import octurn.machine.Chip;
import octurn.machine.ClearEngine;
import octurn.machine.Engine;
import octurn.trace.Sink;

/**
 * One run of a program.
 *
 * <pre>{@code
 * Run run = Run.of(program, Scenario.QUIET, Run.DEFAULT_LIMIT);
 * run.finish();
 * RunReport report = RunReports.of(run);
 * }</pre>
 */
public final class Run {

    /** Where a run ends if neither the user nor the scenario gives a limit, in cycles. */
    public static final long DEFAULT_LIMIT = 50_000_000;

    private final Program program;
    private final long limit;
    private Engine engine;

    private Run(Program program, Engine engine, long limit) {
        this.program = program;
        this.engine = engine;
        this.limit = limit;
    }

    /**
     * A run of this program, at the beginning of cycle 0, as fast as it goes.
     *
     * @param limit the cycle at which the run ends at the latest, 1..2^53-1
     * @throws IllegalArgumentException if the limit is out of range
     */
    public static Run of(Program program, Scenario scenario, long limit) {
        return of(program, scenario, limit, Engine.Maker.FAST);
    }

    /** The same, with somebody who is told all that happens; this takes longer. */
    public static Run of(Program program, Scenario scenario, long limit, Sink sink) {
        return of(program, scenario, limit, (chip, end) -> new ClearEngine(chip, end, sink));
    }

    /** The same, on an engine of one's choice. */
    public static Run of(Program program, Scenario scenario, long limit, Engine.Maker engine) {
        requireLimit(limit);
        Run run = new Run(program, engine.make(chip(program, scenario), limit), limit);
        run.runTo(0);
        return run;
    }

    static void requireLimit(long limit) {
        if (limit < 1 || limit > Input.MAX_CYCLE) {
            throw new IllegalArgumentException("limit: %d, not 1..%d".formatted(limit, Input.MAX_CYCLE));
        }
    }

    /** A chip that has not run yet, with a program in its memories and its cores about to start. */
    static Chip chip(Program program, Scenario scenario) {
        Chip chip = new Chip(program.design(), scenario);
        for (Block block : program.blocks()) {
            if (block.kind() == Block.Kind.CORE) {
                for (int core : block.cores()) {
                    chip.loadPrivate(core, block.words());
                    chip.startAtZero(core);
                }
            } else {
                chip.loadShared(block.address(), block.words());
            }
        }
        return chip;
    }

    /** What runs. */
    public Program program() {
        return program;
    }

    /** The chip at the present cycle. */
    public Chip chip() {
        return engine.chip();
    }

    /** The cycle at which the run ends at the latest. */
    public long limit() {
        return limit;
    }

    /**
     * Tells this sink all that happens from now on; the run is slower from here. What began with the present cycle has
     * happened already: the first events are those of the next one.
     */
    public void listen(Sink sink) {
        engine = new ClearEngine(chip(), limit, sink);
    }

    /** Whether the run is at its end. */
    public boolean isOver() {
        return chip().ended() != null;
    }

    /** Runs to the beginning of this cycle, or to the end of the run if that comes first. */
    public void runTo(long cycle) {
        engine.runTo(cycle);
    }

    /** Runs to the end. */
    public void finish() {
        engine.runTo(limit);
    }
}
