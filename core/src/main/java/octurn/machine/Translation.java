package octurn.machine;

import java.util.Arrays;
import java.util.SortedSet;

/** Private code in Java bytecode, with the words that it was made from. */
final class Translation {

    /** The code itself. */
    interface Code {
        /**
         * Runs from the core's program counter, which is one of the entries, as long as it can and no instruction would
         * end after the horizon. Leaves program counter, registers, RAM and count of instructions as they are then.
         *
         * @param covered by private address whether a translation was made from the word there: no store goes to it
         * @return the cycle at which the next instruction starts
         */
        long run(Core core, long time, long horizon, boolean[] covered);
    }

    private final Code code;
    private final int first;
    private final int[] words;
    private final int[] entries;

    Translation(Code code, int[] ram, int first, int end, SortedSet<Integer> entries) {
        this.code = code;
        this.first = first;
        this.words = Arrays.copyOfRange(ram, first, end);
        this.entries = entries.stream().mapToInt(Integer::intValue).toArray();
    }

    /** Runs the code, as {@link Code#run} says. */
    long run(Core core, long time, long horizon, boolean[] covered) {
        return code.run(core, time, horizon, covered);
    }

    /** The addresses at which it can be entered, ascending. */
    int[] entries() {
        return entries;
    }

    /** Whether the word at this address is one of those that it was made from, or lies between them. */
    boolean covers(int address) {
        int i = address - first;
        return i >= 0 && i < words.length;
    }

    /** Notes the addresses that it covers. */
    void note(boolean[] covered) {
        Arrays.fill(covered, first, first + words.length, true);
    }

    /** Whether these words are still what it was made from. */
    boolean holdsFor(int[] ram) {
        return Arrays.equals(ram, first, first + words.length, words, 0, words.length);
    }
}
