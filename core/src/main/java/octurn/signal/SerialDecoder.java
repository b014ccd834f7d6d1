package octurn.signal;

import java.util.ArrayList;
import java.util.List;
import octurn.signal.SerialFrame.Flaw;

/**
 * Reads the bytes off an asynchronous serial line, as a receiver does: a fall of the line begins a start bit; if the line
 * is low still in the middle of it, it looks at the middle of each bit that follows, and after the middle of the last
 * stop bit waits for the next fall.
 */
public final class SerialDecoder {

    private final Levels line;
    private final SerialFormat format;
    private final double cyclesPerBit;
    /** Edges that lie before the place that is looked at, or at it. */
    private int passed;

    private SerialDecoder(Levels line, SerialFormat format, double cyclesPerBit) {
        this.line = line;
        this.format = format;
        this.cyclesPerBit = cyclesPerBit;
    }

    /**
     * The bytes on a pin, in order.
     *
     * @param cyclesPerBit at least 1; it need not be whole
     */
    public static List<SerialFrame> decode(Waveform wave, SerialFormat format, double cyclesPerBit) {
        return decode(wave.serialLine(), format, cyclesPerBit);
    }

    /**
     * The bytes on a line that is high at rest.
     *
     * @param cyclesPerBit at least 1; it need not be whole
     * @throws IllegalArgumentException if it is less
     */
    public static List<SerialFrame> decode(Levels line, SerialFormat format, double cyclesPerBit) {
        if (!(cyclesPerBit >= 1)) {
            throw new IllegalArgumentException("cycles per bit: %s, not at least 1".formatted(cyclesPerBit));
        }
        return new SerialDecoder(line, format, cyclesPerBit).frames();
    }

    /** The values of those bytes that are good. */
    public static byte[] bytes(List<SerialFrame> frames) {
        List<SerialFrame> good = frames.stream().filter(SerialFrame::isGood).toList();
        byte[] bytes = new byte[good.size()];
        for (int i = 0; i < bytes.length; i++) {
            bytes[i] = (byte) good.get(i).value();
        }
        return bytes;
    }

    private List<SerialFrame> frames() {
        List<SerialFrame> frames = new ArrayList<>();
        while (passed < line.edges()) {
            int edge = passed++;
            if (line.isRise(edge)) {
                continue;
            }
            long start = line.edge(edge);
            long middle = sample(start, 0);
            if (middle < line.to() && isHigh(middle)) {
                // Shorter than half a bit: no start bit.
                continue;
            }
            frames.add(frame(start));
        }
        return frames;
    }

    private SerialFrame frame(long start) {
        int value = 0;
        for (int i = 0; i < format.dataBits(); i++) {
            long at = sample(start, 1 + i);
            if (at >= line.to()) {
                return cut(start, value);
            }
            value |= (isHigh(at) ? 1 : 0) << i;
        }
        int bit = 1 + format.dataBits();
        boolean parity = false;
        if (format.parityBits() == 1) {
            long at = sample(start, bit++);
            if (at >= line.to()) {
                return cut(start, value);
            }
            parity = isHigh(at);
        }
        boolean stopped = true;
        for (; bit < format.bits(); bit++) {
            long at = sample(start, bit);
            if (at >= line.to()) {
                return cut(start, value);
            }
            stopped &= isHigh(at);
        }
        if (!stopped) {
            return new SerialFrame(start, value, value == 0 && !parity ? Flaw.BREAK : Flaw.FRAMING);
        }
        return new SerialFrame(start, value, format.parity().holds(value, parity) ? Flaw.NONE : Flaw.PARITY);
    }

    private SerialFrame cut(long start, int value) {
        passed = line.edges();
        return new SerialFrame(start, value, Flaw.CUT);
    }

    private long sample(long start, int bit) {
        return start + (long) ((bit + 0.5) * cyclesPerBit);
    }

    /** Whether the line is high at a cycle that is not before the one asked for last. */
    private boolean isHigh(long cycle) {
        while (passed < line.edges() && line.edge(passed) <= cycle) {
            passed++;
        }
        return passed == 0 || line.isRise(passed - 1);
    }
}
