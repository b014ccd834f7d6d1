/**
 * The chip and the engine that runs it.
 *
 * <p>{@link octurn.machine.Chip} is all that the chip is at one moment, its counters included, and can be saved and
 * restored; {@link octurn.machine.Engine} moves it through time. In: a design, a scenario, words in memories. Out: the
 * chip's later states, and events to a {@link octurn.trace.Sink}. It knows no program text and no report.
 *
 * <p>{@link octurn.machine.ClearEngine} is the definition. {@link octurn.machine.FastEngine} leans on it for all that is
 * rare, and has for the rest: {@code PrivateWork}, what one core does that nobody can see; {@code Accesses}, its data
 * accesses in one step; {@code Schedule}, whose access takes effect next; {@code Translator}, busy code as Java bytecode; and {@code ChipLoops}, which goes round in what all
 * cores do again and again.
 */
@NullMarked
package octurn.machine;

import org.jspecify.annotations.NullMarked;
