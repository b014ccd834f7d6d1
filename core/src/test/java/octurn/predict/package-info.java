/** Tests of the formulas against published values, and of runs against the formulas. */
@NullMarked
package octurn.predict;

import org.jspecify.annotations.NullMarked;
