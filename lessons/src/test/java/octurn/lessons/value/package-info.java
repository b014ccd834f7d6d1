/** Tests of `octurn.lessons.value`. */
@NullMarked
package octurn.lessons.value;

import org.jspecify.annotations.NullMarked;
