package octurn.lessons.text;

import java.util.List;
import java.util.Optional;
import octurn.lessons.value.Numbers;

/** How a value in a text is shown: what follows the colon in {@code {wait:us}}. */
public enum Format {
    /** With commas between thousands, and at most three decimals. */
    PLAIN(""),
    /** As percent, at most one decimal. */
    PERCENT("%"),
    /** Cycles as microseconds at the clock of the run, three decimals. */
    MICROSECONDS("us"),
    /** Cycles as milliseconds at the clock of the run, three decimals. */
    MILLISECONDS("ms"),
    /** Without commas, for what is to be typed. */
    DIGITS("d"),
    /** In base 16, as programs write it; of a word the low 32 bits. */
    HEX("hex"),
    /** In base 2, as programs write it; of a word the low 32 bits. */
    BINARY("bin"),
    /** With just one decimal. */
    ONE_DECIMAL("1"),
    /** With just two decimals. */
    TWO_DECIMALS("2"),
    /** With just three decimals. */
    THREE_DECIMALS("3");

    private final String text;

    Format(String text) {
        this.text = text;
    }

    /** As it is written behind the colon. */
    public String text() {
        return text;
    }

    static Optional<Format> of(String text) {
        return List.of(values()).stream()
                .filter(format -> format.text.equals(text))
                .findFirst();
    }

    static List<String> names() {
        return List.of(values()).stream()
                .map(Format::text)
                .filter(text -> !text.isEmpty())
                .toList();
    }

    /**
     * The value as it is shown.
     *
     * @param hertz the clock, for those that show cycles as time
     */
    public String show(double value, long hertz) {
        return switch (this) {
            case PLAIN -> Numbers.grouped(value, 3);
            case PERCENT -> Numbers.grouped(100 * value, 1) + " %";
            case MICROSECONDS -> Numbers.fixed(value * 1e6 / hertz, 3) + " µs";
            case MILLISECONDS -> Numbers.fixed(value * 1e3 / hertz, 3) + " ms";
            case DIGITS -> Numbers.plain(value);
            case HEX -> "0x%X".formatted((int) (long) value);
            case BINARY -> "0b" + Integer.toBinaryString((int) (long) value);
            case ONE_DECIMAL -> Numbers.fixed(value, 1);
            case TWO_DECIMALS -> Numbers.fixed(value, 2);
            case THREE_DECIMALS -> Numbers.fixed(value, 3);
        };
    }
}
