package octurn.signal;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.stream.IntStream;

/**
 * The time of a bit on a serial line, found by looking at the line.
 *
 * <p>All stretches between edges within a byte are whole numbers of bits. So the bit time is the shortest stretch that
 * occurs, or, where no bit stands alone, a whole part of it. Of what comes into question that is taken which reads the
 * line with the fewest flaws; then one that gives a usual baud rate; then the longest. A short text can be read in more
 * than one way, so what is found is a guess; it need not be right.
 *
 * @param cycles of a bit; it need not be whole
 * @param frames bytes that were read with it
 * @param flawed those of them that are not good
 * @param misfits stretches between edges that are no whole number of bits
 */
public record BitTime(double cycles, int frames, int flawed, int misfits) {

    /** Baud rates in common use (common practice). */
    private static final List<Integer> USUAL_BAUDS = List.of(
            300, 600, 1200, 2400, 4800, 9600, 14_400, 19_200, 28_800, 38_400, 57_600, 115_200, 230_400, 460_800,
            921_600, 1_000_000);

    /** How far from a usual baud rate, as a share of it, counts as that rate: the usual tolerance of one side. */
    private static final double NEAR = 0.02;

    /** A stretch is no whole number of bits if it is off by more than this share of a bit. */
    private static final double FIT = 0.25;

    private static final int MOST_EDGES = 20_000;
    private static final int SHORTEST_STRETCHES = 6;
    private static final int MOST_PARTS = 9;
    private static final int ROUNDS = 4;

    /** Baud rates in common use, ascending. */
    public static List<Integer> usualBauds() {
        return USUAL_BAUDS;
    }

    /**
     * The bit time of a line.
     *
     * @param clockHertz cycles a second, to tell usual baud rates
     * @return nothing if no byte can be read off the line in any way
     */
    public static Optional<BitTime> find(Levels line, SerialFormat format, long clockHertz) {
        Levels some = line.head(MOST_EDGES);
        List<Long> stretches = new ArrayList<>();
        for (int i = 1; i < some.edges(); i++) {
            stretches.add(some.edge(i) - some.edge(i - 1));
        }
        List<Long> shortest = shortest(stretches);
        List<BitTime> found = new ArrayList<>();
        for (long stretch : shortest) {
            for (int parts = 1; parts <= MOST_PARTS && stretch >= parts; parts++) {
                BitTime time = read(some, format, refined((double) stretch / parts, stretches, format), stretches);
                if (time.frames > time.flawed) {
                    found.add(time);
                }
            }
        }
        return found.stream()
                .min(Comparator.comparingInt((BitTime time) -> time.flawed + time.misfits)
                        .thenComparing(time -> time.usualBaud(clockHertz).isEmpty())
                        .thenComparing(
                                Comparator.comparingDouble(BitTime::cycles).reversed()));
    }

    /** The usual baud rate that this is with such a clock, if it is one within 2 %. */
    public OptionalInt usualBaud(long clockHertz) {
        double baud = clockHertz / cycles;
        return USUAL_BAUDS.stream()
                .mapToInt(usual -> usual)
                .filter(usual -> Math.abs(baud / usual - 1) <= NEAR)
                .findFirst();
    }

    /** The shortest stretches that differ by more than a quarter. */
    private static List<Long> shortest(List<Long> stretches) {
        List<Long> shortest = new ArrayList<>();
        for (long stretch : stretches.stream().sorted().toList()) {
            if (shortest.isEmpty() || stretch > shortest.get(shortest.size() - 1) * (1 + FIT)) {
                shortest.add(stretch);
                if (shortest.size() == SHORTEST_STRETCHES) {
                    break;
                }
            }
        }
        return shortest;
    }

    /** A bit time made exact: the mean over all stretches within bytes. */
    private static double refined(double first, List<Long> stretches, SerialFormat format) {
        double time = first;
        for (int round = 0; round < ROUNDS; round++) {
            long cycles = 0;
            long bits = 0;
            for (long stretch : stretches) {
                long count = Math.round(stretch / time);
                if (count >= 1 && count < format.bits() && Math.abs(stretch / time - count) <= FIT) {
                    cycles += stretch;
                    bits += count;
                }
            }
            if (bits > 0) {
                time = (double) cycles / bits;
            }
        }
        return Math.max(1, time);
    }

    private static BitTime read(Levels line, SerialFormat format, double time, List<Long> stretches) {
        List<SerialFrame> frames = SerialDecoder.decode(line, format, time);
        // The last byte may be cut off because only a part of the line was looked at.
        int flawed = (int) frames.stream()
                .filter(frame -> !frame.isGood() && frame.flaw() != SerialFrame.Flaw.CUT)
                .count();
        int whole = (int) frames.stream()
                .filter(frame -> frame.flaw() != SerialFrame.Flaw.CUT)
                .count();
        int misfits = (int) IntStream.range(0, stretches.size())
                .mapToDouble(i -> stretches.get(i) / time)
                .filter(bits -> bits < format.bits() && (bits < 1 - FIT || Math.abs(bits - Math.rint(bits)) > FIT))
                .count();
        return new BitTime(time, whole, flawed, misfits);
    }
}
