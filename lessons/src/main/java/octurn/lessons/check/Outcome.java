package octurn.lessons.check;

import octurn.lessons.Check;
import octurn.lessons.text.Prose;

/**
 * What came of one check in one run.
 *
 * @param check which
 * @param what the check in words, as in {@code count = 300 at the end}
 * @param on which run, as in {@code on four-cores, dry.scenario.json}; empty if there is only one
 * @param passed whether it passed
 * @param message what went wrong and where; empty if it passed
 * @param line the line of the student's program at which it went wrong; 0 where there is none to name
 * @param cycle the cycle in which it went wrong; -1 where there is none to name
 * @param say what to look at, in the author's words; empty if it passed or the author says nothing
 */
public record Outcome(
        Check check, String what, String on, boolean passed, String message, int line, long cycle, Prose say) {}
