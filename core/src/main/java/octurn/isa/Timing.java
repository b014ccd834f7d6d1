package octurn.isa;

/** What an instruction's time depends on; the cycles themselves are the design's {@code cost} fields. */
public enum Timing {
    /** {@code cost.plain} cycles. */
    PLAIN("plain"),
    /** {@code cost.private} cycles. */
    PRIVATE("private"),
    /** {@code cost.multiply} cycles. */
    MULTIPLY("multiply"),
    /** {@code cost.divide} cycles. */
    DIVIDE("divide"),
    /** {@code cost.taken} cycles. */
    TAKEN("taken"),
    /** {@code cost.taken} cycles if it goes to its target, else {@code cost.plain}. */
    TAKEN_OR_PLAIN("taken if it goes, else plain"),
    /** {@code cost.plain} cycles of work, then the wait for the core's turn, then one slot. */
    ACCESS("plain + wait + slot"),
    /** As many cycles in all as its operand says, at least {@code cost.plain}. */
    HOLD("max(plain, b)"),
    /** {@code cost.plain} cycles, then asleep until the time that its operand names. */
    UNTIL_TIME("plain, then to time b"),
    /** {@code cost.plain} cycles, then asleep until the pins match. */
    UNTIL_PINS("plain, then to the match");

    private final String text;

    Timing(String text) {
        this.text = text;
    }

    /** In the words of the design's cost fields. */
    public String text() {
        return text;
    }
}
