/**
 * Programs that run on the chip and whose results others have published. Each check names its source; where the JDK
 * has an implementation of its own, the chip is compared with that as well, on texts and numbers of the test's making.
 */
@NullMarked
package octurn.published;

import org.jspecify.annotations.NullMarked;
