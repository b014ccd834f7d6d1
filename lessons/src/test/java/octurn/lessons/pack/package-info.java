@NullMarked
package octurn.lessons.pack;

import org.jspecify.annotations.NullMarked;
