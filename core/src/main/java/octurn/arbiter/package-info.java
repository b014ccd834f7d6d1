/**
 * The admission policies: who gets the shared memory, and when.
 *
 * <p>{@link octurn.arbiter.Rotation} knows the time of every slot in advance. The others ({@link
 * octurn.arbiter.Chooser}) are asked whenever the memory is free and a request is up. What they remember lies in {@link
 * octurn.arbiter.Memory}, which is part of the chip's saved state.
 */
@NullMarked
package octurn.arbiter;

import org.jspecify.annotations.NullMarked;
