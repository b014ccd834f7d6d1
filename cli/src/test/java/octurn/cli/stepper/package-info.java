/** Tests of the stepper as a state machine, without a terminal. */
@NullMarked
package octurn.cli.stepper;

import org.jspecify.annotations.NullMarked;
