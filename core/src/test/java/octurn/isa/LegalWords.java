package octurn.isa;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.stream.Collectors;

/**
 * The encoding table once more, as patterns of 32 bits, for tests: a legal word is one that fits a pattern. It shares
 * nothing with {@link Word}.
 *
 * @param op the instruction
 * @param fixed the bits of the pattern that are given, and 0 elsewhere
 * @param free 1 for each bit that a field may set as it likes
 */
record LegalWords(Op op, int fixed, int free) {

    private static final String C17 = "ccccccccccccccccc";
    private static final String B = "0000000000000bbbb";
    private static final int[] READABLE = {0, 1, 2, 3, 4, 8, 9, 10, 11, 12, 13, 14, 15};
    private static final int[] WRITABLE = {1, 2, 8, 9, 10, 11, 12, 13, 14, 15};

    static final List<LegalWords> ALL = all();

    /** The same by their first six bits. */
    private static final Map<Integer, List<LegalWords>> BY_CODE =
            ALL.stream().collect(Collectors.groupingBy(legal -> legal.fixed >>> 26));

    private static List<LegalWords> all() {
        List<LegalWords> all = new ArrayList<>();
        add(all, Op.SET, "000001 dddd cccccccccccccccccccccc");
        add(all, Op.UPPER, "000010 dddd 000000000000 cccccccccc");
        Op[] arithmetic = {
            Op.ADD, Op.SUB, Op.MUL, Op.MULH, Op.DIV, Op.REM, Op.AND, Op.OR, Op.XOR, Op.SHL, Op.SHR, Op.SAR, Op.ROL
        };
        for (int i = 0; i < arithmetic.length; i++) {
            add(all, arithmetic[i], bits(0x08 + i, 6) + "dddd aaaa 1" + C17);
            add(all, arithmetic[i], bits(0x08 + i, 6) + "dddd aaaa 0" + B);
        }
        Op[] memory = {Op.LOAD, Op.STORE, Op.FETCH, Op.POST, Op.SWAP, Op.BUMP};
        for (int i = 0; i < memory.length; i++) {
            add(all, memory[i], bits(0x18 + i, 6) + "dddd aaaa 1" + C17);
            add(all, memory[i], bits(0x18 + i, 6) + "dddd 0000 0" + C17);
        }
        for (int condition = 0; condition < 10; condition++) {
            add(all, Op.JUMP_IF, "100000" + bits(condition, 4) + "aaaa 1 bbbbbbbb ooooooooo");
            add(all, Op.JUMP_IF, "100000" + bits(condition, 4) + "aaaa 0 0000 bbbb ooooooooo");
        }
        add(all, Op.JUMP, "100001 1 xxxxxxxxxxxxxxxxxxxxxxxxx");
        add(all, Op.JUMP, "100001 0 000000000000000000000 bbbb");
        add(all, Op.CALL, "100010 1 xxxxxxxxxxxxxxxxxxxxxxxxx");
        add(all, Op.CALL, "100010 0 000000000000000000000 bbbb");
        add(all, Op.AGAIN, "100011 dddd oooooooooooooooooooooo");
        add(all, Op.FAR, "100100 1 xxxxxxxxxxxxxxxxxxxxxxxxx");
        add(all, Op.FAR, "100100 0 000000000000000000000 bbbb");
        add(all, Op.NEAR, "100101 1 xxxxxxxxxxxxxxxxxxxxxxxxx");
        add(all, Op.NEAR, "100101 0 000000000000000000000 bbbb");
        for (int port : READABLE) {
            add(all, Op.READ, "101000 dddd 000000000000000000" + bits(port, 4));
        }
        for (int port : WRITABLE) {
            add(all, Op.WRITE, "101001 dddd 000000000000000000" + bits(port, 4));
        }
        add(all, Op.PAUSE, "101010 0000 0000 1" + C17);
        add(all, Op.PAUSE, "101010 0000 0000 0" + B);
        add(all, Op.UNTIL, "101011 0000 0000 1" + C17);
        add(all, Op.UNTIL, "101011 0000 0000 0" + B);
        add(all, Op.AWAIT, "101100 0000 aaaa 1" + C17);
        add(all, Op.AWAIT, "101100 0000 aaaa 0" + B);
        add(all, Op.START, "110000 dddd aaaa 00000000000000 bbbb");
        add(all, Op.STOP, "110001 dddd 0000000000000000000000");
        add(all, Op.HALT, "110010 00000000000000000000000000");
        return List.copyOf(all);
    }

    private static String bits(int value, int count) {
        StringBuilder text = new StringBuilder();
        for (int i = count - 1; i >= 0; i--) {
            text.append(value >>> i & 1);
        }
        return text.toString();
    }

    /** A pattern: a letter is a bit of a field. */
    private static void add(List<LegalWords> all, Op op, String pattern) {
        String bits = pattern.replace(" ", "");
        if (bits.length() != 32) {
            throw new IllegalArgumentException(pattern);
        }
        int fixed = 0;
        int free = 0;
        for (int i = 0; i < 32; i++) {
            char c = bits.charAt(i);
            fixed = fixed << 1 | (c == '1' ? 1 : 0);
            free = free << 1 | (Character.isLetter(c) ? 1 : 0);
        }
        all.add(new LegalWords(op, fixed, free));
    }

    /** The instruction that this word is, or null. */
    static Op of(int word) {
        for (LegalWords legal : BY_CODE.getOrDefault(word >>> 26, List.of())) {
            if (legal.has(word)) {
                return legal.op;
            }
        }
        return null;
    }

    boolean has(int word) {
        return (word & ~free) == fixed;
    }

    int any(Random random) {
        return fixed | (random.nextInt() & free);
    }

    @Override
    public String toString() {
        return "%s %08X/%08X".formatted(op, fixed, free);
    }
}
