package octurn.report;

import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeSet;
import java.util.stream.Collectors;
import octurn.isa.Instruction;
import octurn.isa.Op;
import octurn.isa.Timing;
import octurn.machine.State;
import octurn.report.RunReport.CoreReport;
import octurn.report.RunReport.HotSpot;

/**
 * Accesses that came to nothing: a core read or swapped a shared word, did not like it, and tried again.
 *
 * <p>A poll is recognised by its shape in memory at the end of the run: an access, then at most {@value #LONGEST}
 * instructions up to a {@code jump .. if} that goes back to the access or shortly before it, and no other access or
 * jump between. How often the loop was left is told by what follows it: the next access of the same straight piece of
 * code has been made so often. Where the code that follows does not tell, the poll is left out, so the figure is never
 * too high.
 *
 * @param lostCycles cycles that the tries without success spent waiting for and holding the memory
 * @param accesses all accesses of these polls
 * @param tries those of them that came to nothing
 * @param lines the program's lines that they stand on, ascending; empty if there are none
 */
record Polling(long lostCycles, long accesses, long tries, List<Integer> lines) {

    private static final int LONGEST = 4;
    private static final int FARTHEST = 16;

    /** The polls of these cores. */
    static Polling of(RunReport report, List<CoreReport> cores) {
        Map<Long, Long> counts = new HashMap<>();
        for (HotSpot spot : report.hotSpots()) {
            counts.put(place(spot.core(), spot.inShared(), spot.address()), spot.count());
        }
        Map<Integer, CoreReport> byNumber = cores.stream().collect(Collectors.toMap(CoreReport::core, core -> core));
        long lost = 0;
        long accesses = 0;
        long tries = 0;
        TreeSet<Integer> lines = new TreeSet<>();
        for (HotSpot spot : report.hotSpots()) {
            CoreReport core = byNumber.get(spot.core());
            long left = core == null ? spot.count() : timesLeft(report, core, spot, counts);
            if (left < spot.count()) {
                long vain = spot.count() - left;
                lost += vain * (spot.total() / spot.count() + report.design().slotCycles());
                accesses += spot.count();
                tries += vain;
                lines.add(spot.line());
            }
        }
        lines.remove(0);
        return new Polling(lost, accesses, tries, List.copyOf(lines));
    }

    /** In words, for a sentence. */
    String clause() {
        String where = lines.isEmpty()
                ? ""
                : " in line" + (lines.size() == 1 ? " " : "s ")
                        + lines.stream().map(Object::toString).collect(Collectors.joining(", "));
        return String.format(
                Locale.ROOT,
                "%,d of %,d accesses%s only found that the word had not changed yet",
                tries,
                accesses,
                where);
    }

    private static long place(int core, boolean inShared, int address) {
        return (long) core << 33 | (inShared ? 1L << 32 : 0) | Integer.toUnsignedLong(address);
    }

    /** How often the loop around this access was left; as often as the access was made if it is no poll or unknown. */
    private static long timesLeft(RunReport report, CoreReport core, HotSpot spot, Map<Long, Long> counts) {
        SortedMap<Integer, Integer> memory = spot.inShared() ? report.shared() : core.privateWords();
        int jump = jumpBack(memory, spot.address());
        if (jump < 0) {
            return spot.count();
        }
        for (int address = jump + 1; address <= jump + FARTHEST; address++) {
            Instruction next = Instruction.decode(memory.getOrDefault(address, 0));
            if (next == null) {
                return spot.count();
            }
            if (next.op().isAccess()) {
                long after = counts.getOrDefault(place(spot.core(), spot.inShared(), address), 0L);
                return Math.min(spot.count(), after);
            }
            if (next.op() == Op.HALT) {
                return core.state() == State.IDLE ? 1 : 0;
            }
            if (goesElsewhere(next)) {
                return spot.count();
            }
        }
        return spot.count();
    }

    /** The address of the jump that closes a poll around this access, or -1. */
    private static int jumpBack(SortedMap<Integer, Integer> memory, int access) {
        for (int address = access + 1; address <= access + LONGEST; address++) {
            Instruction next = Instruction.decode(memory.getOrDefault(address, 0));
            if (next == null || next.op().isAccess()) {
                return -1;
            }
            if (next.op() == Op.JUMP_IF) {
                int target = address + next.offset();
                return target <= access && target >= access - LONGEST && isStraight(memory, target, access)
                        ? address
                        : -1;
            }
            if (goesElsewhere(next)) {
                return -1;
            }
        }
        return -1;
    }

    private static boolean isStraight(SortedMap<Integer, Integer> memory, int from, int to) {
        for (int address = from; address < to; address++) {
            Instruction next = Instruction.decode(memory.getOrDefault(address, 0));
            if (next == null || next.op().isAccess() || goesElsewhere(next)) {
                return false;
            }
        }
        return true;
    }

    private static boolean goesElsewhere(Instruction instruction) {
        Timing timing = instruction.op().timing();
        return timing == Timing.TAKEN || timing == Timing.TAKEN_OR_PLAIN || instruction.op() == Op.HALT;
    }
}
