/** Tests of `octurn.lessons.text`. */
@NullMarked
package octurn.lessons.text;

import org.jspecify.annotations.NullMarked;
