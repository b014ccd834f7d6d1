package octurn.measure;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.SortedSet;
import java.util.TreeSet;
import octurn.asm.Block;
import octurn.asm.Program;
import octurn.measure.RegionPasses.Pass;
import octurn.trace.Kind;
import octurn.trace.Sink;
import org.jspecify.annotations.Nullable;

/**
 * Measures how long cores take from one label to another. A label in a {@code core} or {@code image} section counts for
 * the cores that run that section; one in {@code shared} for all.
 */
public final class RegionMeter implements Sink {

    private static final long NOWHERE = -1;

    private final Program program;
    private final String from;
    private final String to;
    private final OptionalLong within;
    private final CodeInRam code;
    private final CoreWatch[] cores;

    /**
     * @param from the label at which a pass begins
     * @param to the label at which it ends; it may be the same
     * @param within how many cycles a pass may take, if there is a deadline
     * @throws IllegalArgumentException if the program has no such label; see {@link #labels}
     */
    public RegionMeter(Program program, String from, String to, OptionalLong within) {
        SortedSet<String> labels = labels(program);
        for (String label : List.of(from, to)) {
            if (!labels.contains(label)) {
                throw new IllegalArgumentException("there is no label " + label);
            }
        }
        this.program = program;
        this.from = from;
        this.to = to;
        this.within = within;
        this.code = new CodeInRam(program);
        this.cores = new CoreWatch[program.design().cores()];
        for (int i = 0; i < cores.length; i++) {
            cores[i] = new CoreWatch();
            find(i);
        }
    }

    /** All labels of a program. */
    public static SortedSet<String> labels(Program program) {
        SortedSet<String> labels = new TreeSet<>();
        program.blocks().forEach(block -> labels.addAll(block.labels().keySet()));
        return labels;
    }

    private static final class CoreWatch {
        private long from = NOWHERE;
        private long to = NOWHERE;
        /** When the code of the instruction to come was asked for, if it lies in shared memory. */
        private long asked;
        /** Cycles waited up to then. */
        private long waitedWhenAsked;
        /** Cycles waited so far. */
        private long waited;
        /** When the pass under way began, or NOWHERE. */
        private long since = NOWHERE;

        private long waitedBefore;
        private Spread cycles = Spread.NONE;
        private Spread waits = Spread.NONE;
        private long again;
        private @Nullable Pass worst;
        private @Nullable Pass firstMiss;
        private long misses;
    }

    /** Looks up where the labels are for this core with the code that it has now. */
    private void find(int core) {
        cores[core].from = place(core, from);
        cores[core].to = place(core, to);
    }

    private long place(int core, String label) {
        Block own = code.block(core);
        if (own != null && own.labels().containsKey(label)) {
            return Kind.place(own.labels().get(label), false);
        }
        for (Block block : program.blocks()) {
            if (block.kind() == Block.Kind.SHARED && block.labels().containsKey(label)) {
                return Kind.place(block.labels().get(label), true);
            }
        }
        return NOWHERE;
    }

    @Override
    public void event(Kind kind, long cycle, int core, long a, long b) {
        code.event(kind, cycle, core, a, b);
        switch (kind) {
            case REQUEST -> {
                cores[core].asked = cycle;
                cores[core].waitedWhenAsked = cores[core].waited;
            }
            case ADMIT -> cores[core].waited += a;
            case BEGIN -> begin(cores[core], a, cycle);
            case START -> find(core);
            default -> {
                // Nothing about labels.
            }
        }
    }

    /** The core comes to code in shared memory when it asks for it, not when it has it. */
    private void begin(CoreWatch watch, long place, long cycle) {
        if (Kind.inShared(place)) {
            arrive(watch, place, watch.asked, watch.waitedWhenAsked);
        } else {
            arrive(watch, place, cycle, watch.waited);
        }
    }

    private void arrive(CoreWatch watch, long place, long cycle, long waited) {
        if (place == watch.to && watch.since != NOWHERE) {
            end(watch, cycle, waited);
        }
        if (place == watch.from) {
            if (watch.since == NOWHERE) {
                watch.since = cycle;
                watch.waitedBefore = waited;
            } else {
                watch.again++;
            }
        }
    }

    private void end(CoreWatch watch, long cycle, long waited) {
        Pass pass = new Pass(watch.cycles.count() + 1, watch.since, cycle - watch.since);
        watch.cycles = watch.cycles.with(pass.cycles());
        watch.waits = watch.waits.with(waited - watch.waitedBefore);
        Pass worst = watch.worst;
        watch.worst = worst == null || pass.cycles() > worst.cycles() ? pass : worst;
        if (isMiss(pass)) {
            watch.misses++;
            watch.firstMiss = watch.firstMiss == null ? pass : watch.firstMiss;
        }
        watch.since = NOWHERE;
    }

    private boolean isMiss(Pass pass) {
        return within.isPresent() && pass.cycles() > within.getAsLong();
    }

    /**
     * What was measured in a run that ended at this cycle: one entry for each core that came to the first label,
     * ascending.
     */
    public List<RegionPasses> regions(long endCycle) {
        List<RegionPasses> list = new ArrayList<>();
        for (int core = 0; core < cores.length; core++) {
            CoreWatch watch = cores[core];
            if (watch.cycles.count() > 0 || watch.since != NOWHERE) {
                list.add(passes(core, watch, endCycle));
            }
        }
        return list;
    }

    private RegionPasses passes(int core, CoreWatch watch, long endCycle) {
        Pass open =
                watch.since == NOWHERE ? null : new Pass(watch.cycles.count() + 1, watch.since, endCycle - watch.since);
        boolean late = open != null && isMiss(open);
        Pass firstMiss = watch.firstMiss == null && late ? open : watch.firstMiss;
        return new RegionPasses(
                core,
                watch.cycles,
                watch.waits,
                watch.again,
                Optional.ofNullable(watch.worst),
                Optional.ofNullable(open),
                watch.misses + (late ? 1 : 0),
                Optional.ofNullable(firstMiss));
    }
}
