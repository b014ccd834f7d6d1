/** Tests of the manual pages. */
@NullMarked
package octurn.cli.man;

import org.jspecify.annotations.NullMarked;
