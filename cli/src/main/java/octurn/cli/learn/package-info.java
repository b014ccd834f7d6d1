/**
 * Learning as a state machine: a command goes in, a new state and an answer come out; one table of commands serves the
 * keys, the lines of words and the help. And what a student has done so far, as data.
 *
 * <p>It knows no terminal and no files but what it is handed, and asks no clock.
 */
@NullMarked
package octurn.cli.learn;

import org.jspecify.annotations.NullMarked;
