package octurn.measure;

import java.util.SortedMap;
import org.jspecify.annotations.Nullable;

/**
 * The waits of one access instruction of one core.
 *
 * @param core whose
 * @param inShared whether the instruction lies in shared memory
 * @param address of the instruction
 * @param line of the program file that it comes from; 0 where there is none
 * @param waits how long it waited, in cycles
 * @param histogram how many of its accesses waited how many cycles
 * @param turns what the rule of turns says of it, or null where the rule does not hold: under other policies than
 *     {@code rotation}, and for code in shared memory, where each instruction more is a fetch more
 */
public record AccessStalls(
        int core,
        boolean inShared,
        int address,
        int line,
        Spread waits,
        SortedMap<Long, Long> histogram,
        @Nullable TurnRule turns) {}
