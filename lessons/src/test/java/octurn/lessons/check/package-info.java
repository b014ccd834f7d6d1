/** Tests of `octurn.lessons.check`. */
@NullMarked
package octurn.lessons.check;

import org.jspecify.annotations.NullMarked;
