package octurn.signal;

import java.util.OptionalDouble;

/**
 * The pulses of a line measured: whole ones alone, with both edges within the stretch that was looked at.
 *
 * @param rises edges from low to high
 * @param falls edges from high to low
 * @param high widths of the whole stretches at high, in cycles
 * @param low widths of the whole stretches at low, in cycles
 * @param riseToRise from each rise to the next, in cycles: the periods
 * @param highInPeriods cycles at high from the first rise to the last
 */
public record Pulses(int rises, int falls, Statistics high, Statistics low, Statistics riseToRise, long highInPeriods) {

    /** Measures a line. */
    public static Pulses of(Levels line) {
        Statistics.Adder high = new Statistics.Adder();
        Statistics.Adder low = new Statistics.Adder();
        Statistics.Adder periods = new Statistics.Adder();
        long highInPeriods = 0;
        int rises = 0;
        for (int i = 0; i < line.edges(); i++) {
            if (line.isRise(i)) {
                rises++;
            }
            if (i >= 1) {
                (line.isRise(i) ? low : high).add(line.edge(i) - line.edge(i - 1));
            }
            if (i >= 2 && line.isRise(i)) {
                periods.add(line.edge(i) - line.edge(i - 2));
                highInPeriods += line.edge(i - 1) - line.edge(i - 2);
            }
        }
        return new Pulses(
                rises, line.edges() - rises, high.statistics(), low.statistics(), periods.statistics(), highInPeriods);
    }

    /** The mean frequency in Hz; nothing without a whole period. */
    public OptionalDouble hertz(long clockHertz) {
        return riseToRise.count() == 0 ? OptionalDouble.empty() : OptionalDouble.of(clockHertz / riseToRise.mean());
    }

    /** The share of whole periods that is high, 0..1; nothing without a whole period. */
    public OptionalDouble duty() {
        return riseToRise.count() == 0
                ? OptionalDouble.empty()
                : OptionalDouble.of((double) highInPeriods / riseToRise.total());
    }
}
