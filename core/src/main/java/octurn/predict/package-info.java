/**
 * What the textbooks say beforehand: each formula by its name and source ({@link octurn.predict.Theory}), and what they
 * give for a design, a think time or a run ({@link octurn.predict.Predictions}), with the assumptions that do not hold.
 *
 * <p>In: designs, numbers, the report of a run and its think times. Out: numbers. It runs nothing.
 */
@NullMarked
package octurn.predict;

import org.jspecify.annotations.NullMarked;
