/** Tests of the pictures. */
@NullMarked
package octurn.cli.draw;

import org.jspecify.annotations.NullMarked;
