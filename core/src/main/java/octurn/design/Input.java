package octurn.design;

import java.nio.charset.StandardCharsets;
import java.util.List;

/** What the outside gives one pin during a run: a level, or nothing, at every cycle. */
public sealed interface Input {

    /** The greatest cycle number and period that a scenario may give: 2^53-1, exact in every JSON reader. */
    long MAX_CYCLE = (1L << 53) - 1;

    /** What {@link #at} answers while the outside gives the pin no level. */
    int NOTHING = -1;

    /** What {@link #nextChange} answers when nothing changes any more. */
    long NEVER = Long.MAX_VALUE;

    /** The pin's number. */
    int pin();

    /** What the outside gives at this cycle: 0, 1, or {@link #NOTHING}. */
    int at(long cycle);

    /** The first cycle after this one at which {@link #at} differs from the cycle before it; or {@link #NEVER}. */
    long nextChange(long cycle);

    /**
     * One level from a cycle on.
     *
     * @param at the first cycle of the level, 0..2^53-1
     * @param level 0 or 1
     */
    record Change(long at, int level) {
        public Change {
            check("at", at, 0, MAX_CYCLE);
            check("level", level, 0, 1);
        }
    }

    /**
     * Levels at given cycles; before the first, nothing.
     *
     * @param changes cycles ascending
     */
    record Changes(int pin, List<Change> changes) implements Input {
        public Changes {
            check("pin", pin, 0, 31);
            changes = List.copyOf(changes);
            for (int i = 1; i < changes.size(); i++) {
                if (changes.get(i).at() <= changes.get(i - 1).at()) {
                    throw new IllegalArgumentException("changes: the cycles do not ascend");
                }
            }
        }

        @Override
        public int at(long cycle) {
            int i = lastUpTo(cycle);
            return i < 0 ? NOTHING : changes.get(i).level();
        }

        @Override
        public long nextChange(long cycle) {
            for (int i = lastUpTo(cycle) + 1; i < changes.size(); i++) {
                if (i == 0 || changes.get(i).level() != changes.get(i - 1).level()) {
                    return changes.get(i).at();
                }
            }
            return NEVER;
        }

        private int lastUpTo(long cycle) {
            int low = 0;
            int high = changes.size();
            while (low < high) {
                int middle = (low + high) >>> 1;
                if (changes.get(middle).at() <= cycle) {
                    low = middle + 1;
                } else {
                    high = middle;
                }
            }
            return low - 1;
        }
    }

    /**
     * A square wave: with n = cycle - from, the level is 1 while n mod period &lt; high. Before {@code from} nothing;
     * from {@code until} on 0.
     *
     * @param from 0..2^53-1
     * @param period 1..2^53-1
     * @param high cycles of 1 in each period, 0..2^53-1; it may exceed the period
     * @param until above from, or {@link #NEVER} for an endless wave
     */
    record Square(int pin, long from, long period, long high, long until) implements Input {
        public Square {
            check("pin", pin, 0, 31);
            check("from", from, 0, MAX_CYCLE);
            check("period", period, 1, MAX_CYCLE);
            check("high", high, 0, MAX_CYCLE);
            if (until <= from) {
                throw new IllegalArgumentException("until: %d, not above from: %d".formatted(until, from));
            }
        }

        @Override
        public int at(long cycle) {
            if (cycle < from) {
                return NOTHING;
            }
            return cycle < until && (cycle - from) % period < high ? 1 : 0;
        }

        @Override
        public long nextChange(long cycle) {
            if (cycle < from) {
                return from;
            }
            if (cycle >= until) {
                return NEVER;
            }
            boolean steady = high == 0 || high >= period;
            long phase = (cycle - from) % period;
            long edge = steady ? NEVER : cycle - phase + (phase < high ? high : period);
            if (edge < until) {
                return edge;
            }
            // The end of the wave is a change only if the cycle before it was high.
            return until != NEVER && at(until - 1) == 1 ? until : NEVER;
        }
    }

    /**
     * A serial line as it is sent: high when at rest, and from {@code from} on for each byte of the UTF-8 text a start
     * bit low, eight data bits with the lowest first and a stop bit high.
     *
     * @param from 0..2^53-1
     * @param cyclesPerBit 1..1000000000
     */
    record Serial(int pin, long from, long cyclesPerBit, String text) implements Input {
        private static final int BITS_A_BYTE = 10;

        public Serial {
            check("pin", pin, 0, 31);
            check("from", from, 0, MAX_CYCLE);
            check("cyclesPerBit", cyclesPerBit, 1, 1_000_000_000);
        }

        @Override
        public int at(long cycle) {
            return cycle < from ? 1 : bit(bytes(), (cycle - from) / cyclesPerBit);
        }

        @Override
        public long nextChange(long cycle) {
            byte[] bytes = bytes();
            long bits = (long) bytes.length * BITS_A_BYTE;
            long index = cycle < from ? -1 : (cycle - from) / cyclesPerBit;
            int now = cycle < from ? 1 : bit(bytes, index);
            for (long next = index + 1; next < bits; next++) {
                if (bit(bytes, next) != now) {
                    return from + next * cyclesPerBit;
                }
            }
            return NEVER;
        }

        private byte[] bytes() {
            return text.getBytes(StandardCharsets.UTF_8);
        }

        private static int bit(byte[] bytes, long index) {
            if (index >= (long) bytes.length * BITS_A_BYTE) {
                return 1;
            }
            int place = (int) (index % BITS_A_BYTE);
            return switch (place) {
                case 0 -> 0;
                case 9 -> 1;
                default -> bytes[(int) (index / BITS_A_BYTE)] >> (place - 1) & 1;
            };
        }
    }

    private static void check(String field, long value, long min, long max) {
        if (value < min || value > max) {
            throw new IllegalArgumentException("%s: %d, not %d..%d".formatted(field, value, min, max));
        }
    }
}
