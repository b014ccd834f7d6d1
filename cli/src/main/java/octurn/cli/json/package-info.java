/**
 * The JSON forms of what commands report besides runs: checks, listings, designs. {@code docs/schema} describes them.
 */
@NullMarked
package octurn.cli.json;

import org.jspecify.annotations.NullMarked;
