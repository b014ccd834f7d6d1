@NullMarked
package octurn.lessons.mark;

import org.jspecify.annotations.NullMarked;
