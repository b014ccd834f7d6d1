/**
 * What a command knows of the process it runs in: standard streams and what can be shown there
 * ({@link octurn.cli.process.Surroundings}), files and folders to read and to write, threads to share out work to, exit
 * codes, and the one exception that ends a command ({@link octurn.cli.process.Failure}).
 *
 * <p>In: names and bytes. Out: bytes, or one line that says what is wrong. It knows no command and no option.
 */
@NullMarked
package octurn.cli.process;

import org.jspecify.annotations.NullMarked;
