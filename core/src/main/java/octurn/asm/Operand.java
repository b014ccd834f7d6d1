package octurn.asm;

import org.jspecify.annotations.Nullable;

/**
 * One operand of an instruction.
 *
 * @param number a register, port or condition by its number, -1 if it names none
 * @param expression a constant, target or address, or what is added to the register of an address; null if there is none
 */
record Operand(int number, @Nullable Expression expression, Place place) {

    static final int NONE = -1;

    static Operand number(int number, Place place) {
        return new Operand(number, null, place);
    }

    static Operand of(Expression expression) {
        return new Operand(NONE, expression, expression.place());
    }

    boolean isRegister() {
        return number != NONE;
    }
}
