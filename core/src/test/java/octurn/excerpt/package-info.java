/** Tests of excerpts. */
@NullMarked
package octurn.excerpt;

import org.jspecify.annotations.NullMarked;
