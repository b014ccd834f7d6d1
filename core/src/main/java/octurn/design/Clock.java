package octurn.design;

import java.util.Locale;

/**
 * Where the clock comes from. The chip's clock is the source's frequency times the multiplier (common practice: a
 * crystal of 5 MHz times 16 is 80 MHz, 12.5 ns a cycle).
 *
 * @param source a crystal, or the chip's own oscillator
 * @param hertz of the source, 1..1000000000
 * @param multiplier 1..64
 * @param tolerancePpm how far the source may be off, in parts per million, 0..500000
 */
public record Clock(Source source, int hertz, int multiplier, int tolerancePpm) {

    /** A 6 MHz crystal times 8. */
    public static final Clock DEFAULT = new Clock(Source.CRYSTAL, 6_000_000, 8, 50);

    /** What oscillates. */
    public enum Source {
        CRYSTAL,
        INTERNAL;

        /** As written in a design file. */
        public String text() {
            return name().toLowerCase(Locale.ROOT);
        }
    }

    public Clock {
        Field.CLOCK_HERTZ.check(hertz);
        Field.CLOCK_MULTIPLIER.check(multiplier);
        Field.CLOCK_TOLERANCE.check(tolerancePpm);
    }

    /** The chip's clock in Hz: cycles a second. */
    public long chipHertz() {
        return (long) hertz * multiplier;
    }

    /** The time of this many cycles, in microseconds. */
    public double micros(long cycles) {
        return cycles * 1e6 / chipHertz();
    }

    /** The time of one cycle, in nanoseconds. */
    public double cycleNanos() {
        return 1e9 / chipHertz();
    }
}
