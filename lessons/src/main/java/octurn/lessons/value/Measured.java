package octurn.lessons.value;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CancellationException;
import java.util.function.BooleanSupplier;
import java.util.stream.IntStream;
import octurn.asm.Block;
import octurn.asm.Program;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.machine.Chip;
import octurn.machine.State;
import octurn.report.Places;
import octurn.report.RunReport;
import octurn.report.RunReports;
import octurn.run.Run;
import octurn.signal.WaveRecorder;
import octurn.signal.Waveform;
import octurn.trace.Kind;
import octurn.trace.Sink;
import org.jspecify.annotations.Nullable;

/** A run that is over, and all that can be asked about it. */
public final class Measured {

    /** How far a run goes before it is asked again whether to stop. */
    private static final long STRIDE = 100_000;

    /** The same for one whose events are told, which is slower. */
    private static final long STRIDE_WITH_EVENTS = 5_000;

    private final Run run;
    private final Scenario scenario;
    private final BooleanSupplier stop;
    private final RunReport report;
    private final Places places;
    private final Map<Moment, Long> moments = new HashMap<>();
    private @Nullable WaveRecorder waves;

    /**
     * Something that a core does again and again.
     *
     * @param kind REQUEST, ADMIT, BEGIN or FINISH; of the first two those of data accesses
     * @param line of the program at which the core does it, or 0 for any
     * @param times which of them, from 1
     */
    record Moment(Kind kind, int core, int line, long times) {}

    private Measured(Run run, Scenario scenario, BooleanSupplier stop) {
        this.run = run;
        this.scenario = scenario;
        this.stop = stop;
        this.report = RunReports.of(run);
        this.places = new Places(run.program());
    }

    /**
     * Runs a program to its end, as fast as it goes.
     *
     * @param limit the cycle at which the run ends at the latest, 1..2^53-1
     * @param stop asked now and then whether to give up
     * @throws CancellationException if it was asked to
     */
    public static Measured run(Program program, Scenario scenario, long limit, BooleanSupplier stop) {
        Run run = Run.of(program, scenario, limit);
        finish(run, stop);
        return new Measured(run, scenario, stop);
    }

    private static void finish(Run run, BooleanSupplier stop) {
        go(run, run.limit(), STRIDE, stop, () -> false);
    }

    private static void go(Run run, long to, long stride, BooleanSupplier stop, BooleanSupplier enough) {
        while (!run.isOver() && run.chip().cycle() < to && !enough.getAsBoolean()) {
            if (stop.getAsBoolean()) {
                throw new CancellationException();
            }
            run.runTo(Math.min(to, run.chip().cycle() + stride));
        }
    }

    /**
     * Runs the same once more, with somebody who is told all that happens.
     *
     * @param enough asked now and then whether the rest is of no interest
     * @return the second run, over or not
     * @throws CancellationException if it was asked to stop
     */
    public Run again(Sink sink, BooleanSupplier enough) {
        Run second = Run.of(program(), scenario, limit(), sink);
        go(second, limit(), STRIDE_WITH_EVENTS, stop, enough);
        return second;
    }

    /**
     * Runs the same once more, to the beginning of this cycle, or to the end of the run if that comes first.
     *
     * @throws CancellationException if it was asked to stop
     */
    public Run againTo(long cycle) {
        Run second = Run.of(program(), scenario, limit());
        go(second, Math.min(cycle, limit()), STRIDE, stop, () -> false);
        return second;
    }

    /** What ran. */
    public Program program() {
        return run.program();
    }

    /** What it ran on. */
    public Design design() {
        return run.program().design();
    }

    /** What the world did meanwhile. */
    public Scenario scenario() {
        return scenario;
    }

    /** The cycle at which the run was to end at the latest. */
    public long limit() {
        return run.limit();
    }

    /** The report of the run. */
    public RunReport report() {
        return report;
    }

    /** The chip at the end. */
    public Chip chip() {
        return run.chip();
    }

    /** What the program's text calls its places. */
    public Places places() {
        return places;
    }

    /**
     * What a pin did.
     *
     * @param pin one of the design's
     */
    public Waveform waveform(int pin) {
        WaveRecorder known = waves;
        if (known == null) {
            known = WaveRecorder.of(design(), scenario);
            again(known, known::isFull);
            waves = known;
        }
        return known.waveform(pin, report.cycles());
    }

    /** Slots in a rotation times their cycles; under other policies the slots of all cores. */
    long rotationCycles() {
        Design design = design();
        int slots = design.admission() instanceof Admission.Rotation rotation
                ? rotation.order().size()
                : design.cores();
        return (long) slots * design.slotCycles();
    }

    /** The address of a label in a core's private RAM, or with core -1 in shared memory; null if there is none. */
    @Nullable
    Integer address(String label, int core) {
        return core < 0
                ? places.sharedAddresses().get(label)
                : places.privateAddresses(core).get(label);
    }

    /** Whether any section of the program has this label. */
    boolean hasLabel(String label) {
        return program().blocks().stream()
                .anyMatch(block ->
                        block.labels().containsKey(label) || block.name().equals(label));
    }

    /** The lines of the words that lie so far behind this label, in every section, or in those of one core alone. */
    List<Integer> lines(String label, long offset, int core) {
        return program().blocks().stream()
                .filter(block -> core < 0 || !isOfOthers(block, core))
                .flatMapToInt(block -> line(block, block.labels().get(label), offset))
                .distinct()
                .boxed()
                .toList();
    }

    private static boolean isOfOthers(Block block, int core) {
        return block.kind() == Block.Kind.CORE && !block.cores().contains(core);
    }

    private static IntStream line(Block block, @Nullable Integer label, long offset) {
        if (label == null) {
            return IntStream.empty();
        }
        long address = label + offset;
        // The first word of an image is its count; its labels are addresses in the private RAM it is loaded to.
        long index = block.kind() == Block.Kind.IMAGE ? address + 1 : address - block.address();
        return index >= 0 && index < block.lines().length
                ? IntStream.of(block.lines()[(int) index])
                : IntStream.empty();
    }

    /** The cycle of this moment, or null if it never comes. */
    @Nullable
    Long cycle(Moment moment) {
        Long known = moments.get(moment);
        if (known == null) {
            Search search = new Search(moment);
            again(search, () -> search.found >= 0);
            known = search.found;
            moments.put(moment, known);
        }
        return known < 0 ? null : known;
    }

    /** Looks for a moment. */
    private final class Search implements Sink {
        private final Moment moment;
        private int line;
        private boolean accessing;
        private long left;
        private long found = -1;

        Search(Moment moment) {
            this.moment = moment;
            this.left = moment.times();
        }

        @Override
        public void event(Kind kind, long cycle, int core, long a, long b) {
            if (core != moment.core() || found >= 0) {
                return;
            }
            if (kind == Kind.BEGIN) {
                line = moment.line() == 0 ? 0 : lineOf(core, a);
            }
            if (kind == Kind.REQUEST) {
                accessing = a == State.WAIT.ordinal();
            }
            boolean counts = kind == Kind.BEGIN || kind == Kind.FINISH || accessing;
            if (kind == moment.kind() && counts && line == moment.line() && --left == 0) {
                found = cycle;
            }
        }

        private int lineOf(int core, long place) {
            // At the end of the run a core's origins are what they were, unless it was loaded anew.
            return places.line(chip().core(core), Kind.inShared(place), Kind.address(place));
        }
    }
}
