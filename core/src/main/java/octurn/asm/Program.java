package octurn.asm;

import java.util.List;
import java.util.Map;
import octurn.design.Design;
import org.jspecify.annotations.Nullable;

/**
 * An assembled program: what to put where before cycle 0, and which line of the text each word comes from.
 *
 * @param name the file's name, without its folder
 * @param design what it was assembled for
 * @param source the text's lines, without their ends
 * @param blocks its sections in the order of the file; sections without a word are among them
 * @param constants the constants that the text defines, in the order of the file
 */
public record Program(
        String name, Design design, List<String> source, List<Block> blocks, Map<String, Long> constants) {

    public Program {
        source = List.copyOf(source);
        blocks = List.copyOf(blocks);
    }

    /** The section of this core, or null if it has none and is idle at cycle 0. */
    public @Nullable Block core(int core) {
        for (Block block : blocks) {
            if (block.kind() == Block.Kind.CORE && block.cores().contains(core)) {
                return block;
            }
        }
        return null;
    }

    /** The section or image that this shared word belongs to, or null if the file put nothing there. */
    public @Nullable Block shared(int address) {
        for (Block block : blocks) {
            int offset = address - block.address();
            if (block.kind() != Block.Kind.CORE && offset >= 0 && offset < block.words().length) {
                return block;
            }
        }
        return null;
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
