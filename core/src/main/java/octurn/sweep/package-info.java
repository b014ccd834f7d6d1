/**
 * Sweeps: a program under every combination of given values of design fields and program constants.
 *
 * <p>In: a program's text, a design, and axes of values. Out: the points of the grid, each of which can be run by itself
 * in any order, and rows of figures. It starts no thread and writes no file.
 */
@NullMarked
package octurn.sweep;

import org.jspecify.annotations.NullMarked;
