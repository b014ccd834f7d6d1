/**
 * What lessons compute: expressions over numbers and over what a run has shown.
 *
 * <p>In: the text of an expression, and what the names in it stand for ({@link octurn.lessons.value.Names}). Out: a
 * number, or a diagnostic with its place. {@link octurn.lessons.value.Measured} is one finished run,
 * {@code Measures} the table of what can be asked of it. It knows no lesson, opens no file and knows no terminal.
 */
@NullMarked
package octurn.lessons.value;

import org.jspecify.annotations.NullMarked;
