package octurn.machine;

import java.util.ArrayList;
import java.util.List;
import java.util.SortedMap;
import java.util.function.Function;
import java.util.function.ToIntFunction;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.asm.Program;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.report.RunReport;
import octurn.report.RunReport.CoreReport;
import octurn.report.RunReport.FaultReport;
import octurn.report.RunReport.HotSpot;
import octurn.report.RunReports;
import octurn.run.Run;

/**
 * A program that has been run to its end, and what a test may ask of it. What went on in between ({@link #lane},
 * {@link #pin}, {@link #tally}) is seen by running it again, one cycle at a time.
 */
public final class Trial {

    private final Engines engine;
    private final Program program;
    private final Scenario scenario;
    private final long limit;
    private final Run run;
    private final RunReport report;

    private Trial(Engines engine, Program program, Scenario scenario, long limit) {
        this.engine = engine;
        this.program = program;
        this.scenario = scenario;
        this.limit = limit;
        this.run = start();
        run.finish();
        this.report = RunReports.of(run);
    }

    static Trial of(Engines engine, Design design, Scenario scenario, long limit, String text) {
        return new Trial(engine, assemble(design, text), scenario, limit);
    }

    /** The program of this text, which has no errors. */
    public static Program assemble(Design design, String text) {
        Assembly assembly = Assembler.assemble("test.turn", text, design);
        if (assembly instanceof Assembly.Assembled assembled) {
            return assembled.program();
        }
        throw new AssertionError(assembly + "\n" + text);
    }

    /** The same run once more, at the beginning of cycle 0. */
    public Run start() {
        return Run.of(program, scenario, limit, engine.maker());
    }

    /** The program, assembled. */
    public Program program() {
        return program;
    }

    // ---- at the end ----

    /** The report of the whole run. */
    public RunReport report() {
        return report;
    }

    /** Cycles 0 .. cycles-1 were simulated. */
    public long cycles() {
        return report.cycles();
    }

    public End ended() {
        return report.ended();
    }

    public CoreReport core(int core) {
        return report.cores().get(core);
    }

    /** What a register holds at the end. */
    public int register(int core, int register) {
        return core(core).registers().get(register);
    }

    /** What a shared word holds at the end. */
    public int shared(int address) {
        return run.chip().sharedWord(address);
    }

    /** What a private word holds at the end. */
    public int privateWord(int core, int address) {
        return run.chip().core(core).privateWord(address);
    }

    public FaultReport fault(int core) {
        return core(core).fault();
    }

    /** How many accesses of a core waited so long, by wait. */
    public SortedMap<Long, Long> waits(int core) {
        return core(core).waits().histogram();
    }

    /** The hot spots of one core. */
    public List<HotSpot> hotSpots(int core) {
        return report.hotSpots().stream().filter(spot -> spot.core() == core).toList();
    }

    // ---- on the way ----

    /** What a core did in the cycles of the run, as in {@code "work 1, wait 23, slot 3, work 1"}. */
    public String lane(int core) {
        StringBuilder lane = new StringBuilder();
        State last = null;
        long since = 0;
        List<State> states = eachCycle(chip -> chip.core(core).state());
        for (int cycle = 0; cycle <= states.size(); cycle++) {
            State state = cycle < states.size() ? states.get(cycle) : null;
            if (state != last) {
                if (last != null) {
                    lane.append(lane.isEmpty() ? "" : ", ")
                            .append(last.text())
                            .append(' ')
                            .append(cycle - since);
                }
                last = state;
                since = cycle;
            }
        }
        return lane.toString();
    }

    /** The level of a pin in each cycle of the run, as in {@code "0011"}. */
    public String pin(int pin) {
        return bits(chip -> chip.pinLevels() >>> pin & 1);
    }

    /** Whether a pin has a clash in each cycle of the run, as in {@code "0011"}. */
    public String clash(int pin) {
        return bits(chip -> chip.pinClashes() >>> pin & 1);
    }

    /** The value of a tally at the beginning of each cycle of the run. */
    public List<Integer> tally(int core, int tally) {
        return eachCycle(chip -> chip.tally(core, tally));
    }

    private String bits(ToIntFunction<Chip> bit) {
        StringBuilder bits = new StringBuilder();
        eachCycle(bit::applyAsInt).forEach(bits::append);
        return bits.toString();
    }

    private <T> List<T> eachCycle(Function<Chip, T> look) {
        List<T> seen = new ArrayList<>();
        Run again = start();
        for (long cycle = 0; cycle < cycles(); cycle++) {
            again.runTo(cycle);
            seen.add(look.apply(again.chip()));
        }
        return seen;
    }
}
