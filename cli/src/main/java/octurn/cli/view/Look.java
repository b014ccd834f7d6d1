package octurn.cli.view;

/**
 * What a person chose to look at, and how.
 *
 * @param core the chosen core
 * @param panel the panel beside the source; where there is room, others follow
 * @param base how words are written
 * @param address the first word of a memory panel; {@link #FOLLOW} goes with what the core does
 * @param scroll rows that panels without addresses are moved up by
 * @param line the chosen line of the source, from 1; {@link #FOLLOW} goes with what the core does
 * @param cyclesAColumn cycles that one column of a pin's wave stands for
 * @param overlay what covers the lower part or all of the screen
 * @param overlayScroll rows that the overlay is moved up by
 */
public record Look(
        int core,
        Panel panel,
        NumberBase base,
        int address,
        int scroll,
        int line,
        int cyclesAColumn,
        Overlay overlay,
        int overlayScroll) {

    /** Nothing is chosen: the screen goes with what the core does. */
    public static final int FOLLOW = -1;

    /** The look at the start, at this core. */
    public static Look at(int core) {
        return new Look(core, Panel.REGISTERS, NumberBase.DECIMAL, FOLLOW, 0, FOLLOW, 1, Overlay.NONE, 0);
    }

    /** What can cover a part of the screen. */
    public enum Overlay {
        NONE,
        /** Why the chosen core waits. */
        WHY,
        /** The answer to a command that takes more than one line. */
        ANSWER,
        /** Keys and commands. */
        HELP
    }

    public Look withCore(int newCore) {
        return new Look(newCore, panel, base, FOLLOW, scroll, FOLLOW, cyclesAColumn, overlay, overlayScroll);
    }

    public Look withPanel(Panel newPanel) {
        return new Look(core, newPanel, base, FOLLOW, 0, line, cyclesAColumn, overlay, overlayScroll);
    }

    public Look withBase(NumberBase newBase) {
        return new Look(core, panel, newBase, address, scroll, line, cyclesAColumn, overlay, overlayScroll);
    }

    public Look withAddress(int newAddress) {
        return new Look(core, panel, base, newAddress, scroll, line, cyclesAColumn, overlay, overlayScroll);
    }

    public Look withScroll(int newScroll) {
        return new Look(core, panel, base, address, newScroll, line, cyclesAColumn, overlay, overlayScroll);
    }

    public Look withLine(int newLine) {
        return new Look(core, panel, base, address, scroll, newLine, cyclesAColumn, overlay, overlayScroll);
    }

    public Look withCyclesAColumn(int newCycles) {
        return new Look(core, panel, base, address, scroll, line, newCycles, overlay, overlayScroll);
    }

    public Look withOverlay(Overlay newOverlay) {
        return new Look(core, panel, base, address, scroll, line, cyclesAColumn, newOverlay, 0);
    }

    public Look withOverlayScroll(int newScroll) {
        return new Look(core, panel, base, address, scroll, line, cyclesAColumn, overlay, newScroll);
    }
}
