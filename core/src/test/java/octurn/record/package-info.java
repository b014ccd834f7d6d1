/** Tests of {@link octurn.record}. */
@NullMarked
package octurn.record;

import org.jspecify.annotations.NullMarked;
