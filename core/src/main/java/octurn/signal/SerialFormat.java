package octurn.signal;

import java.util.Locale;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * How a byte goes over an asynchronous serial line: a start bit low, the data bits with the lowest first, a parity bit
 * if there is one, stop bits high.
 *
 * @param dataBits 5..9
 * @param parity of the data bits
 * @param stopBits 1 or 2
 */
public record SerialFormat(int dataBits, Parity parity, int stopBits) {

    /** 8N1: eight data bits, no parity, one stop bit (common practice). */
    public static final SerialFormat USUAL = new SerialFormat(8, Parity.NONE, 1);

    private static final Pattern TEXT = Pattern.compile("([5-9])([NOE])([12])");

    /** What the parity bit makes of the number of ones among data and parity. */
    public enum Parity {
        NONE,
        ODD,
        EVEN;

        private char letter() {
            return name().charAt(0);
        }

        /** Whether a parity bit is right for these data. */
        boolean holds(int data, boolean bit) {
            boolean odd = Integer.bitCount(data) % 2 != 0 ^ bit;
            return this == NONE || odd == (this == ODD);
        }
    }

    public SerialFormat {
        if (dataBits < 5 || dataBits > 9) {
            throw new IllegalArgumentException("data bits: %d, not 5..9".formatted(dataBits));
        }
        if (stopBits < 1 || stopBits > 2) {
            throw new IllegalArgumentException("stop bits: %d, not 1..2".formatted(stopBits));
        }
    }

    /** The format of a text like 8N1 or 7e2; nothing if it is none. */
    public static Optional<SerialFormat> parse(String text) {
        Matcher match = TEXT.matcher(text.toUpperCase(Locale.ROOT));
        if (!match.matches()) {
            return Optional.empty();
        }
        Parity parity = switch (match.group(2)) {
            case "O" -> Parity.ODD;
            case "E" -> Parity.EVEN;
            default -> Parity.NONE;
        };
        return Optional.of(
                new SerialFormat(Integer.parseInt(match.group(1)), parity, Integer.parseInt(match.group(3))));
    }

    /** As in 8N1. */
    public String text() {
        return "%d%c%d".formatted(dataBits, parity.letter(), stopBits);
    }

    /** All bits of a byte on the line, start and stop bits among them. */
    public int bits() {
        return 1 + dataBits + parityBits() + stopBits;
    }

    int parityBits() {
        return parity == Parity.NONE ? 0 : 1;
    }

    /**
     * How far the two ends' bit times may differ, in percent, before the last stop bit is missed by one who looks at the
     * middle of each bit: half a bit in all bit times up to there. For 8N1 .5 / 9.5 = 5.26 %; common practice is to stay
     * below about 2 % on each side.
     */
    public double midBitPercent() {
        return 100 * 0.5 / (bits() - 0.5);
    }
}
