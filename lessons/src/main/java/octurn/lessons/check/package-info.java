/**
 * Checks: of a student's work against its task ({@link octurn.lessons.check.TaskCheck}), and of a lesson by its author
 * ({@link octurn.lessons.check.LessonReview}).
 *
 * <p>In: a lesson with one student's numbers, and bytes that nobody has looked at before. Out: what passed, and what
 * did not with the line and the cycle where it went wrong, but never how to mend it. It opens no file and knows no
 * terminal.
 */
@NullMarked
package octurn.lessons.check;

import org.jspecify.annotations.NullMarked;
