/**
 * Turns and waits against the literature: rotation and the other policies held to closed formulas, small Markov chains
 * and published values. Where a value is derived here rather than printed elsewhere, the check says "derived".
 */
@NullMarked
package octurn.timing;

import org.jspecify.annotations.NullMarked;
