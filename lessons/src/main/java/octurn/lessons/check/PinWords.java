package octurn.lessons.check;

import java.nio.charset.StandardCharsets;
import java.util.List;
import octurn.lessons.value.Numbers;
import octurn.signal.Levels;
import octurn.signal.SerialDecoder;
import octurn.signal.SerialFormat;
import octurn.signal.SerialFrame;
import octurn.signal.Waveform;
import org.jspecify.annotations.Nullable;

/** Holds what a pin did against what it was to do. */
final class PinWords {

    private PinWords() {}

    /**
     * What is wrong with a pin.
     *
     * @param cycle where; -1 for nowhere in particular
     */
    record Flaw(String message, long cycle) {}

    /** What a length in cycles may be. */
    record Range(double least, double most) {
        boolean has(long cycles) {
            return cycles >= least && cycles <= most;
        }

        @Override
        public String toString() {
            String from = Numbers.grouped(least, 3);
            if (most == Double.MAX_VALUE) {
                return "at least " + from;
            }
            return least == most ? from : from + " to " + Numbers.grouped(most, 3);
        }
    }

    /** What is wrong with a serial line that is to say this and nothing else; null if nothing is. */
    static @Nullable Flaw serial(Waveform wave, double cyclesPerBit, String text) {
        byte[] wanted = text.getBytes(StandardCharsets.UTF_8);
        List<SerialFrame> frames = SerialDecoder.decode(wave, SerialFormat.USUAL, cyclesPerBit);
        for (int i = 0; i < frames.size(); i++) {
            SerialFrame frame = frames.get(i);
            String which = "Byte %d, which begins in cycle %s, ".formatted(i + 1, Numbers.grouped(frame.cycle()));
            if (!frame.isGood()) {
                return new Flaw(which + "is no byte: %s.".formatted(frame.flaw().text()), frame.cycle());
            }
            if (i >= wanted.length) {
                return new Flaw(which + "is one too many.", frame.cycle());
            }
            if (frame.value() != (wanted[i] & 0xFF)) {
                return new Flaw(
                        which + "is %s, not %s.".formatted(shown(frame.value()), shown(wanted[i] & 0xFF)),
                        frame.cycle());
            }
        }
        if (frames.size() < wanted.length) {
            return new Flaw("The line says %d bytes, not %d.".formatted(frames.size(), wanted.length), -1);
        }
        return null;
    }

    private static String shown(int value) {
        return value > 0x20 && value < 0x7F ? "\"%c\" (0x%02X)".formatted(value, value) : "0x%02X".formatted(value);
    }

    /** What is wrong with the pulses of a pin; null if nothing is. */
    static @Nullable Flaw pulses(Levels line, @Nullable Range high, @Nullable Range period) {
        boolean anyHigh = false;
        boolean anyPeriod = false;
        for (int i = 1; i < line.edges(); i++) {
            long width = line.edge(i) - line.edge(i - 1);
            if (!line.isRise(i)) {
                anyHigh = true;
                if (high != null && !high.has(width)) {
                    return flaw("pulse", line.edge(i - 1), width, high);
                }
            } else if (i >= 2) {
                anyPeriod = true;
                long cycles = line.edge(i) - line.edge(i - 2);
                if (period != null && !period.has(cycles)) {
                    return flaw("period", line.edge(i - 2), cycles, period);
                }
            }
        }
        if (high != null && !anyHigh) {
            return new Flaw("There is no whole pulse on the pin.", -1);
        }
        return period != null && !anyPeriod ? new Flaw("There is no whole period on the pin.", -1) : null;
    }

    private static Flaw flaw(String what, long from, long cycles, Range range) {
        return new Flaw(
                "The %s that begins in cycle %s lasts %s cycles, not %s."
                        .formatted(what, Numbers.grouped(from), Numbers.grouped(cycles), range),
                from);
    }
}
