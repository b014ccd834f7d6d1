package octurn.isa;

/** The conditions of {@code jump .. if}; the ordinal is the condition's code in the word. */
public enum Condition {
    EQ("=="),
    NE("!="),
    LT("<"),
    LE("<="),
    GT(">"),
    GE(">="),
    /** The unsigned ones take a constant after it was sign-extended to 32 bits. */
    ULT("u<"),
    ULE("u<="),
    UGT("u>"),
    UGE("u>=");

    private final String text;

    Condition(String text) {
        this.text = text;
    }

    /** As written in a program. */
    public String text() {
        return text;
    }

    /** The bits 25..22 of the word: 0..9. */
    public int code() {
        return ordinal();
    }
}
