package octurn.design;

import java.util.HashSet;
import java.util.List;
import java.util.OptionalInt;
import java.util.OptionalLong;
import java.util.Set;

/**
 * What the world does to the pins during a run, and how long to run.
 *
 * @param limit the run's cycle limit, 1..2^53-1, if the scenario gives one
 * @param inputs at most one a pin
 */
public record Scenario(OptionalLong limit, List<Input> inputs) {

    /** Nothing happens outside. */
    public static final Scenario QUIET = new Scenario(OptionalLong.empty(), List.of());

    /** The lowest pin that it gives a level though a chip of this design does not have it. */
    public OptionalInt pinBeyond(Design design) {
        return inputs.stream()
                .mapToInt(Input::pin)
                .filter(pin -> pin >= design.pins())
                .min();
    }

    /**
     * @throws IllegalArgumentException if a pin comes twice or the limit is out of range
     */
    public Scenario {
        inputs = List.copyOf(inputs);
        if (limit.isPresent() && (limit.getAsLong() < 1 || limit.getAsLong() > Input.MAX_CYCLE)) {
            throw new IllegalArgumentException("limit: %d, not 1..%d".formatted(limit.getAsLong(), Input.MAX_CYCLE));
        }
        Set<Integer> pins = new HashSet<>();
        for (Input input : inputs) {
            if (!pins.add(input.pin())) {
                throw new IllegalArgumentException("pin: %d is given twice".formatted(input.pin()));
            }
        }
    }
}
