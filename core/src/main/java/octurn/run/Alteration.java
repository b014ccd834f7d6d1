package octurn.run;

import octurn.machine.Change;

/**
 * A change that a person made by hand in a run.
 *
 * @param cycle at whose beginning it takes effect, from 0
 * @param change what
 */
public record Alteration(long cycle, Change change) {

    public Alteration {
        if (cycle < 0) {
            throw new IllegalArgumentException("cycle: %d, not from 0".formatted(cycle));
        }
    }
}
