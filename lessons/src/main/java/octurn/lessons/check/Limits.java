package octurn.lessons.check;

import java.util.function.BooleanSupplier;
import octurn.run.Run;

/**
 * How far the checking of one piece of work may go.
 *
 * @param cycles the most cycles of a run, whatever the task allows
 * @param stop asked now and then whether to give up, as when time is over
 */
public record Limits(long cycles, BooleanSupplier stop) {

    /** As far as the task goes. */
    public static final Limits OF_THE_TASK = new Limits(Run.DEFAULT_LIMIT, () -> false);
}
