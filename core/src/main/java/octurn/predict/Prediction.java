package octurn.predict;

import java.util.List;

/**
 * What a theory says of a run, beside what was measured.
 *
 * @param theory which
 * @param quantity what is predicted
 * @param of whose it is where it is not the whole run's, as {@code core 3}; empty otherwise
 * @param predicted by the theory
 * @param measured in the run
 * @param bound whether the prediction is a bound that cannot be passed rather than a value to be met
 * @param broken what does not hold of what the theory takes for granted, each in a few words; empty if all of it holds
 *     as far as can be told
 */
public record Prediction(
        Theory theory,
        Quantity quantity,
        String of,
        double predicted,
        double measured,
        boolean bound,
        List<String> broken) {

    public Prediction {
        broken = List.copyOf(broken);
    }

    /** By how much the measured value is above the predicted one, in percent of the predicted; NaN of 0. */
    public double differencePercent() {
        if (measured == predicted) {
            return 0;
        }
        return predicted == 0 ? Double.NaN : 100 * (measured - predicted) / predicted;
    }
}
