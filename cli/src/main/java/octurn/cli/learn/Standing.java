package octurn.cli.learn;

import java.util.Map;

/**
 * How far a student is in a lesson.
 *
 * @param at the step that the student came to last, from 1; 0 if the lesson has not been begun
 * @param steps what was done of single steps, by number
 */
public record Standing(int at, Map<Integer, Step> steps) {

    /** A lesson that has not been begun. */
    public static final Standing NONE = new Standing(0, Map.of());

    public Standing {
        steps = Map.copyOf(steps);
    }

    /**
     * What was done of a step.
     *
     * @param lesson fingerprint of the lesson's files at the time
     * @param done answered rightly, or passed, or gone through
     * @param tries how often it was answered or checked
     * @param answer the answer given last, or the right one once it was given; empty for none
     * @param file the student's file; empty for none
     * @param program fingerprint of what was in it when it was checked last, or when it passed
     * @param hints how many were shown
     */
    public record Step(String lesson, boolean done, int tries, String answer, String file, String program, int hints) {

        /** Nothing was done. */
        public static final Step NONE = new Step("", false, 0, "", "", "", 0);
    }

    /** What was done of this step. */
    public Step step(int number) {
        return steps.getOrDefault(number, Step.NONE);
    }
}
