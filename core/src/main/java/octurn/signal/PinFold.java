package octurn.signal;

import java.util.Arrays;
import octurn.design.Design;
import octurn.design.Input;
import octurn.design.Scenario;
import octurn.isa.Port;
import octurn.trace.Kind;
import octurn.trace.Sink;
import org.jspecify.annotations.Nullable;

/**
 * Folds the events of a run, from cycle 0 on, into what each pin is: its level, clash, drivers and what the outside
 * gives. It keeps the present cycle alone, however long the run.
 *
 * <p>A cycle is told once all of its events are in, that is with the first event of a later cycle, with the end of the
 * run, or by {@link #close}. What would have been at the cycle of the end is not told, for that cycle is not run.
 */
public final class PinFold implements Sink {

    private final PinListener listener;
    private final Input[] inputs;
    private final long[] nextInput;
    private final int[] drive;
    private final @Nullable PinState[] states;

    private long cycle;
    private int levels;
    private int clashes;
    private int given;
    private int givenLevels;
    /** Pins of which something may have changed in the present cycle. */
    private int touched;

    private boolean over;

    /** A fold for a run of a program on a chip of this design. */
    public PinFold(Design design, Scenario scenario, PinListener listener) {
        this.listener = listener;
        this.inputs = scenario.inputs().stream()
                .filter(input -> input.pin() < design.pins())
                .toArray(Input[]::new);
        this.nextInput = new long[inputs.length];
        this.drive = new int[design.cores()];
        this.states = new @Nullable PinState[design.pins()];
        this.touched = design.pinMask();
    }

    @Override
    public void event(Kind kind, long at, int core, long a, long b) {
        if (at > cycle && !over) {
            advance(at);
        }
        switch (kind) {
            case PORT -> {
                if (a == Port.DRIVE.code()) {
                    setDrive(core, (int) b);
                }
            }
            case LET_GO -> setDrive(core, 0);
            case PINS -> {
                touched |= (levels ^ (int) a) | (clashes ^ (int) b);
                levels = (int) a;
                clashes = (int) b;
            }
            case END -> over = true;
            default -> {
                // Nothing about pins.
            }
        }
    }

    /** Tells all cycles before this one, for a run that has come so far and is not over; later ones may follow. */
    public void close(long to) {
        if (to > cycle && !over) {
            advance(to);
        }
    }

    /** The first cycle that is not told yet; after the end of the run that of the end. */
    public long cycle() {
        return cycle;
    }

    private void setDrive(int core, int mask) {
        touched |= drive[core] ^ mask;
        drive[core] = mask;
    }

    private void advance(long to) {
        tell();
        for (long next = nextOutside(); next < to; next = nextOutside()) {
            cycle = next;
            tell();
        }
        cycle = to;
    }

    private long nextOutside() {
        return Arrays.stream(nextInput).min().orElse(Input.NEVER);
    }

    private void tell() {
        readOutside();
        for (int rest = touched; rest != 0; rest &= rest - 1) {
            int pin = Integer.numberOfTrailingZeros(rest);
            PinState state = state(pin);
            if (!state.equals(states[pin])) {
                states[pin] = state;
                listener.pin(pin, cycle, state);
            }
        }
        touched = 0;
    }

    private void readOutside() {
        for (int i = 0; i < inputs.length; i++) {
            if (nextInput[i] <= cycle) {
                int bit = 1 << inputs[i].pin();
                int now = inputs[i].at(cycle);
                given = now == Input.NOTHING ? given & ~bit : given | bit;
                givenLevels = now == 1 ? givenLevels | bit : givenLevels & ~bit;
                touched |= bit;
                nextInput[i] = inputs[i].nextChange(cycle);
            }
        }
    }

    private PinState state(int pin) {
        int drivers = 0;
        for (int core = 0; core < drive.length; core++) {
            drivers |= (drive[core] >>> pin & 1) << core;
        }
        boolean high = (levels >>> pin & 1) != 0;
        int outside = (given >>> pin & 1) == 0 ? Input.NOTHING : givenLevels >>> pin & 1;
        if (drivers == 0 && high != (outside == 1)) {
            // Set by hand, which goes before the scenario.
            outside = high ? 1 : 0;
        }
        return new PinState(high, (clashes >>> pin & 1) != 0, drivers, outside);
    }
}
