package octurn.docs;

/** Arithmetic as it is written in the pages: numbers, {@code + - * /} and brackets. */
final class Sum {

    private final String text;
    private int at;

    private Sum(String text) {
        this.text = text;
    }

    /** The value of an expression. */
    static double value(String text) {
        Sum sum = new Sum(text);
        double value = sum.terms();
        if (sum.peek() != '\0') {
            throw new IllegalArgumentException("not a sum from character %d on: %s".formatted(sum.at + 1, text));
        }
        return value;
    }

    private double terms() {
        double value = factors();
        for (char sign = peek(); sign == '+' || sign == '-'; sign = peek()) {
            at++;
            value = sign == '+' ? value + factors() : value - factors();
        }
        return value;
    }

    private double factors() {
        double value = atom();
        for (char sign = peek(); sign == '*' || sign == '/'; sign = peek()) {
            at++;
            value = sign == '*' ? value * atom() : value / atom();
        }
        return value;
    }

    private double atom() {
        char next = peek();
        if (next == '-') {
            at++;
            return -atom();
        }
        if (next == '(') {
            at++;
            double value = terms();
            if (peek() != ')') {
                throw new IllegalArgumentException("a bracket stays open: " + text);
            }
            at++;
            return value;
        }
        int from = at;
        while (at < text.length() && (Character.isDigit(text.charAt(at)) || text.charAt(at) == '.')) {
            at++;
        }
        return Double.parseDouble(text.substring(from, at));
    }

    private char peek() {
        while (at < text.length() && text.charAt(at) == ' ') {
            at++;
        }
        return at < text.length() ? text.charAt(at) : '\0';
    }
}
