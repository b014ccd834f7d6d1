package octurn.measure;

import java.util.Arrays;
import java.util.Optional;
import octurn.measure.LoopPasses.Steady;

/**
 * The lengths of a loop's passes, and the pattern that they settle into. The first {@value #MOST} are kept; the pattern
 * found in them is then held against each that comes.
 */
final class PassLengths {

    static final int MOST = 100_000;

    /** Longer periods are not looked for. */
    private static final int LONGEST_PERIOD = 512;

    private static final int LEAST_REPEATS = 3;

    private long[] lengths = new long[16];
    private long[] starts = new long[16];
    private int kept;
    private long count;
    /** Set when no more are kept: the pattern so far, as long as what follows keeps to it. */
    private Optional<Steady> pattern = Optional.empty();

    void add(long start, long length) {
        if (kept < MOST) {
            if (kept == lengths.length) {
                lengths = Arrays.copyOf(lengths, Math.min(MOST, 2 * kept));
                starts = Arrays.copyOf(starts, lengths.length);
            }
            lengths[kept] = length;
            starts[kept] = start;
            kept++;
            if (kept == MOST) {
                pattern = find();
            }
        } else if (pattern.isPresent()) {
            int period = pattern.get().periodPasses();
            long back = kept - period + (count - kept) % period;
            if (length != lengths[(int) back]) {
                pattern = Optional.empty();
            }
        }
        count++;
    }

    Optional<Steady> steady() {
        return kept < MOST ? find() : pattern;
    }

    /** The shortest period with which the kept lengths end. */
    private Optional<Steady> find() {
        for (int period = 1; period <= LONGEST_PERIOD && period * LEAST_REPEATS <= kept; period++) {
            int from = kept - period;
            while (from > 0 && lengths[from - 1] == lengths[from - 1 + period]) {
                from--;
            }
            int steady = kept - from;
            if (steady >= LEAST_REPEATS * period && 2 * steady >= kept) {
                long cycles = 0;
                for (int i = kept - period; i < kept; i++) {
                    cycles += lengths[i];
                }
                return Optional.of(new Steady(from + 1L, starts[from], period, cycles));
            }
        }
        return Optional.empty();
    }
}
