/**
 * Whole screens on a terminal: keys, mouse and window size come in, frames go out. The only package that knows the
 * terminal library.
 *
 * <p>It decides nothing: a {@link octurn.cli.stepper.Show} says what a key does, and what is shown is a frame that the
 * views have drawn.
 */
@NullMarked
package octurn.cli.terminal;

import org.jspecify.annotations.NullMarked;
