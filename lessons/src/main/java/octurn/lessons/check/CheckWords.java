package octurn.lessons.check;

import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import octurn.lessons.Check;
import octurn.lessons.value.Expression;
import octurn.lessons.value.Names;
import octurn.lessons.value.Numbers;
import octurn.lessons.value.Unresolved;
import org.jspecify.annotations.Nullable;

/** Says checks in words. */
final class CheckWords {

    private static final int MOST_WORDS = 8;

    private final Names names;

    CheckWords(Names names) {
        this.names = names;
    }

    String of(Check check) {
        if (check instanceof Check.MemoryWords words) {
            String where = words.core() == null ? "" : " in the private RAM of core " + value(words.core());
            return "%s = %s at the end%s".formatted(words.place().text(), list(words.words()), where);
        } else if (check instanceof Check.Register register) {
            return "r%d of core %s = %s at the end"
                    .formatted(register.register(), value(register.core()), value(register.is()));
        } else if (check instanceof Check.Budget budget) {
            String whose = budget.core() == null ? "" : " of core " + value(budget.core());
            String where = budget.line() == null ? "" : " at " + budget.line().text();
            return amount(budget.amount()) + whose + where + ": " + bounds(budget.bounds());
        } else if (check instanceof Check.Measure measure) {
            return measure.measure().text() + ": " + bounds(measure.bounds());
        } else if (check instanceof Check.Serial serial) {
            String text =
                    serial.text().replace("\n", "\\n").replace("\r", "\\r").replace("\t", "\\t");
            return "pin %d says \"%s\" at %s baud".formatted(serial.pin(), text, value(serial.baud()));
        } else if (check instanceof Check.Pulse pulse) {
            String high = pulse.high() == null ? "" : "pulses of " + bounds(pulse.high()) + " cycles";
            String period = pulse.period() == null ? "" : "periods of " + bounds(pulse.period()) + " cycles";
            String and = high.isEmpty() || period.isEmpty() ? "" : ", ";
            return "pin %d: %s%s%s".formatted(pulse.pin(), high, and, period);
        } else if (check instanceof Check.Level level) {
            return "pin %d is %s in cycle %s"
                    .formatted(level.pin(), level.is() == 1 ? "high" : "low", value(level.at()));
        } else if (check instanceof Check.Never never) {
            return switch (never.mishap()) {
                case FAULT -> "no core is in fault";
                case CLASH -> "no pin has a clash";
                case STUCK -> "the run does not get stuck";
            };
        } else if (check instanceof Check.Ends ends) {
            return switch (ends.how()) {
                case ALL_IDLE -> "the run ends by itself";
                case STUCK -> "the run gets stuck";
                case LIMIT -> "the run goes on to its limit";
            };
        } else {
            Check.Uses uses = (Check.Uses) check;
            String mnemonics = String.join(uses.wanted() ? " or " : ", ", uses.mnemonics());
            return (uses.wanted() ? "with " : "without ") + mnemonics;
        }
    }

    private static String amount(Check.Amount amount) {
        return switch (amount) {
            case CYCLES -> "cycles";
            case WAITS -> "waits";
            case LONGEST_WAIT -> "longest wait";
            case INSTRUCTIONS -> "instructions";
            case CODE_WORDS -> "words of code";
        };
    }

    private String bounds(Check.@Nullable Bounds bounds) {
        if (bounds == null) {
            return "";
        }
        Expression least = bounds.least();
        Expression most = bounds.most();
        if (least == most && least != null) {
            return value(least);
        }
        String from = least == null ? "" : "at least " + value(least);
        String to = most == null ? "" : "at most " + value(most);
        return from.isEmpty() || to.isEmpty() ? from + to : from + ", " + to;
    }

    /** Parted by semicolons, since there are commas within the numbers. */
    private String list(List<Expression> words) {
        String shown = words.stream().limit(MOST_WORDS).map(this::value).collect(Collectors.joining("; "));
        return words.size() > MOST_WORDS ? shown + "; .." : shown;
    }

    /** The value of an expression; if it has none, as with a label that is not there, the expression itself. */
    private String value(@Nullable Expression expression) {
        if (expression == null) {
            return "";
        }
        try {
            return Numbers.grouped(expression.value(names), 3);
        } catch (Unresolved e) {
            return expression.text().toLowerCase(Locale.ROOT);
        }
    }
}
