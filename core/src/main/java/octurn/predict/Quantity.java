package octurn.predict;

/** What is predicted. */
public enum Quantity {
    MEAN_WAIT("mean wait", "cycles"),
    LONGEST_WAIT("longest wait", "cycles"),
    MEMORY_HELD("memory held", "of the time"),
    CYCLES_PER_INSTRUCTION("cycles per instruction", "cycles"),
    INSTRUCTIONS_PER_CYCLE("instructions a cycle", "instructions"),
    SHARE("share of the accesses", "of all"),
    SPEED_UP("speed-up", "times as fast");

    private final String text;
    private final String unit;

    Quantity(String text, String unit) {
        this.text = text;
        this.unit = unit;
    }

    /** Its name. */
    public String text() {
        return text;
    }

    /** What it is counted in. */
    public String unit() {
        return unit;
    }
}
