package octurn.machine;

/**
 * One tally: a small counter that counts cycles or pin activity, or makes a pulse train.
 *
 * <p>It is not stepped: its value is that at a base cycle plus what follows from its mode and the level of its pin since
 * then. Whoever changes the mode, span or level, or the pin, first brings the base up to the present by
 * {@link #settle}.
 */
final class TallyUnit {

    static final int OFF = 0;
    static final int CYCLES = 1;
    static final int RISING = 2;
    static final int FALLING = 3;
    static final int HIGH = 4;
    static final int LOW = 5;
    static final int PULSE = 6;

    private static final long NO_EDGE = -1;

    int mode;
    int pin;
    int span;
    int level;
    private int value;
    private long base;
    /** The cycle of an edge that counts from the next cycle on. */
    private long edge = NO_EDGE;

    /** Whether this is a legal mode word: mode in bits 7..0, pin in 12..8, the rest 0. */
    static boolean isLegalMode(int word, int pins) {
        int mode = word & 0xFF;
        int pin = word >>> 8 & 31;
        return (word & 0xFFFF_E000) == 0 && mode <= PULSE && (mode <= CYCLES ? pin == 0 : pin < pins);
    }

    int modeWord() {
        return mode | pin << 8;
    }

    /** The value at this cycle, which is not before the base; levels are those of the cycles since the base. */
    int valueAt(long cycle, int levels) {
        long gone = cycle - base;
        return switch (mode) {
            case CYCLES -> value + (int) gone;
            case HIGH -> isHigh(levels) ? value + (int) gone : value;
            case LOW -> isHigh(levels) ? value : value + (int) gone;
            case PULSE -> pulseValue(gone);
            default -> edge != NO_EDGE && cycle > edge ? value + 1 : value;
        };
    }

    private boolean isHigh(int levels) {
        return (levels >>> pin & 1) != 0;
    }

    private int pulseValue(long gone) {
        if (gone == 0) {
            return value;
        }
        long period = Math.max(1, Integer.toUnsignedLong(span));
        long now = Integer.toUnsignedLong(value);
        // A value at or beyond the span is 0 one cycle later, and in step from then on.
        return (int) (now < period ? (now + gone) % period : (gone - 1) % period);
    }

    /** Makes this cycle the base. */
    void settle(long cycle, int levels) {
        value = valueAt(cycle, levels);
        base = cycle;
        if (edge < cycle) {
            edge = NO_EDGE;
        }
    }

    void setValue(int newValue, long cycle) {
        value = newValue;
        base = cycle;
        edge = NO_EDGE;
    }

    void setMode(int word) {
        mode = word & 0xFF;
        pin = word >>> 8 & 31;
    }

    /** The pin has another level from this cycle on; the tally was settled at this cycle. */
    void pinChanged(boolean nowHigh, long cycle) {
        if (mode == (nowHigh ? RISING : FALLING)) {
            edge = cycle;
        }
    }

    void clear(long cycle) {
        mode = OFF;
        pin = 0;
        span = 0;
        level = 0;
        setValue(0, cycle);
    }

    /** Whether it puts out 1 during this cycle; in pulse mode alone. */
    boolean putsOut(long cycle) {
        return Integer.compareUnsigned(pulseValue(cycle - base), level) < 0;
    }

    /** The first cycle after this one at which what it puts out may be another; in pulse mode alone. */
    long nextPulseChange(long cycle) {
        long now = Integer.toUnsignedLong(pulseValue(cycle - base));
        long period = Math.max(1, Integer.toUnsignedLong(span));
        long high = Integer.toUnsignedLong(level);
        if (now >= period) {
            return cycle + 1;
        }
        if (high == 0 || high >= period) {
            return Long.MAX_VALUE;
        }
        return cycle + (now < high ? high - now : period - now);
    }

    void copyFrom(TallyUnit other) {
        mode = other.mode;
        pin = other.pin;
        span = other.span;
        level = other.level;
        value = other.value;
        base = other.base;
        edge = other.edge;
    }
}
