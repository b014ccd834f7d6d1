/** Tests of grids, their points, and what is found in them. */
@NullMarked
package octurn.sweep;

import org.jspecify.annotations.NullMarked;
