package octurn.lessons.check;

/**
 * Where something went wrong.
 *
 * @param line of the student's program; 0 for none
 * @param cycle -1 for none
 * @param words the same in one sentence; empty for none
 */
record Culprit(int line, long cycle, String words) {

    /** Nobody can be named. */
    static final Culprit NONE = new Culprit(0, -1, "");
}
