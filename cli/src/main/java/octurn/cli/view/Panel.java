package octurn.cli.view;

import java.util.Locale;

/** The parts of the chip that the stepper can show beside the source. */
public enum Panel {
    REGISTERS("the chosen core's registers"),
    SHARED("shared memory, with who touches it now"),
    PRIVATE("the chosen core's private RAM"),
    PINS("all pins, with their levels lately"),
    TALLIES("the chosen core's pins and tallies"),
    TURNS("who was admitted when, and who is in line");

    private final String what;

    Panel(String what) {
        this.what = what;
    }

    /** As in commands. */
    public String text() {
        return name().toLowerCase(Locale.ROOT);
    }

    /** What it shows, in a few words. */
    public String what() {
        return what;
    }

    /** So many further on, round and round. */
    public Panel plus(int steps) {
        return values()[Math.floorMod(ordinal() + steps, values().length)];
    }
}
