package octurn.measure;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import octurn.asm.Program;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.trace.Kind;
import octurn.trace.Sink;
import org.jspecify.annotations.Nullable;

/** Measures the waits of every access instruction, core by core. */
public final class StallMeter implements Sink {

    private final CodeInRam code;
    private final int plain;
    private final int slotCycles;
    private final long limit;
    /** By core and place in the order of a slot of its own: slots since the core's slot before; null without rotation. */
    private final int @Nullable [][] slotsSince;

    private final int orderLength;
    private final CoreWatch[] cores;

    /**
     * @param limit the cycle at which the run ends at the latest: an admission at that very cycle is counted nowhere
     */
    public StallMeter(Program program, long limit) {
        Design design = program.design();
        this.code = new CodeInRam(program);
        this.plain = design.cost().plain();
        this.slotCycles = design.slotCycles();
        this.limit = limit;
        this.cores = new CoreWatch[design.cores()];
        for (int i = 0; i < cores.length; i++) {
            cores[i] = new CoreWatch();
        }
        if (design.admission() instanceof Admission.Rotation rotation) {
            slotsSince = slotsSince(rotation.order(), cores.length);
            orderLength = rotation.order().size();
        } else {
            slotsSince = null;
            orderLength = 1;
        }
    }

    private static int[][] slotsSince(List<Integer> order, int cores) {
        int length = order.size();
        int[][] since = new int[cores][length];
        int[] last = new int[cores];
        for (int slot = 0; slot < 2 * length; slot++) {
            int core = order.get(slot % length);
            if (slot >= length) {
                since[core][slot - length] = slot - last[core];
            }
            last[core] = slot;
        }
        return since;
    }

    /** What is known of one core on the way. */
    private static final class CoreWatch {
        private final Map<Long, Site> sites = new HashMap<>();
        /** The instruction under way. */
        private long place;
        /** Whether the request under way is for data. */
        private boolean data;
        /** The cycle of the request under way. */
        private long request;
        /** Where the core was last bound to a time: the end of its slot, or its start. */
        private long bound;
    }

    /** What is known of one access instruction. */
    private static final class Site {
        private final int line;
        private final Counts waits = new Counts();
        private long least = Long.MAX_VALUE;
        private long every;
        private Spread work = Spread.NONE;
        private long winnable;

        private Site(int line) {
            this.line = line;
        }
    }

    @Override
    public void event(Kind kind, long cycle, int core, long a, long b) {
        code.event(kind, cycle, core, a, b);
        switch (kind) {
            case BEGIN -> cores[core].place = a;
            case REQUEST -> {
                cores[core].request = cycle;
                cores[core].data = CodeInRam.isData(a);
            }
            case ADMIT -> {
                if (cycle < limit) {
                    CoreWatch watch = cores[core];
                    if (watch.data) {
                        admitted(watch, core, cycle, a);
                    }
                    watch.bound = cycle + slotCycles;
                }
            }
            case START -> cores[core].bound = cycle;
            default -> {
                // Nothing about waits.
            }
        }
    }

    private void admitted(CoreWatch watch, int core, long cycle, long wait) {
        Site site = watch.sites.get(watch.place);
        if (site == null) {
            site = new Site(code.line(core, watch.place));
            watch.sites.put(watch.place, site);
        }
        site.waits.add(wait);
        long work = watch.request - plain - watch.bound;
        site.work = site.work.with(work);
        int[][] since = slotsSince;
        if (since != null) {
            long gap = (long) since[core][(int) (cycle / slotCycles % orderLength)] * slotCycles;
            if (cycle >= gap) {
                long toWin = gap - wait;
                site.least = Math.min(site.least, toWin);
                site.every = Math.max(site.every, toWin);
                site.winnable += toWin <= work ? 1 : 0;
            }
        }
    }

    /** What was measured so far, by core, private before shared, then by address. */
    public List<AccessStalls> stalls() {
        List<AccessStalls> list = new ArrayList<>();
        for (int core = 0; core < cores.length; core++) {
            for (Map.Entry<Long, Site> entry : cores[core].sites.entrySet()) {
                list.add(stalls(core, entry.getKey(), entry.getValue()));
            }
        }
        list.sort(Comparator.comparingInt(AccessStalls::core)
                .thenComparingLong(stalls -> Kind.place(stalls.address(), stalls.inShared())));
        return list;
    }

    private AccessStalls stalls(int core, long place, Site site) {
        SortedMap<Long, Long> histogram = site.waits.toMap();
        Spread waits = Counts.spread(histogram);
        boolean inShared = Kind.inShared(place);
        TurnRule turns = slotsSince == null || inShared
                ? null
                : new TurnRule(waits.min(), site.every == 0 ? 0 : site.least, site.every, site.work, site.winnable);
        return new AccessStalls(core, inShared, Kind.address(place), site.line, waits, histogram, turns);
    }
}
