package octurn.signal;

/**
 * A rate or a time that is wanted of a clock, and what it is in whole cycles.
 *
 * @param kind of what is wanted
 * @param text as it was given
 * @param cycles of a bit, a period or a pulse
 */
public record Wish(Kind kind, String text, WholeCycles cycles) {

    /** What is wanted. */
    public enum Kind {
        /** Bits a second. */
        BAUD,
        /** Periods a second. */
        HERTZ,
        /** The width of a pulse, in seconds. */
        PULSE
    }

    /** What the whole cycles give: bits or periods a second, or seconds. */
    public double gives(long clockHertz) {
        return kind == Kind.PULSE ? (double) cycles.cycles() / clockHertz : (double) clockHertz / cycles.cycles();
    }
}
