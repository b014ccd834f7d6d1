/** Files and streams as commands use them. */
@NullMarked
package octurn.cli.process;

import org.jspecify.annotations.NullMarked;
