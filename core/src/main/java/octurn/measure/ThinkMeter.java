package octurn.measure;

import java.util.ArrayList;
import java.util.List;
import java.util.SortedMap;
import octurn.asm.Program;
import octurn.trace.Kind;
import octurn.trace.Sink;

/** Measures what each core does between its accesses: how long it thinks. */
public final class ThinkMeter implements Sink {

    private static final long NEVER = -1;

    private final int slotCycles;
    private final long limit;
    private final CoreWatch[] cores;

    /**
     * @param limit the cycle at which the run ends at the latest: an admission at that very cycle is counted nowhere
     */
    public ThinkMeter(Program program, long limit) {
        this.slotCycles = program.design().slotCycles();
        this.limit = limit;
        this.cores = new CoreWatch[program.design().cores()];
        for (int i = 0; i < cores.length; i++) {
            cores[i] = new CoreWatch();
        }
    }

    private static final class CoreWatch {
        private final Counts thinks = new Counts();
        private boolean data;
        private long request;
        private long firstRequest = NEVER;
        private long slotEnd = NEVER;
        private long accesses;
        private long waited;
        private boolean otherAccesses;
    }

    @Override
    public void event(Kind kind, long cycle, int core, long a, long b) {
        switch (kind) {
            case REQUEST -> {
                CoreWatch watch = cores[core];
                watch.data = CodeInRam.isData(a);
                watch.request = cycle;
            }
            case ADMIT -> {
                if (cycle < limit) {
                    admitted(cores[core], cycle, a);
                }
            }
            default -> {
                // Nothing about thinking.
            }
        }
    }

    private void admitted(CoreWatch watch, long cycle, long wait) {
        if (!watch.data) {
            watch.otherAccesses = true;
            return;
        }
        if (watch.slotEnd == NEVER) {
            watch.firstRequest = watch.request;
        } else {
            watch.thinks.add(watch.request - watch.slotEnd);
        }
        watch.slotEnd = cycle + slotCycles;
        watch.accesses++;
        watch.waited += wait;
    }

    /** What was measured so far, one entry for each core that was admitted for data, ascending. */
    public List<CoreThinks> thinks() {
        List<CoreThinks> list = new ArrayList<>();
        for (int core = 0; core < cores.length; core++) {
            CoreWatch watch = cores[core];
            if (watch.accesses > 0) {
                SortedMap<Long, Long> thinks = watch.thinks.toMap();
                list.add(new CoreThinks(
                        core,
                        Counts.spread(thinks),
                        thinks,
                        watch.accesses,
                        watch.waited,
                        watch.firstRequest,
                        watch.slotEnd,
                        watch.otherAccesses));
            }
        }
        return list;
    }
}
