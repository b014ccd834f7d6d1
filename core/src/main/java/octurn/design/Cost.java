package octurn.design;

/**
 * What instructions cost, in cycles, each 1..64.
 *
 * @param plain arithmetic, ports, and the work before an access
 * @param privateAccess {@code load} and {@code store}; {@code private} in a design file
 * @param taken a jump that goes
 * @param multiply {@code mul}, {@code mulh}
 * @param divide {@code div}, {@code rem}
 */
public record Cost(int plain, int privateAccess, int taken, int multiply, int divide) {

    /** The cost of the default design. */
    public static final Cost DEFAULT = new Cost(1, 2, 2, 4, 16);

    public Cost {
        Field.COST_PLAIN.check(plain);
        Field.COST_PRIVATE.check(privateAccess);
        Field.COST_TAKEN.check(taken);
        Field.COST_MULTIPLY.check(multiply);
        Field.COST_DIVIDE.check(divide);
    }
}
