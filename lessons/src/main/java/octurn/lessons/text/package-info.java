/**
 * The texts of lessons.
 *
 * <p>In: Markdown with values in braces ({@link octurn.lessons.text.Template}). Out: blocks and inlines without any
 * markup left in them ({@link octurn.lessons.text.Prose}), to be drawn as lines elsewhere or written as HTML here
 * ({@link octurn.lessons.text.Html}). What reaches a {@code Prose} is harmless: raw HTML has become text, and control
 * characters have become replacement characters. Only {@code Markdown} knows the Markdown library.
 */
@NullMarked
package octurn.lessons.text;

import org.jspecify.annotations.NullMarked;
