/**
 * Where every cycle went: the run report ({@link octurn.report.RunReport}) and what can be said of it.
 *
 * <p>In: a machine that has run, and its program. Out: numbers and sentences as data. It prints nothing.
 */
@NullMarked
package octurn.report;

import org.jspecify.annotations.NullMarked;
