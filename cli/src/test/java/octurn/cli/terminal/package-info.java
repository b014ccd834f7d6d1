/** Tests of the stepper on a terminal, a made-up one and a real one. */
@NullMarked
package octurn.cli.terminal;

import org.jspecify.annotations.NullMarked;
