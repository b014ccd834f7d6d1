package octurn.lessons;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import octurn.lessons.AnswerText.Read;
import octurn.lessons.text.Prose;
import octurn.lessons.value.Numbers;
import octurn.lessons.value.Unresolved;
import org.jspecify.annotations.Nullable;

/** Makes questions: works out what is right, and what the foreseen wrong answers are. */
final class Questions {

    private final Sitting sitting;
    private final Step.Predict predict;
    private final Prose ask;
    private final Prose explanation;

    private Questions(Sitting sitting, Step.Predict predict) throws Unresolved {
        this.sitting = sitting;
        this.predict = predict;
        this.ask = sitting.prose(predict.ask());
        this.explanation = sitting.prose(predict.explain());
    }

    static Question of(Sitting sitting, Step.Predict predict) throws Unresolved {
        return new Questions(sitting, predict).question();
    }

    private Question question() throws Unresolved {
        if (predict.answer() instanceof Step.NumberAnswer answer) {
            return number(answer);
        } else if (predict.answer() instanceof Step.CoreAnswer answer) {
            return core(answer);
        } else {
            return choice((Step.ChoiceAnswer) predict.answer());
        }
    }

    private Question number(Step.NumberAnswer answer) throws Unresolved {
        NumberKey key = NumberKey.of(sitting, answer);
        List<Slip> slips = key.slips(sitting, answer);
        List<String> units = answer.unit().isEmpty() ? List.of() : List.of(answer.unit());
        String right = withUnit(key.shown(), answer.unit());
        return new Question(ask, Question.Kind.NUMBER, answer.unit(), List.of(), text -> {
            Read read = AnswerText.number(text, units);
            if (read instanceof Read.Nothing nothing) {
                return new Judgement.NoAnswer(nothing.why());
            }
            BigDecimal number = ((Read.Found) read).number();
            return key.isRight(number)
                    ? new Judgement.Right(right, explanation)
                    : new Judgement.Wrong(
                            AnswerText.shown(text), right, explanation, Slip.fitting(slips, number, key.tolerance()));
        });
    }

    private static String withUnit(String number, String unit) {
        if (unit.isEmpty()) {
            return number;
        }
        boolean one = number.equals("1") && unit.endsWith("s") && unit.length() > 1;
        return number + " " + (one ? unit.substring(0, unit.length() - 1) : unit);
    }

    private Question core(Step.CoreAnswer answer) throws Unresolved {
        int cores = sitting.design(answer.core()).cores();
        long right = answer.core().whole(sitting.names(null), 0, cores - 1L);
        List<Slip> slips = Slip.own(sitting, answer.wrong());
        slips.removeIf(slip -> slip.gives().compareTo(BigDecimal.valueOf(right)) == 0);
        String rightText = "core " + right;
        return new Question(ask, Question.Kind.CORE, "", List.of(), text -> {
            Read read = AnswerText.numberAfter("core", text);
            String range = "The cores are numbered from 0 to %d: write a number, or as in core 3.".formatted(cores - 1);
            if (!(read instanceof Read.Found number)
                    || number.number().stripTrailingZeros().scale() > 0
                    || number.number().signum() < 0
                    || number.number().compareTo(BigDecimal.valueOf(cores)) >= 0) {
                return new Judgement.NoAnswer(range);
            }
            return number.number().compareTo(BigDecimal.valueOf(right)) == 0
                    ? new Judgement.Right(rightText, explanation)
                    : new Judgement.Wrong(
                            "core " + number.number().toBigInteger(),
                            rightText,
                            explanation,
                            Slip.fitting(slips, number.number(), BigDecimal.ZERO));
        });
    }

    private Question choice(Step.ChoiceAnswer answer) throws Unresolved {
        List<Prose> options = new ArrayList<>();
        List<BigDecimal> values = new ArrayList<>();
        for (Step.Option option : answer.options()) {
            options.add(sitting.prose(option.text()));
            values.add(Numbers.exact(sitting.number(option.value())));
        }
        int right = rightChoice(answer, values);
        List<@Nullable Prose> says = new ArrayList<>();
        for (int i = 0; i < options.size(); i++) {
            says.add(say(answer, i + 1));
        }
        String rightText = "%d: %s".formatted(right + 1, options.get(right).plain());
        return new Question(ask, Question.Kind.CHOICE, "", options, text -> {
            int chosen = chosen(text, options);
            if (chosen < 0) {
                return new Judgement.NoAnswer("Choose one: write a number from 1 to %d.".formatted(options.size()));
            }
            return chosen == right
                    ? new Judgement.Right(rightText, explanation)
                    : new Judgement.Wrong(
                            "%d: %s".formatted(chosen + 1, options.get(chosen).plain()),
                            rightText,
                            explanation,
                            says.get(chosen));
        });
    }

    /** The option that is best, from 0; a tie for the best is the author's error. */
    private static int rightChoice(Step.ChoiceAnswer answer, List<BigDecimal> values) throws Unresolved {
        int best = 0;
        for (int i = 1; i < values.size(); i++) {
            int order = values.get(i).compareTo(values.get(best));
            best = (answer.greatest() ? order > 0 : order < 0) ? i : best;
        }
        for (int i = best + 1; i < values.size(); i++) {
            if (values.get(i).compareTo(values.get(best)) == 0) {
                String message = "a tie: choices %d and %d both come to %s"
                        .formatted(best + 1, i + 1, values.get(i).toPlainString());
                throw new Unresolved(answer.options()
                        .get(i)
                        .value()
                        .error(
                                message,
                                "only one of them can be the %s".formatted(answer.greatest() ? "greatest" : "least")));
            }
        }
        return best;
    }

    private @Nullable Prose say(Step.ChoiceAnswer answer, int choice) throws Unresolved {
        for (Step.WrongChoice wrong : answer.wrong()) {
            if (wrong.choice() == choice) {
                return sitting.prose(wrong.say());
            }
        }
        return null;
    }

    /** The option that was meant, from 0: its number, or its words; -1 if none. */
    private static int chosen(String text, List<Prose> options) {
        String words = text.strip();
        for (int i = 0; i < options.size(); i++) {
            boolean byNumber = words.matches("%d[.):]?".formatted(i + 1));
            if (byNumber || words.equalsIgnoreCase(options.get(i).plain().strip())) {
                return i;
            }
        }
        return -1;
    }
}
