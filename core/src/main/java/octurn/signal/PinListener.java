package octurn.signal;

/** Is told what the pins do, cycle by cycle in ascending order, and in one cycle in ascending order of pins. */
@FunctionalInterface
public interface PinListener {

    /** From the beginning of this cycle on the pin is this; every pin is told at cycle 0, and then at each change. */
    void pin(int pin, long cycle, PinState state);
}
