/** Tests of learning as a state machine, without a terminal. */
@NullMarked
package octurn.cli.learn;

import org.jspecify.annotations.NullMarked;
