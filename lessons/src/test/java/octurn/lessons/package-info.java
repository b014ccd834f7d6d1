/** Lessons read, worked through and judged. */
@NullMarked
package octurn.lessons;

import org.jspecify.annotations.NullMarked;
