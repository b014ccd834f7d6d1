package octurn.compare;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.zip.CRC32;
import octurn.asm.Block;
import octurn.asm.Program;
import octurn.report.Places;
import octurn.report.RunReport;
import octurn.report.RunReport.CoreReport;

/**
 * What a run left behind in the memories: the result of the program. Words that are still what the program put there at
 * first are left out, so that code which was assembled for another design is no difference; registers are no result.
 */
public final class Outcome {

    /** The memory of a word: a core's number, or this. */
    public static final int SHARED = -1;

    private final Program program;
    private final SortedMap<Integer, Integer> shared;
    private final List<SortedMap<Integer, Integer>> privates = new ArrayList<>();

    /** The outcome of a run of this program. */
    public Outcome(Program program, RunReport report) {
        this.program = program;
        this.shared = changed(report.shared(), sharedImage(program));
        List<Map<Integer, Integer>> images = imagesInRam(program);
        for (CoreReport core : report.cores()) {
            Block own = program.core(core.core());
            Map<Integer, Integer> first = own == null ? Map.of() : words(own, 0);
            SortedMap<Integer, Integer> left = changed(core.privateWords(), first);
            // A core that was started on an image has its words instead.
            for (Map<Integer, Integer> image : images) {
                left.entrySet().removeIf(word -> word.getValue().equals(image.get(word.getKey())));
            }
            privates.add(left);
        }
    }

    private static Map<Integer, Integer> sharedImage(Program program) {
        Map<Integer, Integer> first = new HashMap<>();
        for (Block block : program.blocks()) {
            if (block.kind() != Block.Kind.CORE) {
                first.putAll(words(block, block.address()));
            }
        }
        return first;
    }

    private static List<Map<Integer, Integer>> imagesInRam(Program program) {
        return program.blocks().stream()
                .filter(block -> block.kind() == Block.Kind.IMAGE)
                .map(block -> words(block, -1))
                .toList();
    }

    private static Map<Integer, Integer> words(Block block, int firstAddress) {
        Map<Integer, Integer> words = new HashMap<>();
        for (int i = 0; i < block.words().length; i++) {
            words.put(firstAddress + i, block.words()[i]);
        }
        return words;
    }

    /** The words that are not what they were at first, also those that became 0. */
    private static SortedMap<Integer, Integer> changed(
            SortedMap<Integer, Integer> notZero, Map<Integer, Integer> first) {
        SortedMap<Integer, Integer> changed = new TreeMap<>(notZero);
        first.forEach((address, word) -> {
            if (notZero.getOrDefault(address, 0).equals(word)) {
                changed.remove(address);
            } else {
                changed.putIfAbsent(address, 0);
            }
        });
        return changed;
    }

    /**
     * A word in which two outcomes differ; null stands for one that is unchanged.
     *
     * @param memory the core whose private RAM it is in, or {@link Outcome#SHARED}
     * @param address of the word
     * @param name what the program calls it; empty where it has no name
     * @param here what this outcome has
     * @param there what the other one has
     */
    public record Difference(int memory, int address, String name, long here, long there) {}

    /** What {@link Difference} has for a word that the run left as it was. */
    public static final long UNCHANGED = Long.MIN_VALUE;

    /** The words in which the other outcome differs, those of shared memory first; of cores that both have. */
    public List<Difference> differences(Outcome other) {
        List<Difference> differences = new ArrayList<>();
        Places places = new Places(program);
        for (int address : differing(shared, other.shared)) {
            differences.add(difference(SHARED, address, places.sharedName(address), shared, other.shared));
        }
        for (int core = 0; core < Math.min(privates.size(), other.privates.size()); core++) {
            SortedMap<Integer, Integer> mine = privates.get(core);
            SortedMap<Integer, Integer> theirs = other.privates.get(core);
            for (int address : differing(mine, theirs)) {
                Map.Entry<Integer, String> label = places.privateLabels(core).floorEntry(address);
                String name = label == null
                        ? ""
                        : label.getKey() == address
                                ? label.getValue()
                                : label.getValue() + "+" + (address - label.getKey());
                differences.add(difference(core, address, name, mine, theirs));
            }
        }
        return differences;
    }

    private static Difference difference(
            int memory, int address, String name, SortedMap<Integer, Integer> here, SortedMap<Integer, Integer> there) {
        return new Difference(memory, address, name, value(here, address), value(there, address));
    }

    private static long value(SortedMap<Integer, Integer> words, int address) {
        Integer word = words.get(address);
        return word == null ? UNCHANGED : word;
    }

    private static SortedSet<Integer> differing(SortedMap<Integer, Integer> one, SortedMap<Integer, Integer> other) {
        SortedSet<Integer> addresses = new TreeSet<>(one.keySet());
        addresses.addAll(other.keySet());
        addresses.removeIf(address -> value(one, address) == value(other, address));
        return addresses;
    }

    /** A check sum of the words of shared memory (CRC-32): equal for equal results, nearly always unequal otherwise. */
    public long sharedChecksum() {
        CRC32 crc = new CRC32();
        shared.forEach((address, word) -> {
            for (int shift = 0; shift < Integer.SIZE; shift += Byte.SIZE) {
                crc.update(address >>> shift & 0xFF);
            }
            for (int shift = 0; shift < Integer.SIZE; shift += Byte.SIZE) {
                crc.update(word >>> shift & 0xFF);
            }
        });
        return crc.getValue();
    }
}
