package octurn.asm;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import octurn.design.Design;
import org.jspecify.annotations.Nullable;

/** An assembled program: what to put where before cycle 0, and which line of the text each word comes from. */
public final class Program {
    private final String name;
    private final Design design;
    private final List<String> source;
    private final List<Block> blocks;
    private final Map<String, Long> constants;

    /** The section of each core. */
    private final @Nullable Block[] byCore;
    /** The blocks in shared memory that have a word, by address. */
    private final List<Block> byAddress = new ArrayList<>();
    /** Their addresses. */
    private final int[] addresses;

    /**
     * Puts a program together.
     *
     * @param name the file's name, without its folder
     * @param design what it was assembled for
     * @param source the text's lines, without their ends
     * @param blocks its sections in the order of the file; sections without a word are among them
     * @param constants the constants that the text defines, in the order of the file
     */
    public Program(String name, Design design, List<String> source, List<Block> blocks, Map<String, Long> constants) {
        this.name = name;
        this.design = design;
        this.source = List.copyOf(source);
        this.blocks = List.copyOf(blocks);
        this.constants = Collections.unmodifiableMap(new LinkedHashMap<>(constants));
        this.byCore = new Block[design.cores()];
        for (Block block : blocks) {
            block.cores().forEach(core -> byCore[core] = block);
            if (block.kind() != Block.Kind.CORE && block.words().length > 0) {
                byAddress.add(block);
            }
        }
        byAddress.sort(Comparator.comparingInt(Block::address));
        this.addresses = byAddress.stream().mapToInt(Block::address).toArray();
    }

    /** The file's name, without its folder. */
    public String name() {
        return name;
    }

    /** What it was assembled for. */
    public Design design() {
        return design;
    }

    /** The text's lines, without their ends. */
    public List<String> source() {
        return source;
    }

    /** The sections in the order of the file; sections without a word are among them. */
    public List<Block> blocks() {
        return blocks;
    }

    /** The constants that the text defines, in the order of the file, with their values. */
    public Map<String, Long> constants() {
        return constants;
    }

    /** The section of this core, or null if it has none and is idle at cycle 0. */
    public @Nullable Block core(int core) {
        return core >= 0 && core < byCore.length ? byCore[core] : null;
    }

    /** The section or image that this shared word belongs to, or null if the file put nothing there. */
    public @Nullable Block shared(int address) {
        int found = Arrays.binarySearch(addresses, address);
        int index = found >= 0 ? found : -found - 2;
        if (index < 0) {
            return null;
        }
        Block block = byAddress.get(index);
        return address - block.address() < block.words().length ? block : null;
    }

    /** The line that this word of a core's section comes from, or 0 if the file put nothing there. */
    public int privateLine(int core, int address) {
        Block block = core(core);
        return block != null && address >= 0 && address < block.lines().length ? block.lines()[address] : 0;
    }

    /** The line that this shared word comes from, or 0 if the file put nothing there. */
    public int sharedLine(int address) {
        Block block = shared(address);
        return block == null ? 0 : block.lines()[address - block.address()];
    }

    /** The text of a line, from 1; empty where there is none. */
    public String sourceLine(int line) {
        return line >= 1 && line <= source.size() ? source.get(line - 1) : "";
    }
}
