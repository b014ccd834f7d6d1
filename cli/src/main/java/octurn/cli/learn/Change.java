package octurn.cli.learn;

/**
 * Something that happened while learning, to be noted in the progress. Changes of several sessions can be noted in any
 * order: none of them takes back what another session has reached.
 */
public sealed interface Change {

    /** Who did it, and in which lesson. */
    Where where();

    /** The number of the step, from 1. */
    int step();

    /**
     * A lesson and a student.
     *
     * @param student the name; empty for a student without one
     * @param course its title
     * @param lesson its id
     * @param fingerprint of the lesson's files as they were
     */
    record Where(String student, String course, String lesson, String fingerprint) {}

    /** The student has come to this step. */
    record Came(Where where, int step) implements Change {}

    /** The student has gone through this step, which asks for nothing. */
    record Went(Where where, int step) implements Change {}

    /** A question was answered. */
    record Answered(Where where, int step, String answer, boolean right) implements Change {}

    /** A task was begun in this file. */
    record Began(Where where, int step, String file) implements Change {}

    /** So many hints of a task have been shown. */
    record Hinted(Where where, int step, int hints) implements Change {}

    /** The student's file was checked; {@code program} is the fingerprint of what was in it. */
    record Checked(Where where, int step, String program, boolean passed) implements Change {}

    /** The lesson has changed, and what was done of this step no longer holds. */
    record Lapsed(Where where, int step) implements Change {}
}
