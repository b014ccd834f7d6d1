/**
 * Makes programs whose cores access memory with a given think time, so that theory and run can be compared.
 *
 * <p>In: what the cores are to do, and the design whose costs it is reckoned for. Out: the text of a program file.
 */
@NullMarked
package octurn.workload;

import org.jspecify.annotations.NullMarked;
