package octurn.run;

/** Is told how far a long move has come, and may end it. */
@FunctionalInterface
public interface Progress {

    /** Nobody looks, nobody interrupts. */
    Progress NONE = (cycle, target) -> true;

    /**
     * Tells how far a move has come; called every few ten thousand cycles at the latest.
     *
     * @param cycle the cycle reached
     * @param target the cycle at which the move ends at the latest
     * @return false to end the move here
     */
    boolean goOn(long cycle, long target);
}
