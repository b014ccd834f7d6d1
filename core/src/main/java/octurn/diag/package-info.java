/**
 * What is wrong with a text that somebody wrote: where ({@link octurn.diag.Span}), what, and what would be right
 * ({@link octurn.diag.Diagnostic}). A mistake in a program or a file is data, not an exception.
 *
 * <p>The same types serve programs, JSON files and lessons; only the command line turns them into lines. It prints
 * nothing and knows nothing of ours.
 */
@NullMarked
package octurn.diag;

import org.jspecify.annotations.NullMarked;
