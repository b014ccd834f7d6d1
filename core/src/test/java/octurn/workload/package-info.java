/** Tests of the programs that workloads become. */
@NullMarked
package octurn.workload;

import org.jspecify.annotations.NullMarked;
