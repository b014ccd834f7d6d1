/** Tests of the meters, on programs whose figures can be worked out by hand and on random ones. */
@NullMarked
package octurn.measure;

import org.jspecify.annotations.NullMarked;
