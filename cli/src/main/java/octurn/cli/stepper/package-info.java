/**
 * The stepper as a state machine: a command goes in, a new state and an answer come out. One table of commands serves the
 * keys, the command line, scripts, lines of words, and the help.
 *
 * <p>It knows no terminal and no files but what it is handed, and asks no clock.
 */
@NullMarked
package octurn.cli.stepper;

import org.jspecify.annotations.NullMarked;
