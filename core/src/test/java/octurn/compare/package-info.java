/** Tests of comparisons: figures, results, and the sentences that say why. */
@NullMarked
package octurn.compare;

import org.jspecify.annotations.NullMarked;
