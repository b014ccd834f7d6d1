package octurn.lessons;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import octurn.lessons.value.Expression;
import octurn.lessons.value.Numbers;
import octurn.lessons.value.Unresolved;

/**
 * The right answer to a question for a number.
 *
 * @param right what the run gives
 * @param tolerance how far an answer may be off, from 0
 */
record NumberKey(BigDecimal right, BigDecimal tolerance) {

    static NumberKey of(Sitting sitting, Step.NumberAnswer answer) throws Unresolved {
        BigDecimal right = Numbers.exact(sitting.number(answer.number()));
        Expression given = answer.tolerance();
        BigDecimal tolerance = given == null ? BigDecimal.ZERO : Numbers.exact(sitting.number(given));
        if (given != null && tolerance.signum() < 0) {
            throw new Unresolved(given.error("a tolerance below 0: %s".formatted(tolerance.toPlainString()), null));
        }
        NumberKey key = new NumberKey(right, tolerance);
        if (!key.isRight(new BigDecimal(key.shown().replace(",", "")))) {
            String message = "the right answer, %s, has so many decimals that nobody can give it";
            throw new Unresolved(answer.number()
                    .error(message.formatted(right.toPlainString()), "give a tolerance, or ask for a round number"));
        }
        return key;
    }

    boolean isRight(BigDecimal answer) {
        return answer.subtract(right).abs().compareTo(tolerance) <= 0;
    }

    /** As it is shown: at most three decimals. */
    String shown() {
        return Numbers.grouped(right.doubleValue(), 3);
    }

    /** The foreseen wrong answers, the author's own first; none of them is right. */
    List<Slip> slips(Sitting sitting, Step.NumberAnswer answer) throws Unresolved {
        List<Slip> slips = new ArrayList<>(Slip.own(sitting, answer.wrong()));
        DesignFigures figures = DesignFigures.of(sitting.design(answer.number()));
        for (Known known : answer.known()) {
            slips.addAll(known.slips(right, figures));
        }
        slips.removeIf(slip -> isRight(slip.gives()));
        return slips;
    }
}
