/** Waveforms held against the chip, and what is read off them held against what was sent. */
@NullMarked
package octurn.signal;

import org.jspecify.annotations.NullMarked;
