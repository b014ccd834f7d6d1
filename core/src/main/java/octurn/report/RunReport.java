package octurn.report;

import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import octurn.design.Design;
import octurn.machine.End;
import octurn.machine.State;
import org.jspecify.annotations.Nullable;

/**
 * The report of one run, as {@code octurn run --json} writes it; {@code docs/report.md} says the same for users.
 *
 * @param program the file's name without its folder
 * @param design every field
 * @param cycles cycles 0 .. cycles-1 were simulated
 * @param ended why the run ended
 * @param cores one for each core, ascending
 * @param hotSpots one for each instruction that made an admitted data access, sorted by core, private before shared,
 *     address
 * @param busyCycles cycles in which at least one access held the memory
 * @param clashCycles cycles in which any pin had a clash
 * @param shared the shared words that are not 0 at the end, by address
 */
public record RunReport(
        String program,
        Design design,
        long cycles,
        End ended,
        List<CoreReport> cores,
        List<HotSpot> hotSpots,
        long busyCycles,
        long clashCycles,
        SortedMap<Integer, Integer> shared) {

    /**
     * What one core did.
     *
     * @param core its number
     * @param state what it is doing, or would do in cycle {@code cycles}
     * @param pc the instruction that it is doing or about to do, halted at, was stopped in or faulted at; unsigned
     * @param pcInShared which memory the pc is in
     * @param registers r0..r15
     * @param instructions those that finished
     * @param states cycles in each state; they add up to the run's cycles
     * @param accesses data accesses admitted
     * @param waits of those accesses
     * @param turnsOffered slots of this core that began; -1 under other policies than rotation
     * @param turnsUsed those of them in which it was admitted; -1 likewise
     * @param clashes cycles in which a pin that this core drives had a clash
     * @param fault what ended it, or null
     * @param privateWords the private words that are not 0 at the end, by address
     */
    public record CoreReport(
            int core,
            State state,
            int pc,
            boolean pcInShared,
            List<Integer> registers,
            long instructions,
            Map<State, Long> states,
            long accesses,
            Waits waits,
            long turnsOffered,
            long turnsUsed,
            long clashes,
            @Nullable FaultReport fault,
            SortedMap<Integer, Integer> privateWords) {}

    /**
     * Waits of admitted accesses, in cycles from request to admission.
     *
     * @param total their sum
     * @param min the shortest; -1 with none
     * @param max the longest; -1 with none
     * @param histogram how many accesses waited so long, by wait, ascending
     */
    public record Waits(long total, long min, long max, SortedMap<Long, Long> histogram) {}

    /**
     * One instruction that made data accesses.
     *
     * @param inShared whether the instruction lies in shared memory
     * @param address of the instruction, unsigned
     * @param line of the program file; 0 where the word does not come from the file
     * @param count accesses admitted
     * @param total sum of their waits in cycles
     * @param min shortest wait
     * @param max longest wait
     */
    public record HotSpot(
            int core, boolean inShared, int address, int line, long count, long total, long min, long max) {}

    /**
     * What ended a core.
     *
     * @param kind as in the table of faults
     * @param cycle the first cycle in state fault
     * @param address of the instruction, unsigned; for off-the-end the target
     * @param inShared which memory the address is in
     * @param line of the program file; 0 where there is none
     * @param message one sentence for people
     */
    public record FaultReport(
            octurn.machine.Fault.Kind kind, long cycle, int address, boolean inShared, int line, String message) {}
}
