package octurn.signal;

import octurn.design.Input;

/**
 * What one pin is in a cycle.
 *
 * @param high its level, as a core reads it
 * @param clash whether outputs fight: driving values differ, or differ from what the outside gives
 * @param drivers the cores that drive it, bit i for core i
 * @param outside what the outside gives it: 0, 1 or {@link Input#NOTHING}
 */
public record PinState(boolean high, boolean clash, int drivers, int outside) {

    /** Nobody drives the pin and the outside gives it nothing; a core reads it as low. */
    public static final PinState OPEN = new PinState(false, false, 0, Input.NOTHING);

    /** Whether neither a core nor the outside gives the pin a level; on a real part it would float. */
    public boolean isOpen() {
        return drivers == 0 && outside == Input.NOTHING;
    }

    /** Whether this core drives the pin. */
    public boolean isDrivenBy(int core) {
        return (drivers >>> core & 1) != 0;
    }
}
