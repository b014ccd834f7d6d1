/** What is said of runs and designs, held against runs. */
@NullMarked
package octurn.report;

import org.jspecify.annotations.NullMarked;
