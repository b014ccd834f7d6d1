package octurn.cli.view;

import java.util.NavigableMap;
import java.util.Set;
import java.util.function.IntFunction;
import java.util.function.IntUnaryOperator;
import octurn.cli.view.Canvas.Area;

/**
 * Words of a memory, one a row: address, label, value, and who touches it.
 *
 * @param words how many there are
 * @param value of a word
 * @param labels names by address
 * @param written addresses that were written at the beginning of the present cycle
 * @param touching who touches a word now; empty for nobody
 * @param code the instruction in a word that is one; empty for data
 */
record MemoryView(
        int words,
        IntUnaryOperator value,
        NavigableMap<Integer, String> labels,
        Set<Integer> written,
        IntFunction<String> touching,
        IntFunction<String> code) {

    private static final int ADDRESS = 6;
    /** Column at which an instruction begins, behind a short label. */
    private static final int INSTRUCTION = 13;

    /** Draws words from an address on. */
    void draw(Area area, int top, NumberBase base) {
        Glyphs glyphs = area.glyphs();
        boolean wide = base == NumberBase.BINARY;
        int valueEnd = area.columns() - (wide ? 0 : 7);
        int labelEnd = valueEnd - base.columns() - 1;
        for (int row = 0; row < area.rows() && top + row < words; row++) {
            int address = top + row;
            String who = touching.apply(address);
            String label = labels.get(address);
            String instruction = base == NumberBase.DECIMAL ? code.apply(address) : "";
            boolean isCode = !instruction.isEmpty();
            Ink ink = who.isEmpty() ? Ink.PLAIN : Ink.STRONG;
            area.putRight(
                    row,
                    wide ? 4 : ADDRESS,
                    wide ? lastDigits(address, glyphs) : Integer.toString(address),
                    who.isEmpty() ? Ink.WEAK : Ink.STRONG);
            if (label != null) {
                area.putCut(row, ADDRESS + 1, label, ink, isCode ? INSTRUCTION - 1 : labelEnd);
            }
            if (isCode) {
                area.putCut(row, INSTRUCTION, instruction, ink, valueEnd);
            } else {
                area.putRight(row, valueEnd, base.write(value.applyAsInt(address)), ink);
            }
            if (written.contains(address)) {
                area.put(row, wide ? 4 : valueEnd, "*", Ink.STRONG);
            }
            if (!who.isEmpty() && !wide) {
                area.put(row, valueEnd + 1, glyphs.cut(who, 6), Ink.STRONG);
            }
        }
    }

    /** Beside 32 binary digits there is room for four more. */
    private static String lastDigits(int address, Glyphs glyphs) {
        return address < 10_000
                ? Integer.toString(address)
                : glyphs.sign("\u2026", "~") + "%03d".formatted(address % 1000);
    }
}
