/**
 * Running a program: a chip with the program in its memories, an engine that moves it, and the limit of the run.
 *
 * <p>In: a program and a scenario. Out: the chip at any cycle of the run. It knows no report and no view.
 */
@NullMarked
package octurn.run;

import org.jspecify.annotations.NullMarked;
