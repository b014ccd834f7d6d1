package octurn.lessons;

import octurn.design.Admission;
import octurn.design.Design;

/**
 * The figures of a design that misconceptions are about, in cycles.
 *
 * @param issue the work of an access before its request is up
 * @param slot how long an access holds the memory
 * @param rotation from one turn to the next in plain order: all slots of the order; under other policies a slot for each
 *     core
 */
record DesignFigures(long issue, long slot, long rotation) {

    static DesignFigures of(Design design) {
        int slots = design.admission() instanceof Admission.Rotation rotation
                ? rotation.order().size()
                : design.cores();
        return new DesignFigures(design.cost().plain(), design.slotCycles(), (long) slots * design.slotCycles());
    }
}
