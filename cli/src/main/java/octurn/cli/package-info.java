/**
 * The {@code octurn} command: the entry point, what it knows of the world around it
 * ({@link octurn.cli.Surroundings}), and the one place where exceptions become messages and exit codes
 * ({@link octurn.cli.Application}). Below it one package for each part of the user interface.
 *
 * <p>In come the command line and the files it names; out go text on the terminal, files and an exit code.
 */
@NullMarked
package octurn.cli;

import org.jspecify.annotations.NullMarked;
