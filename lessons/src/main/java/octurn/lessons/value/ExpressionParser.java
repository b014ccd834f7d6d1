package octurn.lessons.value;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import java.util.regex.Pattern;
import octurn.diag.Diagnostic;
import octurn.diag.Nearest;
import octurn.json.Passage;
import org.jspecify.annotations.Nullable;

/**
 * Reads one expression.
 *
 * <pre>
 * sum     = product { ("+" | "-") product }
 * product = signed { ("*" | "/" | "%") signed }
 * signed  = "-" signed | primary
 * primary = number | "(" sum ")" | function "(" sum { "," sum } ")" | name | run { "." part }
 * part    = name [ "(" sum { "," sum } ")" ]
 * </pre>
 */
final class ExpressionParser {

    /** More than anybody writes, and few enough for recursion. */
    private static final int DEEPEST = 40;

    private static final Pattern DECIMAL = Pattern.compile("[0-9][0-9_]{0,20}(\\.[0-9][0-9_]{0,20})?");
    private static final Pattern RADIX = Pattern.compile("0[xX][0-9a-fA-F]{1,13}|0[bB][01_]{0,52}[01]");

    private final Passage passage;
    private final String text;
    private final int from;
    private final int to;
    private int at;
    private int depth;

    ExpressionParser(Passage passage, int from, int to) {
        this.passage = passage;
        this.text = passage.text();
        this.from = from;
        this.to = to;
        this.at = from;
    }

    @Nullable
    Expression parse(Consumer<Diagnostic> problems) {
        try {
            if (to - from > Expression.LONGEST) {
                throw wrong(from, to, "an expression of %d characters".formatted(to - from), "at most 500");
            }
            Node root = sum();
            if (peek() != 0) {
                throw unexpected("an operator must stand here, or nothing");
            }
            return new Expression(passage, root);
        } catch (Unresolved e) {
            e.diagnostics().forEach(problems);
            return null;
        }
    }

    private Node sum() throws Unresolved {
        Node left = product();
        while (peek() == '+' || peek() == '-') {
            char sign = text.charAt(at++);
            Node right = product();
            left = new Node.Binary(left.start(), right.end(), sign, left, right);
        }
        return left;
    }

    private Node product() throws Unresolved {
        Node left = signed();
        while (peek() == '*' || peek() == '/' || peek() == '%') {
            char sign = text.charAt(at++);
            Node right = signed();
            left = new Node.Binary(left.start(), right.end(), sign, left, right);
        }
        return left;
    }

    private Node signed() throws Unresolved {
        if (depth == DEEPEST) {
            throw wrong(at, at + 1, "nested deeper than %d levels".formatted(DEEPEST), null);
        }
        depth++;
        Node node;
        if (peek() == '-') {
            int start = at++;
            Node operand = signed();
            node = new Node.Negative(start, operand.end(), operand);
        } else {
            node = primary();
        }
        depth--;
        return node;
    }

    private Node primary() throws Unresolved {
        char c = peek();
        if (isDigit(c)) {
            return number();
        }
        if (c == '(') {
            at++;
            Node inner = sum();
            expect(')');
            return inner;
        }
        if (!isNameStart(c)) {
            throw unexpected("a number, a name, a run or ( must stand here");
        }
        int start = at;
        String name = name();
        char next = peek();
        if (next == '(') {
            return call(start, name);
        }
        return next == '.' ? path(start, name) : new Node.Name(start, start + name.length(), name);
    }

    private Node call(int start, String name) throws Unresolved {
        int nameEnd = at;
        if (!Function.names().contains(name)) {
            throw wrong(start, nameEnd, "there is no function %s".formatted(name), hint(name, Function.names()));
        }
        Function function = Function.values()[Function.names().indexOf(name)];
        List<Node> arguments = arguments();
        if (!function.takes(arguments.size())) {
            String message = "%s: %d numbers given".formatted(name, arguments.size());
            throw wrong(start, at, message, "%s %s".formatted(name, function.takes()));
        }
        return new Node.Call(start, at, function, arguments);
    }

    private Node path(int start, String run) throws Unresolved {
        List<Node.Part> parts = new ArrayList<>();
        int end = at;
        while (peek() == '.') {
            at++;
            if (!isNameStart(peek())) {
                throw unexpected("the name of a measure must stand here");
            }
            int partStart = at;
            String name = name();
            end = at;
            List<Node> arguments = List.of();
            if (peek() == '(') {
                arguments = arguments();
                end = at;
            }
            parts.add(new Node.Part(partStart, end, name, arguments));
        }
        Node.Path path = new Node.Path(start, end, run, parts);
        Measures.check(passage, path);
        return path;
    }

    private List<Node> arguments() throws Unresolved {
        List<Node> arguments = new ArrayList<>();
        expect('(');
        arguments.add(sum());
        while (peek() == ',') {
            at++;
            arguments.add(sum());
        }
        expect(')');
        return arguments;
    }

    private void expect(char c) throws Unresolved {
        if (peek() != c) {
            throw unexpected("%c must stand here".formatted(c));
        }
        at++;
    }

    private String name() {
        int start = at;
        while (at < to && (isNameStart(text.charAt(at)) || isDigit(text.charAt(at)))) {
            at++;
        }
        return text.substring(start, at);
    }

    private Node number() throws Unresolved {
        int start = at;
        while (at < to && isNumberPart(text.charAt(at))) {
            at++;
        }
        String written = text.substring(start, at);
        String digits = written.replace("_", "");
        if (DECIMAL.matcher(written).matches()) {
            return new Node.Literal(start, at, Double.parseDouble(digits));
        }
        if (RADIX.matcher(written).matches()) {
            int radix = "xX".indexOf(digits.charAt(1)) >= 0 ? 16 : 2;
            return new Node.Literal(start, at, Long.parseLong(digits.substring(2), radix));
        }
        throw wrong(
                start, at, "%s is no number".formatted(Words.quoted(written)), "numbers are like 12, 1_000, 0.5, 0x2A");
    }

    private static boolean isNumberPart(char c) {
        return isDigit(c) || isNameStart(c) || c == '.';
    }

    /** The next character that is no blank, or 0 at the end. */
    private char peek() {
        while (at < to && Character.isWhitespace(text.charAt(at))) {
            at++;
        }
        return at < to ? text.charAt(at) : 0;
    }

    private Unresolved unexpected(String hint) {
        if (peek() == 0) {
            String message = from == to ? "an empty expression" : "the expression ends too early";
            return wrong(to, Math.min(to + 1, text.length()), message, hint);
        }
        int end = text.offsetByCodePoints(at, 1);
        return wrong(at, end, "%s cannot stand here".formatted(Words.quoted(text.substring(at, end))), hint);
    }

    private Unresolved wrong(int start, int end, String message, @Nullable String hint) {
        return new Unresolved(passage.error(start, end, message, hint));
    }

    static String hint(String word, List<String> known) {
        String nearest = Nearest.of(word, known);
        return (nearest == null ? "" : "did you mean %s? ".formatted(nearest))
                + (known.size() == 1 ? "there is " : "there are ")
                + String.join(", ", known);
    }

    private static boolean isDigit(char c) {
        return c >= '0' && c <= '9';
    }

    private static boolean isNameStart(char c) {
        return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_';
    }
}
