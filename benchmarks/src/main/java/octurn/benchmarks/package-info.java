/**
 * How fast the chip runs, in cycles simulated per second.
 *
 * <p>In come programs and designs written for the purpose; out go JMH's figures. Knows the core's public types only, and
 * neither the lessons nor the command.
 */
@NullMarked
package octurn.benchmarks;

import org.jspecify.annotations.NullMarked;
