/**
 * The one stream of what happened: the engine tells events as plain numbers to a {@link octurn.trace.Sink}; views read
 * them as {@link octurn.trace.Event}s.
 *
 * <p>It knows no machine: cores, states and addresses are numbers here.
 */
@NullMarked
package octurn.trace;

import org.jspecify.annotations.NullMarked;
