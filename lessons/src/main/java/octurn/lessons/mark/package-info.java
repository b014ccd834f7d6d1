/**
 * Marks what students hand in: each file is held against a lesson's task, and the marks of a class are put side by side.
 * Bytes and names come in, records of marks go out; it touches no file, clock or thread, and draws no page.
 */
@NullMarked
package octurn.lessons.mark;

import org.jspecify.annotations.NullMarked;
