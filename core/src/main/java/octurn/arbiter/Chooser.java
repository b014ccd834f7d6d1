package octurn.arbiter;

import octurn.design.Admission;
import octurn.design.Design;

/** A policy that decides when the memory is free and at least one request is up. */
@FunctionalInterface
public interface Chooser {

    /**
     * The core to admit.
     *
     * @param requests the cores whose requests are up, bit i for core i; not 0
     * @param requestCycle for each of them the cycle at whose beginning it was raised
     * @param memory what the policy remembers; it may change it
     * @return one of the requesting cores
     */
    int choose(int requests, long[] requestCycle, Memory memory);

    /** Whether it draws lots, so that the same requests need not lead to the same choice. */
    default boolean draws() {
        return false;
    }

    /**
     * The policy of this design.
     *
     * @throws IllegalArgumentException for rotation and own-port, under which there is nothing to choose
     */
    static Chooser of(Design design) {
        Admission admission = design.admission();
        if (admission instanceof Admission.NextWaiting) {
            return new NextWaiting();
        } else if (admission instanceof Admission.Priority priority) {
            return new Priority(priority.order());
        } else if (admission instanceof Admission.FirstCome) {
            return new FirstCome();
        } else if (admission instanceof Admission.Lottery lottery) {
            return new Lottery(lottery.weights());
        }
        throw new IllegalArgumentException(admission.policy() + " has nothing to choose");
    }
}
