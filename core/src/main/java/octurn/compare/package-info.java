/**
 * One program under several designs: the figures of each run side by side, whether they come to the same result, and in
 * one sentence each why one takes longer than the other.
 *
 * <p>In: programs that were assembled for their designs, and the reports of their runs. Out: figures and sentences. It
 * runs nothing.
 */
@NullMarked
package octurn.compare;

import org.jspecify.annotations.NullMarked;
