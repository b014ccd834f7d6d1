package octurn.machine;

/**
 * Where the cores are whose accesses the schedule keeps, and what the arbiter remembers, when one of them is about to go
 * on: all that says when everything happens from then on, as long as nothing but such accesses is due and each core goes
 * the same way through its code.
 *
 * @param current the core that goes on, at the instruction of its {@code pcs}
 * @param time the cycle at which it does
 * @param asked cores on the agenda, bit i for core i
 * @param waiting cores whose requests are up, under the policies that choose
 * @param others cores that wait for something else than such accesses
 * @param pcs by core, for all of these
 * @param cycles by core: of those asked, what {@link Accesses#ask} answered; of those waiting, when their requests were
 *     raised
 * @param memoryFree when the memory is free, under the policies that choose; else the time
 * @param lastAdmitted what the arbiter remembers
 * @param busyTo up to where the memory was held, under own-port; else the time
 */
record Moment(
        int current,
        long time,
        int asked,
        int waiting,
        int others,
        int[] pcs,
        long[] cycles,
        long memoryFree,
        int lastAdmitted,
        long busyTo) {

    /**
     * Whether the same happens from a later moment on as from this one, only later.
     *
     * @param rotation after how many cycles the same turns come again
     * @param starved cores that only must be waiting in both, whatever for how long
     */
    boolean isLike(Moment later, int rotation, int starved) {
        long shift = later.time - time;
        if (current != later.current
                || pcs[current] != later.pcs[current]
                || asked != later.asked
                || waiting != later.waiting
                || others != later.others
                || shift % rotation != 0
                || memoryFree + shift != later.memoryFree
                || lastAdmitted != later.lastAdmitted
                || busyTo + shift != later.busyTo
                || (waiting & starved) != starved) {
            return false;
        }
        for (int rest = asked | waiting; rest != 0; rest &= rest - 1) {
            int core = Integer.numberOfTrailingZeros(rest);
            boolean same = cycles[core] + shift == later.cycles[core] || (starved >>> core & 1) != 0;
            if (!same || pcs[core] != later.pcs[core]) {
                return false;
            }
        }
        return true;
    }

    /** The cores that wait in both, with the same requests: nobody admitted them in between. */
    int waitingUntil(Moment later) {
        int starved = 0;
        for (int rest = waiting & later.waiting; rest != 0; rest &= rest - 1) {
            int core = Integer.numberOfTrailingZeros(rest);
            if (cycles[core] == later.cycles[core]) {
                starved |= 1 << core;
            }
        }
        return starved;
    }
}
