/** What leaves as files for other programs, held against runs and against readers that others made. */
@NullMarked
package octurn.cli.export;

import org.jspecify.annotations.NullMarked;
