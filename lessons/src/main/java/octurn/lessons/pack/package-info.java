/**
 * A lesson in one file: a zip file that anybody can make again byte for byte, and that is read with distrust. Bytes come
 * in, bytes go out; it touches no file.
 */
@NullMarked
package octurn.lessons.pack;

import org.jspecify.annotations.NullMarked;
