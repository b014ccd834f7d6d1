/**
 * Manual pages and completion scripts for the distribution, made by the build from the table of commands.
 *
 * <p>In: the commands. Out: files in the folder that the build names. No command of {@code octurn} knows it.
 */
@NullMarked
package octurn.cli.man;

import org.jspecify.annotations.NullMarked;
