/**
 * Measuring a run while it goes: meters that listen to its events ({@link octurn.trace.Sink}) and give figures that the
 * run report has not: the waits of each access by line with what the rule of turns says of them, the passes of loops, the
 * time between two labels, the think times between accesses.
 *
 * <p>In: a program and the events of its run. Out: records of numbers ({@link octurn.measure.Measurement}). Meters fold
 * over events alone, so they look at no chip and change none; and they know no view.
 */
@NullMarked
package octurn.measure;

import org.jspecify.annotations.NullMarked;
