package octurn.measure;

import java.util.Optional;

/**
 * The passes of one loop of one core: the times from one start of its first instruction to the next one by way of its
 * jump back.
 *
 * @param core whose
 * @param inShared whether the loop lies in shared memory
 * @param head the address of its first instruction, to which it jumps back
 * @param tail the address of its last jump back
 * @param headLine the line of the program file of the first instruction
 * @param tailLine the line of the last jump back
 * @param entries how often the core came into it
 * @param trips how often its first instruction was started
 * @param cycles of the passes
 * @param waits cycles of the passes in which the core's request was up and not admitted
 * @param steady the pattern that the passes settled into; empty if they did not, or were too few to tell
 */
public record LoopPasses(
        int core,
        boolean inShared,
        int head,
        int tail,
        int headLine,
        int tailLine,
        long entries,
        long trips,
        Spread cycles,
        Spread waits,
        Optional<Steady> steady) {

    /**
     * A pattern that repeats: from one pass on to the last one, each takes as long as the one a period before it. It was
     * seen at least three times over, and for at least half of all passes.
     *
     * @param fromPass the first pass of it, from 1
     * @param fromCycle the cycle at which that pass began
     * @param periodPasses after how many passes it repeats
     * @param periodCycles the cycles that those take together
     */
    public record Steady(long fromPass, long fromCycle, int periodPasses, long periodCycles) {}
}
