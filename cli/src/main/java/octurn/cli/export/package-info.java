/**
 * Tables that leave the terminal as files for other programs.
 *
 * <p>In: data of the core. Out: text. It knows no file and no option.
 */
@NullMarked
package octurn.cli.export;

import org.jspecify.annotations.NullMarked;
