package octurn.predict;

import java.util.ArrayList;
import java.util.List;

/**
 * How a program gets faster with more processors, beside the law that fits: the serial part is taken from the first two
 * measurements, so the law's value for these is no prediction; for all others it is.
 *
 * @param law {@link Theory#AMDAHL} if the task stays the same, {@link Theory#GUSTAFSON} if it grows with the processors
 * @param serialPart of the time: on one processor (Amdahl), or on the second number of processors measured (Gustafson)
 * @param rows one for each number of processors
 */
public record SpeedUp(Theory law, double serialPart, List<Row> rows) {

    public SpeedUp {
        rows = List.copyOf(rows);
    }

    /**
     * So many processors.
     *
     * @param processors how many
     * @param cycles that the task takes on them
     * @param measured the time of the same task on one processor, divided by that
     * @param predicted what the law says
     */
    public record Row(int processors, long cycles, double measured, double predicted) {

        /** By how much the measured value is above the predicted one, in percent of the predicted. */
        public double differencePercent() {
            return 100 * (measured - predicted) / predicted;
        }
    }

    /**
     * What was measured.
     *
     * @param processors at least 1
     * @param cycles that the task took on them
     * @param alone cycles that the same task takes on one processor
     */
    public record Measured(int processors, long cycles, long alone) {
        double speedUp() {
            return (double) alone / cycles;
        }
    }

    /**
     * The task is the same throughout: Amdahl's law.
     *
     * @param measured ascending by processors, the first with one; at least two
     * @throws IllegalArgumentException otherwise
     */
    public static SpeedUp sameTask(List<Measured> measured) {
        check(measured);
        Measured second = measured.get(1);
        double serial = Laws.serialPart(second.speedUp(), second.processors());
        return of(Theory.AMDAHL, serial, measured);
    }

    /**
     * The task grows with the processors: Gustafson's law.
     *
     * @param measured as for {@link #sameTask}
     */
    public static SpeedUp growingTask(List<Measured> measured) {
        check(measured);
        Measured second = measured.get(1);
        double serial = (second.processors() - second.speedUp()) / (second.processors() - 1);
        return of(Theory.GUSTAFSON, serial, measured);
    }

    private static void check(List<Measured> measured) {
        boolean ascending = measured.size() >= 2 && measured.get(0).processors() == 1;
        for (int i = 1; ascending && i < measured.size(); i++) {
            ascending = measured.get(i).processors() > measured.get(i - 1).processors();
        }
        if (!ascending) {
            throw new IllegalArgumentException(
                    "a speed-up needs one processor first and then at least one larger number, ascending");
        }
    }

    private static SpeedUp of(Theory law, double serial, List<Measured> measured) {
        List<Row> rows = new ArrayList<>();
        for (Measured one : measured) {
            double predicted = law == Theory.AMDAHL
                    ? Laws.amdahl(1 - serial, one.processors())
                    : Laws.gustafson(serial, one.processors());
            rows.add(new Row(one.processors(), one.cycles(), one.speedUp(), predicted));
        }
        return new SpeedUp(law, serial, rows);
    }
}
