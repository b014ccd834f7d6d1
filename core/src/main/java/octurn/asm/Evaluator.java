package octurn.asm;

import octurn.asm.Expression.Binary;
import octurn.asm.Expression.Group;
import octurn.asm.Expression.Literal;
import octurn.asm.Expression.Name;
import octurn.asm.Expression.Unary;
import org.jspecify.annotations.Nullable;

/** Says what expressions come to: signed 64-bit numbers that know which memory they are addresses in. */
final class Evaluator {
    private final Source source;
    private final Symbols symbols;
    private final Problems problems;

    Evaluator(Source source, Symbols symbols, Problems problems) {
        this.source = source;
        this.symbols = symbols;
        this.problems = problems;
    }

    /**
     * The value of an expression that stands in this section, or (null) outside of all.
     *
     * @return null if it has none; why was told then, here or where the mistake is
     */
    @Nullable
    Value value(Expression expression, @Nullable Section section) {
        if (expression instanceof Literal literal) {
            return Value.plain(literal.number());
        } else if (expression instanceof Name name) {
            return named(name, section);
        } else if (expression instanceof Group group) {
            return value(group.inner(), section);
        } else if (expression instanceof Unary unary) {
            Value value = value(unary.operand(), section);
            return value == null ? null : compute(unary.sign(), 0, value.number(), unary.place());
        } else {
            Binary binary = (Binary) expression;
            Value left = value(binary.left(), section);
            Value right = value(binary.right(), section);
            if (left == null || right == null) {
                return null;
            }
            Value number = compute(binary.sign(), left.number(), right.number(), binary.place());
            return number == null ? null : new Value(number.number(), home(binary.sign(), left, right));
        }
    }

    /**
     * The number of an expression that must fit somewhere.
     *
     * @param taker what takes it, for the message
     * @param hint what to do if it does not fit
     * @return null if it has no value or does not fit; why was told then
     */
    @Nullable
    Long number(Expression expression, Section section, Range range, String taker, @Nullable String hint) {
        Value value = value(expression, section);
        if (value == null || range.has(value.number())) {
            return value == null ? null : value.number();
        }
        String text = source.text(expression.place());
        String number = Long.toString(value.number());
        boolean plain = expression instanceof Literal
                || text.replace(" ", "").equals(number)
                || text.replace(" ", "").equals("+" + number);
        String shown = plain ? "constant " + number : "%s is %s and".formatted(Text.quoted(text), number);
        problems.error(expression.place(), "%s does not fit: %s takes %s".formatted(shown, taker, range), hint);
        return null;
    }

    private @Nullable Value named(Name name, @Nullable Section section) {
        Symbol symbol = symbols.find(name.name(), section);
        if (symbol == null) {
            problems.error(
                    name.place(),
                    "unknown name " + Text.quoted(name.name()),
                    () -> symbols.hintFor(name.name(), section));
            return null;
        }
        Symbol newest = symbol.newest;
        if (!symbol.settled && newest != null) {
            String where = "defined further down, on line " + newest.place.line();
            problems.error(
                    name.place(),
                    newest == symbol
                            ? "%s is %s".formatted(Text.quoted(symbol.name), where)
                            : "%s needs %s, %s".formatted(Text.quoted(symbol.name), Text.quoted(newest.name), where),
                    "space, shared at and core may use only labels above them");
        }
        return symbol.value;
    }

    /** A label plus or minus a number stays a label; whatever else is done to it makes it a plain number. */
    private static Home home(String sign, Value left, Value right) {
        if (right.isPlain() && (sign.equals("+") || sign.equals("-"))) {
            return left.home();
        }
        return left.isPlain() && sign.equals("+") ? right.home() : Home.NOWHERE;
    }

    private @Nullable Value compute(String sign, long left, long right, Place place) {
        try {
            return Value.plain(
                    switch (sign) {
                        case "+" -> Math.addExact(left, right);
                        case "-" -> Math.subtractExact(left, right);
                        case "~" -> ~right;
                        case "*" -> Math.multiplyExact(left, right);
                        case "/" -> divide(left, nonZero(right, place));
                        case "%" -> left % nonZero(right, place);
                        case "<<" -> shiftLeft(left, shift(right, place));
                        case ">>" -> left >> shift(right, place);
                        case "&" -> left & right;
                        case "^" -> left ^ right;
                        case "|" -> left | right;
                        default -> throw new IllegalStateException(sign);
                    });
        } catch (Mistake mistake) {
            mistake.report(problems);
        } catch (ArithmeticException overflow) {
            String operation =
                    sign.equals("-") && left == 0 ? "-(%d)".formatted(right) : "%d %s %d".formatted(left, sign, right);
            problems.error(place, operation + " overflows", "expressions are computed in signed 64-bit numbers");
        }
        return null;
    }

    private static long divide(long left, long right) {
        // The one quotient that does not fit.
        return right == -1 ? Math.negateExact(left) : left / right;
    }

    private static long shiftLeft(long left, int by) {
        if (left << by >> by != left) {
            throw new ArithmeticException();
        }
        return left << by;
    }

    private static long nonZero(long divisor, Place place) {
        if (divisor == 0) {
            throw new Mistake(place, "division by 0", (String) null);
        }
        return divisor;
    }

    private static int shift(long by, Place place) {
        if (by < 0 || by > 63) {
            throw new Mistake(place, "shift by " + by, "shifts go from 0 to 63");
        }
        return (int) by;
    }
}
