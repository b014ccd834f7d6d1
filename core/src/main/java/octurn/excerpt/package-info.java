/**
 * A stretch of a run, kept to be drawn: what each core did from when to when, instructions with their labels, the pins,
 * and the words that went from core to core.
 *
 * <p>In: a program, a scenario, and the cycles that are wanted. Out: an {@link octurn.excerpt.Excerpt}, taken by a
 * {@link octurn.excerpt.Recorder} that listens to the run. Long stretches are merged into columns while they are told, so
 * what is kept does not grow with them. It knows no picture, no text and no size of either.
 */
@NullMarked
package octurn.excerpt;

import org.jspecify.annotations.NullMarked;
