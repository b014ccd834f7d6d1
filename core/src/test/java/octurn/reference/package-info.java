/**
 * The chip a second time, for tests: {@link octurn.reference.ReferenceModel} steps every core in every cycle, as slow
 * and as literal as the rules read, and shares no code with the engine. Beside it: the golden cases, a generator of
 * random programs, and the tests that hold model, cases and engine against each other.
 *
 * <p>It knows the design, the assembled program and the form of the report, and nothing of {@code octurn.machine} but
 * the names of states, ends and faults.
 */
@NullMarked
package octurn.reference;

import org.jspecify.annotations.NullMarked;
