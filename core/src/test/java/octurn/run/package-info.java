/** Tests of runs and timelines: the laws that hold between a run, its events and its keyframes, on random programs. */
@NullMarked
package octurn.run;

import org.jspecify.annotations.NullMarked;
