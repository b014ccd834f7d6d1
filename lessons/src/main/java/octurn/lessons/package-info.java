/**
 * Lessons: what a lesson is ({@link octurn.lessons.Lesson}), reading one ({@link octurn.lessons.LessonReader}), and
 * working through one ({@link octurn.lessons.Sitting}).
 *
 * <p>In: the files of a lesson as names and bytes ({@link octurn.lessons.LessonFiles}), and a student's name. Out: texts
 * with their values in them, programs to watch, questions and what answers to them are worth. It opens no file, keeps no
 * progress and knows no terminal.
 */
@NullMarked
package octurn.lessons;

import org.jspecify.annotations.NullMarked;
