/**
 * The {@code octurn} command: the entry point, and below it one package for each part of the user interface.
 *
 * <p>In come the command line and the files it names; out go text on the terminal, files and an exit code.
 */
@NullMarked
package octurn.cli;

import org.jspecify.annotations.NullMarked;
