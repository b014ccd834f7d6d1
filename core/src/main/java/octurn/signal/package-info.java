/**
 * What the pins did, and what that means: the waveform of a pin, the bytes of a serial line, pulses and their figures,
 * and the arithmetic from baud rates and pulse widths to cycles.
 *
 * <p>In: the events of a run with what the scenario gives from outside ({@link octurn.signal.PinFold}). Out: waveforms
 * ({@link octurn.signal.Waveform}) and records of numbers. It knows no machine and no view; it prints nothing.
 */
@NullMarked
package octurn.signal;

import org.jspecify.annotations.NullMarked;
