/**
 * The commands, one class each: what they take from the command line, and what they do with it.
 *
 * <p>In: options and arguments. Out: lines and files through {@link octurn.cli.process.Surroundings}, and an exit code.
 * What is shown is made in {@code octurn.cli.view}, what is written in {@code octurn.json} and {@code octurn.cli.json}.
 */
@NullMarked
package octurn.cli.command;

import org.jspecify.annotations.NullMarked;
