package octurn.lessons;

import java.math.BigDecimal;
import java.text.Normalizer;
import java.util.List;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import octurn.lessons.text.Harmless;

/**
 * Answers as people type them: digits with or without grouping, a decimal point, a unit, {@code core 3}. A comma or a
 * blank stands between groups of three digits only, so that nobody's decimal comma becomes a thousand.
 */
final class AnswerText {

    private static final int LONGEST = 60;
    private static final Pattern PLAIN = Pattern.compile("[+-]?([0-9]{1,30}(\\.[0-9]{1,20})?|\\.[0-9]{1,20})");
    private static final Pattern GROUPED = Pattern.compile("[+-]?[0-9]{1,3}([,_' ][0-9]{3}){1,9}(\\.[0-9]{1,20})?");
    private static final Pattern HEX = Pattern.compile("0x[0-9a-f]{1,15}");
    private static final Pattern NUMBER_AND_REST = Pattern.compile("((?:0x[0-9a-f]+)|[+-]?\\.?[0-9][0-9,_' .]*)(.*)");

    private AnswerText() {}

    /** What was understood: a number, or why none was. */
    sealed interface Read {
        record Found(BigDecimal number) implements Read {}

        record Nothing(String why) implements Read {}
    }

    /** The answer as it can be shown. */
    static String shown(String answer) {
        String text = Harmless.text(answer.strip()).replace('\n', ' ').replace('\t', ' ');
        return text.codePointCount(0, text.length()) <= LONGEST
                ? text
                : text.substring(0, text.offsetByCodePoints(0, LONGEST)) + "..";
    }

    /**
     * The number in an answer.
     *
     * @param units what may follow it, each in the plural; the first names what is asked for
     */
    static Read number(String answer, List<String> units) {
        String text = canonical(answer);
        if (text.isEmpty() || text.length() > LONGEST) {
            return nothing(answer, "write a number, as in 18");
        }
        Matcher matcher = NUMBER_AND_REST.matcher(text);
        if (!matcher.matches()) {
            return nothing(answer, "write a number in digits, as in 18");
        }
        String digits = matcher.group(1).strip();
        String rest = matcher.group(2).strip();
        if (!rest.isEmpty() && units.stream().noneMatch(unit -> isUnit(rest, unit))) {
            String asked = units.isEmpty() ? "a number alone" : "a number of " + units.get(0);
            return new Read.Nothing("\"%s\": asked for is %s".formatted(shown(answer), asked));
        }
        if (HEX.matcher(digits).matches()) {
            return new Read.Found(BigDecimal.valueOf(Long.parseLong(digits.substring(2), 16)));
        }
        boolean plain = PLAIN.matcher(digits).matches();
        if (!plain && !isGrouped(digits)) {
            return nothing(answer, "write it without commas and blanks, with a point before decimals, as in 1234.5");
        }
        return new Read.Found(new BigDecimal(digits.replaceAll("[,_' ]", "")));
    }

    private static boolean isGrouped(String digits) {
        long separators =
                digits.chars().filter(c -> ",_' ".indexOf(c) >= 0).distinct().count();
        return separators == 1 && GROUPED.matcher(digits).matches();
    }

    /** Lower case, one kind of blank and of minus sign, digits of every width as plain ones. */
    private static String canonical(String answer) {
        return Normalizer.normalize(answer, Normalizer.Form.NFKC)
                .replace('\u2212', '-')
                .replace('\u2019', '\'')
                .replaceAll("[\\s\\p{Z}]+", " ")
                .strip()
                .toLowerCase(Locale.ROOT);
    }

    /** Whether somebody who wrote this meant the unit: in any case, in the singular, or as a sign. */
    private static boolean isUnit(String written, String unit) {
        String word = canonical(unit);
        String singular = word.endsWith("s") ? word.substring(0, word.length() - 1) : word;
        return written.equals(word) || written.equals(singular) || (word.equals("percent") && written.equals("%"));
    }

    /** The number in an answer that may as well begin with this word, as in {@code core 3}. */
    static Read numberAfter(String word, String answer) {
        String text = canonical(answer);
        return number(text.startsWith(word) ? text.substring(word.length()) : text, List.of());
    }

    private static Read nothing(String answer, String hint) {
        return new Read.Nothing(
                answer.isBlank() ? "Nothing was answered: " + hint : "\"%s\": %s".formatted(shown(answer), hint));
    }
}
