/** Tests of {@link octurn.cli.page}, most of them in a real browser. */
@NullMarked
package octurn.cli.page;

import org.jspecify.annotations.NullMarked;
