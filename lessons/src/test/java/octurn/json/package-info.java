/** What the JSON forms accept, refuse and write. */
@NullMarked
package octurn.json;

import org.jspecify.annotations.NullMarked;
