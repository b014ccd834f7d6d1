package octurn.lessons.mark;

/**
 * One check of a task on one run.
 *
 * @param check what is asked, in words
 * @param run on which design and scenario
 * @param passed whether it holds
 * @param message what is so instead; empty where it passed
 * @param line of the submission at which it went wrong, from 1; 0 if no line can be told
 * @param cycle in which it went wrong; -1 if none can be told
 */
public record Checked(String check, String run, boolean passed, String message, int line, long cycle) {}
