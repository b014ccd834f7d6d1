/**
 * What a chip is built like ({@link octurn.design.Design}) and what the world does to its pins
 * ({@link octurn.design.Scenario}): values with their ranges, and the arithmetic that follows from them.
 *
 * <p>It knows no files and no machine.
 */
@NullMarked
package octurn.design;

import org.jspecify.annotations.NullMarked;
