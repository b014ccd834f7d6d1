package octurn.machine;

import java.util.List;
import octurn.design.Admission;
import octurn.design.Clock;
import octurn.design.Cost;
import octurn.design.Design;

/** The default design with some fields changed; each method gives a changed copy. */
public record TestDesign(
        int cores, int privateWords, int sharedWords, int slotCycles, Admission admission, Cost cost, int pins) {

    /** The default: eight cores in plain rotation, slots of 3 cycles. */
    public static TestDesign design() {
        Design standard = Design.DEFAULT;
        return new TestDesign(
                standard.cores(),
                standard.privateWords(),
                standard.sharedWords(),
                standard.slotCycles(),
                standard.admission(),
                standard.cost(),
                standard.pins());
    }

    /** The default with another policy. */
    public static TestDesign under(Admission admission) {
        return design().admission(admission);
    }

    /** The default without contention: every wait is 0, which makes arithmetic short. */
    public static TestDesign ownPort() {
        return under(new Admission.OwnPort());
    }

    /** The default under plain rotation, with another order. */
    public static TestDesign rotation(Integer... order) {
        return under(new Admission.Rotation(List.of(order)));
    }

    /** This many cores; a rotation takes them in plain order. */
    public TestDesign cores(int cores) {
        Admission same = admission instanceof Admission.Rotation rotation
                        && rotation.order().equals(Design.plainOrder(this.cores))
                ? new Admission.Rotation(Design.plainOrder(cores))
                : admission;
        return new TestDesign(cores, privateWords, sharedWords, slotCycles, same, cost, pins);
    }

    public TestDesign privateWords(int words) {
        return new TestDesign(cores, words, sharedWords, slotCycles, admission, cost, pins);
    }

    public TestDesign sharedWords(int words) {
        return new TestDesign(cores, privateWords, words, slotCycles, admission, cost, pins);
    }

    public TestDesign slotCycles(int cycles) {
        return new TestDesign(cores, privateWords, sharedWords, cycles, admission, cost, pins);
    }

    public TestDesign admission(Admission policy) {
        return new TestDesign(cores, privateWords, sharedWords, slotCycles, policy, cost, pins);
    }

    public TestDesign cost(int plain, int privateAccess, int taken, int multiply, int divide) {
        Cost other = new Cost(plain, privateAccess, taken, multiply, divide);
        return new TestDesign(cores, privateWords, sharedWords, slotCycles, admission, other, pins);
    }

    /** Another cost of plain instructions; the rest stays. */
    public TestDesign plain(int plain) {
        return cost(plain, cost.privateAccess(), cost.taken(), cost.multiply(), cost.divide());
    }

    public TestDesign pins(int pins) {
        return new TestDesign(cores, privateWords, sharedWords, slotCycles, admission, cost, pins);
    }

    /** The design itself. */
    public Design build() {
        return new Design(
                "for a test", cores, privateWords, sharedWords, slotCycles, admission, cost, pins, Clock.DEFAULT);
    }
}
