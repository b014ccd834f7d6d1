package octurn.excerpt;

import java.util.List;
import java.util.Map;
import java.util.Set;
import octurn.asm.Program;
import octurn.machine.End;
import octurn.machine.State;
import org.jspecify.annotations.Nullable;

/**
 * What happened in the cycles {@code from} .. {@code to}-1 of a run.
 *
 * <p>It is exact or merged. An exact one has a {@link Stretch} for each time that a core was in a state, its
 * instructions, the {@link Level}s of the pins, and the words handed over. A merged one has none of these, but for every
 * {@code cyclesAColumn} cycles the sums.
 *
 * @param program what ran
 * @param from the first cycle
 * @param to the first cycle after the last one; not above the end of the run. No more than {@code from} if the run ended
 *     before anything could be kept
 * @param cyclesAColumn 1 if it is exact; else how many cycles are one column, the last one perhaps fewer
 * @param lanes one for each core, ascending
 * @param waves one for each pin, ascending
 * @param handovers in the order in which the words arrived
 * @param ended why the run ended at {@code to}, or null if it goes on
 */
public record Excerpt(
        Program program,
        long from,
        long to,
        long cyclesAColumn,
        List<Lane> lanes,
        List<Wave> waves,
        List<Handover> handovers,
        @Nullable End ended) {

    public Excerpt {
        lanes = List.copyOf(lanes);
        waves = List.copyOf(waves);
        handovers = List.copyOf(handovers);
    }

    /** How many cycles it has. */
    public long cycles() {
        return Math.max(0, to - from);
    }

    /** Whether stretches of time are kept, and not sums over columns. */
    public boolean isExact() {
        return cyclesAColumn == 1;
    }

    /** How many columns it has. */
    public int columns() {
        return (int) ((cycles() + cyclesAColumn - 1) / cyclesAColumn);
    }

    /** How many cycles a column has: as many as all, or fewer if it is the last. */
    public long cyclesIn(int column) {
        return Math.min(cyclesAColumn, cycles() - column * cyclesAColumn);
    }

    /**
     * What one core did.
     *
     * @param core its number
     * @param cycles in each state, those without a cycle left out; they add up to the cycles of the excerpt
     * @param stretches without a gap, if the excerpt is exact
     * @param deeds its instructions and faults, if the excerpt is exact
     * @param columns the cycles in each state column by column, if it is merged
     */
    public record Lane(
            int core,
            Map<State, Long> cycles,
            List<Stretch> stretches,
            List<Deed> deeds,
            List<Map<State, Long>> columns) {

        public Lane {
            cycles = Map.copyOf(cycles);
            stretches = List.copyOf(stretches);
            deeds = List.copyOf(deeds);
            columns = List.copyOf(columns);
        }

        /** Whether it was idle from the first cycle to the last. */
        public boolean isIdle() {
            return cycles.keySet().equals(Set.of(State.IDLE)) || cycles.isEmpty();
        }
    }

    /**
     * A time that a core was in one state.
     *
     * @param from its first cycle within the excerpt
     * @param to the first cycle after the last one within the excerpt
     * @param since its first cycle, which may lie before the excerpt
     * @param isOver whether it ended at {@code to}; if not, it goes on after the excerpt
     */
    public record Stretch(State state, long from, long to, long since, boolean isOver) {
        /** Cycles within the excerpt. */
        public long cycles() {
            return to - from;
        }
    }

    /**
     * One instruction that a core did, or the fault that ended it.
     *
     * @param from its first cycle within the excerpt
     * @param to the first cycle after the last one within the excerpt
     * @param begins whether {@code from} is where it started
     * @param label the label that stands at it; empty if none does
     * @param text as the program has it, or the kind of fault
     * @param line of the program; 0 if it comes from none
     */
    public record Deed(long from, long to, boolean begins, String label, String text, int line) {
        /** The word that it begins with. */
        public String mnemonic() {
            int blank = text.indexOf(' ');
            return blank < 0 ? text : text.substring(0, blank);
        }
    }

    /**
     * A word that went from the core that wrote it last to another that read it, the first time that this one did.
     *
     * @param address in shared memory
     * @param name what the program calls it; empty if it has no name
     * @param value the word
     * @param from the core that wrote it
     * @param writtenAt the cycle from whose beginning on it was there; the write's slot ended with the cycle before
     * @param to the core that read it
     * @param readAt the cycle from whose beginning on that core had it
     */
    public record Handover(int address, String name, int value, int from, long writtenAt, int to, long readAt) {}

    /**
     * What one pin did.
     *
     * @param pin its number
     * @param edges how often its level changed, a change at the first cycle not counted
     * @param clashes cycles with a clash
     * @param highCycles cycles at which it was high
     * @param levels without a gap, if the excerpt is exact
     * @param columns the sums column by column, if it is merged
     */
    public record Wave(
            int pin, long edges, long clashes, long highCycles, List<Level> levels, List<WaveColumn> columns) {
        public Wave {
            levels = List.copyOf(levels);
            columns = List.copyOf(columns);
        }

        /** Whether anything happened on it. */
        public boolean isBusy() {
            return edges > 0 || clashes > 0;
        }
    }

    /** A time that a pin was high or low, with a clash or without one. */
    public record Level(long from, long to, boolean high, boolean clash) {}

    /** A pin in one column: cycles high, cycles with a clash, changes of the level. */
    public record WaveColumn(long highCycles, long clashes, long edges) {}
}
