package octurn.cli.view;

import java.util.function.LongFunction;
import octurn.signal.PinState;
import octurn.signal.Waveform;

/** The marks of which waves are made, and waves made of them: time runs to the right, so many cycles a column. */
final class WaveMarks {

    private static final int TICK = 20;

    private WaveMarks() {}

    static String high(Glyphs glyphs) {
        return glyphs.sign("\u2594", "^");
    }

    static String low(Glyphs glyphs) {
        return glyphs.sign("\u2581", "_");
    }

    /** One level change or more within a column of several cycles. */
    static String edge(Glyphs glyphs) {
        return glyphs.sign("\u2503", "|");
    }

    /** Nobody gives the pin a level. */
    static String open(Glyphs glyphs) {
        return glyphs.sign("\u00b7", ".");
    }

    static final String CLASH = "!";

    /** Cycles a column, so that a stretch fits so many columns: 1, 2 or 5 times a power of ten. */
    static long scale(long cycles, int columns) {
        long power = 1;
        while (true) {
            for (int factor : new int[] {1, 2, 5}) {
                if (power * factor * columns >= cycles) {
                    return power * factor;
                }
            }
            power *= 10;
        }
    }

    /** The wave of a pin; its first column begins with the cycle {@code from}. */
    static Line wave(Line start, Waveform wave, long from, long scale, Glyphs glyphs) {
        Line line = start;
        StringBuilder plain = new StringBuilder();
        for (long at = from; at < wave.to(); at += scale) {
            String mark = mark(wave, at, Math.min(wave.to(), at + scale), glyphs);
            if (mark.equals(CLASH)) {
                line = line.and(plain.toString()).and(Ink.ALARM, CLASH);
                plain.setLength(0);
            } else {
                plain.append(mark);
            }
        }
        return line.and(plain.toString());
    }

    private static String mark(Waveform wave, long from, long to, Glyphs glyphs) {
        int first = wave.stepAt(from);
        int last = wave.stepAt(to - 1);
        boolean edge = false;
        // A column can hold very many steps; a clash among the first ones decides, and an edge is known from two.
        for (int step = first; step <= last; step++) {
            if (wave.state(step).clash()) {
                return CLASH;
            }
            edge |= step > first
                    && wave.state(step).high() != wave.state(step - 1).high();
        }
        // A change with the first cycle of a column shows as the new level; within it, as an edge.
        PinState state = wave.state(last);
        if (edge) {
            return edge(glyphs);
        }
        return state.isOpen() ? open(glyphs) : state.high() ? high(glyphs) : low(glyphs);
    }

    /** A ruler: a label every 20 columns, each over the column in which its cycle begins. */
    static String ruler(long from, long to, long scale, int columns, LongFunction<String> label) {
        StringBuilder ruler = new StringBuilder();
        for (int column = 0; column < columns && from + column * scale < to; column += TICK) {
            String text = "|" + label.apply(from + column * scale);
            if (column + text.length() > columns) {
                break;
            }
            ruler.append(Glyphs.padded(text, TICK));
        }
        return ruler.toString().stripTrailing();
    }
}
