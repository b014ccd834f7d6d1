package octurn.lessons.mark;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.asm.Block;
import octurn.asm.Program;
import octurn.asm.Skeleton;
import octurn.design.Design;
import octurn.design.Field;
import octurn.json.DesignReader;
import octurn.json.DesignWriter;
import octurn.json.Reading;
import org.jspecify.annotations.Nullable;

/**
 * What two submissions have in common when one is the other with other names, comments and layout.
 *
 * <p>Of a program that assembles, its words: so neither names nor layout count, nor how a number is written or whether a
 * constant stands for it, nor the order of the cores' sections. Registers, numbers, and the order of instructions and
 * data do count. Of a program that does not assemble, its {@link Skeleton}. Of a design, its fields but for the name.
 *
 * @param print the same for the same structure: 32 hexadecimal digits; empty if there is nothing to compare
 * @param own how many instructions of a program, or fields of a design, are not in the starting one: where they are few,
 *     two students may well have written the same
 */
public record Structure(String print, int own) {

    /** Nothing to compare. */
    public static final Structure NONE = new Structure("", 0);

    private static final int PRINT_BYTES = 16;

    /** Whether there is anything to compare. */
    public boolean isThere() {
        return !print.isEmpty();
    }

    /**
     * The structure of a program.
     *
     * @param utf8 its text
     * @param start the text of the program that the student began with; empty if there was none
     * @param design what both are assembled for
     * @param constants values for constants that differ from student to student, the same for all
     */
    public static Structure ofProgram(byte[] utf8, byte[] start, Design design, Map<String, Long> constants) {
        Program program = assembled(utf8, design, constants);
        if (program != null) {
            List<Integer> own = code(program);
            Program begun = assembled(start, design, constants);
            int common = begun == null ? 0 : common(own, code(begun));
            return new Structure(print("words" + words(program)), own.size() - common);
        }
        return Skeleton.of(utf8)
                .filter(skeleton -> !skeleton.isEmpty())
                .map(skeleton -> new Structure(
                        print("text" + skeleton),
                        ownLines(skeleton, Skeleton.of(start).orElse(""))))
                .orElse(NONE);
    }

    private static @Nullable Program assembled(byte[] utf8, Design design, Map<String, Long> constants) {
        Assembly assembly = Assembler.assemble("", utf8, design, constants);
        if (assembly instanceof Assembly.Rejected && !constants.isEmpty()) {
            // One of these constants may have been taken out.
            assembly = Assembler.assemble("", utf8, design);
        }
        return assembly instanceof Assembly.Assembled assembled ? assembled.program() : null;
    }

    /** The structure of a design; see {@link #ofProgram}. */
    public static Structure ofDesign(byte[] utf8, byte[] start) {
        if (!(DesignReader.read("", utf8) instanceof Reading.Accepted<Design> accepted)) {
            return utf8.length == 0
                    ? NONE
                    : new Structure(print("bytes" + HexFormat.of().formatHex(utf8)), 0);
        }
        int own = 0;
        if (DesignReader.read("", start) instanceof Reading.Accepted<Design> begun) {
            for (Field field : Field.values()) {
                own += field.of(accepted.value()) == field.of(begun.value()) ? 0 : 1;
            }
            own += sameAdmission(accepted.value(), begun.value()) ? 0 : 1;
            own += accepted.value().clock().source() == begun.value().clock().source() ? 0 : 1;
        }
        return new Structure(print("design" + fields(accepted.value())), own);
    }

    /** The orders and weights that other numbers of cores bring with them are no choice of anybody's. */
    private static boolean sameAdmission(Design one, Design other) {
        return one.cores() == other.cores()
                ? one.admission().equals(other.admission())
                : one.admission().getClass() == other.admission().getClass();
    }

    private static String fields(Design design) {
        try {
            ByteArrayOutputStream out = new ByteArrayOutputStream();
            DesignWriter.write(design.withName("x"), out);
            return out.toString(StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new IllegalStateException(e);
        }
    }

    private static String words(Program program) {
        List<Block> blocks = new ArrayList<>(program.blocks());
        blocks.sort(Comparator.comparing(Block::kind)
                .thenComparingInt(Block::address)
                .thenComparingInt(
                        block -> block.cores().isEmpty() ? 0 : block.cores().get(0)));
        StringBuilder text = new StringBuilder();
        for (Block block : blocks) {
            text.append('\n').append(block.kind()).append(block.cores()).append(block.address());
            for (int i = 0; i < block.words().length; i++) {
                text.append(block.code()[i] ? '.' : ',').append(block.words()[i]);
            }
        }
        return text.toString();
    }

    private static List<Integer> code(Program program) {
        List<Integer> code = new ArrayList<>();
        for (Block block : program.blocks()) {
            for (int i = 0; i < block.words().length; i++) {
                if (block.code()[i]) {
                    code.add(block.words()[i]);
                }
            }
        }
        return code;
    }

    private static int ownLines(String skeleton, String start) {
        List<String> lines = skeleton.lines().toList();
        return lines.size() - common(lines, start.lines().toList());
    }

    /** How many of these are among those, each of those counted once. */
    private static <T> int common(List<T> these, List<T> those) {
        Map<T, Integer> left = new HashMap<>();
        those.forEach(one -> left.merge(one, 1, Integer::sum));
        int common = 0;
        for (T one : these) {
            if (left.merge(one, -1, Integer::sum) >= 0) {
                common++;
            }
        }
        return common;
    }

    /** The first half of the SHA-256 of a text. */
    private static String print(String text) {
        byte[] hash = Hash.sha256(text.getBytes(StandardCharsets.UTF_8));
        return HexFormat.of().formatHex(hash, 0, PRINT_BYTES);
    }
}
