package octurn.machine;

import java.util.Arrays;
import java.util.SortedSet;

/** Words of one private RAM that something was made from, and that it is right for as long as they stand there. */
final class CodeWords {

    private final int[] addresses;
    private final int[] words;

    /** The words that stand at these addresses now. */
    CodeWords(int[] ram, SortedSet<Integer> addresses) {
        this.addresses = addresses.stream().mapToInt(Integer::intValue).toArray();
        this.words = addresses.stream().mapToInt(address -> ram[address]).toArray();
    }

    /** Whether the word at this address is one of them. */
    boolean covers(int address) {
        return Arrays.binarySearch(addresses, address) >= 0;
    }

    /** Notes their addresses. */
    void note(boolean[] covered) {
        for (int address : addresses) {
            covered[address] = true;
        }
    }

    /** Whether they still stand there. */
    boolean holdsFor(int[] ram) {
        for (int i = 0; i < addresses.length; i++) {
            if (ram[addresses[i]] != words[i]) {
                return false;
            }
        }
        return true;
    }
}
