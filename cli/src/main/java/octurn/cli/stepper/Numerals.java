package octurn.cli.stepper;

import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Numbers as programs write them: {@code 42}, {@code -7}, {@code 0x2A}, {@code 0b10_1010}, {@code 1_000};
 * and as people and our screens write them: {@code 1,000}.
 */
final class Numerals {

    /** The greatest number that means anything: the greatest cycle limit. */
    static final long MOST = (1L << 53) - 1;

    private static final Pattern FORM =
            Pattern.compile("([+-]?)(?:0[xX]([0-9A-Fa-f_]+)|0[bB]([01_]+)|([0-9][0-9_]*|[0-9]{1,3}(?:,[0-9]{3})+))");

    private Numerals() {}

    static boolean isNumber(String word) {
        return FORM.matcher(word).matches();
    }

    static long parse(String word, String what) {
        Matcher matcher = FORM.matcher(word);
        if (!matcher.matches()) {
            throw new Mistake("%s: \"%s\" is no number".formatted(what, word));
        }
        boolean hexadecimal = matcher.group(2) != null;
        boolean binary = matcher.group(3) != null;
        String digits = hexadecimal ? matcher.group(2) : binary ? matcher.group(3) : matcher.group(4);
        try {
            long number = Long.parseLong(digits.replaceAll("[_,]", ""), hexadecimal ? 16 : binary ? 2 : 10);
            return matcher.group(1).equals("-") ? -number : number;
        } catch (NumberFormatException e) {
            throw new Mistake("%s: \"%s\" is too large, or has no digits".formatted(what, word));
        }
    }

    /** A word of the chip: -2147483648 .. 4294967295. */
    static int word(String word, String what) {
        long number = parse(word, what);
        if (number < Integer.MIN_VALUE || number > 0xFFFF_FFFFL) {
            throw new Mistake("%s: %s is not -2147483648..4294967295".formatted(what, word));
        }
        return (int) number;
    }
}
