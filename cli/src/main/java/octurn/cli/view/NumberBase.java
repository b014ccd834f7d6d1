package octurn.cli.view;

/** How words are written. */
public enum NumberBase {
    DECIMAL("dec", "decimal", 11),
    HEXADECIMAL("hex", "hexadecimal", 10),
    BINARY("bin", "binary", 32);

    private final String text;
    private final String name;
    private final int columns;

    NumberBase(String text, String name, int columns) {
        this.text = text;
        this.name = name;
        this.columns = columns;
    }

    /** As in commands. */
    public String text() {
        return text;
    }

    /** In full. */
    public String longName() {
        return name;
    }

    /** Columns that any word fits into. */
    int columns() {
        return columns;
    }

    /** A word in this base. */
    public String write(int word) {
        return switch (this) {
            case DECIMAL -> Integer.toString(word);
            case HEXADECIMAL -> "0x%08X".formatted(word);
            case BINARY -> "%32s".formatted(Integer.toBinaryString(word)).replace(' ', '0');
        };
    }

    /** The next one, round and round. */
    public NumberBase next() {
        return values()[(ordinal() + 1) % values().length];
    }
}
