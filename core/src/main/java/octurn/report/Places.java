package octurn.report;

import java.util.Collections;
import java.util.Map;
import java.util.NavigableMap;
import java.util.Objects;
import java.util.TreeMap;
import octurn.asm.Block;
import octurn.asm.Program;
import octurn.isa.Disassembler;
import octurn.machine.Core;
import org.jspecify.annotations.Nullable;

/** What a program's text calls the places of its memories: lines, labels, instructions. */
public final class Places {

    private final Program program;
    /** Labels of shared memory and names of images, by address; of several for one address the first. */
    private final NavigableMap<Integer, String> shared = new TreeMap<>();
    /** The same by name, without losing any. */
    private final NavigableMap<String, Integer> sharedByName = new TreeMap<>();

    /** The places of a program. */
    public Places(Program program) {
        this.program = program;
        for (Block block : program.blocks()) {
            if (block.kind() == Block.Kind.IMAGE) {
                shared.putIfAbsent(block.address(), block.name());
                sharedByName.put(block.name(), block.address());
            } else if (block.kind() == Block.Kind.SHARED) {
                block.labels().forEach((label, address) -> shared.putIfAbsent(address, label));
                sharedByName.putAll(block.labels());
            }
        }
    }

    /** The program. */
    public Program program() {
        return program;
    }

    /** The labels of shared memory and names of images, by address. */
    public NavigableMap<Integer, String> sharedLabels() {
        return Collections.unmodifiableNavigableMap(shared);
    }

    /** The addresses of shared labels and images, by name. */
    public NavigableMap<String, Integer> sharedAddresses() {
        return Collections.unmodifiableNavigableMap(sharedByName);
    }

    /** The private addresses of the labels of a core's own section, by name. */
    public NavigableMap<String, Integer> privateAddresses(int core) {
        Block block = program.core(core);
        return block == null ? new TreeMap<>() : new TreeMap<>(block.labels());
    }

    /** The labels of a core's own section, by address. */
    public NavigableMap<Integer, String> privateLabels(int core) {
        NavigableMap<Integer, String> labels = new TreeMap<>();
        Block block = program.core(core);
        if (block != null) {
            block.labels().forEach((label, address) -> labels.putIfAbsent(address, label));
        }
        return labels;
    }

    /** What the program calls a shared word: {@code count}, {@code table+3}, or nothing where it has no name. */
    public String sharedName(long address) {
        if (address < 0 || address > Integer.MAX_VALUE) {
            return "";
        }
        Map.Entry<Integer, String> label = shared.floorEntry((int) address);
        Block block = program.shared((int) address);
        if (label == null || (label.getKey() != address && (block == null || label.getKey() < block.address()))) {
            return "";
        }
        long offset = address - label.getKey();
        return offset == 0 ? label.getValue() : label.getValue() + "+" + offset;
    }

    /** The line of the program that the word of an instruction comes from, or 0 where it comes from no line. */
    public int line(Core core, boolean inShared, int address) {
        if (inShared) {
            return address < 0 || address >= program.design().sharedWords() ? 0 : program.sharedLine(address);
        }
        if (address < 0 || address >= program.design().privateWords()) {
            return 0;
        }
        int origin = core.origin(address);
        return switch (origin) {
            case Core.FROM_PROGRAM -> program.privateLine(core.number(), address);
            case Core.FROM_NOWHERE -> 0;
            default -> program.sharedLine(origin);
        };
    }

    /** The line of the instruction that a core is doing or about to do, or 0. */
    public int line(Core core) {
        return line(core, core.pcInShared(), core.pc());
    }

    /**
     * An instruction as its line has it, without label and comment; or what its word says where it comes from no line,
     * or has been changed since.
     *
     * @param word what lies there now
     */
    public String instruction(Core core, boolean inShared, int address, int word) {
        int line = line(core, inShared, address);
        if (line > 0 && Objects.equals(written(core, inShared, address), word)) {
            String text = code(program.sourceLine(line));
            if (!text.isEmpty()) {
                return text;
            }
        }
        return Disassembler.text(word, address);
    }

    /** The label that stands at this place of a core's private RAM or of shared memory; empty if none does. */
    public String label(Core core, boolean inShared, int address) {
        if (inShared) {
            return shared.getOrDefault(address, "");
        }
        if (address < 0 || address >= program.design().privateWords()) {
            return "";
        }
        Block block = block(core, false, address);
        if (block == null || (core.origin(address) >= 0 && block.kind() != Block.Kind.IMAGE)) {
            return "";
        }
        return block.labels().entrySet().stream()
                .filter(label -> label.getValue() == address)
                .map(Map.Entry::getKey)
                .findFirst()
                .orElse("");
    }

    /** The word that the program put at this place, or null. */
    private @Nullable Integer written(Core core, boolean inShared, int address) {
        Block block = block(core, inShared, address);
        int index = index(block, core, inShared, address);
        return block != null && index >= 0 && index < block.words().length ? block.words()[index] : null;
    }

    /** Whether the program wrote what it put at this place as an instruction, and not as data. */
    public boolean isCode(Core core, boolean inShared, int address) {
        Block block = block(core, inShared, address);
        int index = index(block, core, inShared, address);
        return block != null && index >= 0 && index < block.code().length && block.code()[index];
    }

    /** The section that the word at this place comes from, or null. */
    private @Nullable Block block(Core core, boolean inShared, int address) {
        int origin = inShared ? address : core.origin(address);
        if (origin >= 0) {
            return program.shared(origin);
        }
        return origin == Core.FROM_PROGRAM ? program.core(core.number()) : null;
    }

    private static int index(@Nullable Block block, Core core, boolean inShared, int address) {
        int origin = inShared ? address : core.origin(address);
        return block != null && origin >= 0 ? origin - block.address() : address;
    }

    /** A line's code: without its label, its comment, and blanks around it. */
    static String code(String line) {
        String code = line.substring(0, commentAt(line)).strip();
        int colon = code.indexOf(':');
        boolean label = colon > 0 && code.substring(0, colon).strip().matches("[A-Za-z_][A-Za-z0-9_]*");
        return (label ? code.substring(colon + 1) : code).strip().replaceAll("\\s+", " ");
    }

    /** Where the comment of a line begins; its length if it has none. */
    public static int commentAt(String line) {
        char quote = 0;
        for (int i = 0; i < line.length(); i++) {
            char c = line.charAt(i);
            if (quote != 0) {
                if (c == '\\') {
                    i++;
                } else if (c == quote) {
                    quote = 0;
                }
            } else if (c == '"' || c == '\'') {
                quote = c;
            } else if (c == ';') {
                return i;
            }
        }
        return line.length();
    }
}
