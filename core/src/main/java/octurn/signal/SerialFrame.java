package octurn.signal;

/**
 * One byte as it was read off a serial line.
 *
 * @param cycle the first cycle of its start bit
 * @param value its data bits, those that were there; 0..511
 * @param flaw what is wrong with it
 */
public record SerialFrame(long cycle, int value, Flaw flaw) {

    /** What can be wrong with a byte. */
    public enum Flaw {
        /** Nothing. */
        NONE("good"),
        /** The parity bit does not fit the data bits. */
        PARITY("parity error"),
        /** A stop bit is low: the line runs at another rate, or this is no serial line. */
        FRAMING("framing error"),
        /** All bits are low, the stop bit too: the line is held low, which some use as a signal. */
        BREAK("break"),
        /** The waveform ends before the byte does. */
        CUT("cut off");

        private final String text;

        Flaw(String text) {
            this.text = text;
        }

        /** In words. */
        public String text() {
            return text;
        }
    }

    /** Whether the byte came over as it was sent, as far as the line tells. */
    public boolean isGood() {
        return flaw == Flaw.NONE;
    }
}
