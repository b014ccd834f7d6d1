package octurn.machine;

import java.util.Comparator;
import octurn.trace.Kind;

/**
 * The admitted data accesses of one instruction of one core.
 *
 * @param inShared whether the instruction lies in shared memory
 * @param address of the instruction
 * @param origin for private code, where its word came from when it first made an access: see {@link Core#origin}
 * @param count accesses admitted
 * @param total sum of their waits in cycles
 * @param min shortest wait
 * @param max longest wait
 */
public record AccessSite(
        int core, boolean inShared, int address, int origin, long count, long total, long min, long max) {

    static final Comparator<AccessSite> ORDER =
            Comparator.comparingLong(site -> Kind.place(site.address(), site.inShared()));
}
