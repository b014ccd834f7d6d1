package octurn.machine;

import java.util.Arrays;
import java.util.SortedSet;

/** Private code in Java bytecode, with the words that it was made from. Cores with the same words can share it. */
final class Translation {

    /** The code itself. */
    interface Code {
        /**
         * Runs as long as it can and no instruction would end after the horizon. When the core asks for an access, it goes
         * on with the core that is next on the schedule, if it has the same code. Leaves program counter, registers, RAM
         * and count of instructions of all of them as they are then.
         *
         * @param from one of the {@link #entries}: an instruction that starts at this cycle; or the complement (~) of one
         *     of the {@link #accesses}: an access that the core has asked for and that ends with the cycle before
         * @return the cycle at which the next instruction starts, of the core that it went on with last; or something
         *     below 0 after an access was asked for and {@link Schedule#current} is next, but not for this code
         */
        long run(PrivateWork work, int from, long time, long horizon);
    }

    private final Code code;
    private final CodeWords words;
    private final int[] entries;
    private final int[] accesses;

    /**
     * @param words what it was made from
     * @param entries the instructions at which it can be entered
     * @param accesses those that are accesses
     */
    Translation(Code code, CodeWords words, SortedSet<Integer> entries, SortedSet<Integer> accesses) {
        this.code = code;
        this.words = words;
        this.entries = toArray(entries);
        this.accesses = toArray(accesses);
    }

    private static int[] toArray(SortedSet<Integer> numbers) {
        return numbers.stream().mapToInt(Integer::intValue).toArray();
    }

    Code code() {
        return code;
    }

    /** What it was made from. */
    CodeWords words() {
        return words;
    }

    /** The addresses at which it can be entered, ascending. */
    int[] entries() {
        return entries;
    }

    /** The addresses of the accesses in it, ascending: it can be entered where one of them ends. */
    int[] accesses() {
        return accesses;
    }

    /** Whether it can be entered at this address, or where an access there ends. */
    boolean goesOnFrom(int address) {
        return Arrays.binarySearch(entries, address) >= 0 || Arrays.binarySearch(accesses, address) >= 0;
    }
}
