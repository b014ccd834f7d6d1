package octurn.asm;

import java.util.function.Consumer;

/** An expression as written; {@link Evaluator} says what it comes to. */
sealed interface Expression {

    Place place();

    /** A number or character. */
    record Literal(long number, Place place) implements Expression {}

    /** A constant, label or image. */
    record Name(String name, Place place) implements Expression {}

    /** An expression in parentheses. */
    record Group(Expression inner, Place place) implements Expression {}

    /** {@code - ~}. */
    record Unary(String sign, Expression operand, Place place) implements Expression {}

    /** Two operands; the place is that of the whole, the sign's place its own. */
    record Binary(String sign, Place signPlace, Expression left, Expression right) implements Expression {
        @Override
        public Place place() {
            return left.place().to(right.place());
        }
    }

    /** Visits every name in it, from left to right. */
    default void names(Consumer<Name> visitor) {
        if (this instanceof Name name) {
            visitor.accept(name);
        } else if (this instanceof Group group) {
            group.inner.names(visitor);
        } else if (this instanceof Unary unary) {
            unary.operand.names(visitor);
        } else if (this instanceof Binary binary) {
            binary.left.names(visitor);
            binary.right.names(visitor);
        }
    }
}
