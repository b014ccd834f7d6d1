package octurn.asm;

import java.util.ArrayList;
import java.util.List;
import octurn.asm.Token.Kind;
import org.jspecify.annotations.Nullable;

/** Cuts one line into tokens. */
final class Lexer {

    /** The longest signs first, so that the first that fits is the right one. */
    private static final String[] SIGNS = {
        "<<", ">>", "==", "!=", "<=", ">=", "..", ":", "=", ",", "[", "]", "(", ")", "+", "-", "*", "/", "%", "&", "^",
        "|", "~", "<", ">"
    };

    private static final String ESCAPES = "\\n \\r \\t \\0 \\\\ \\\" \\'";

    private final int number;
    private final String line;
    private final boolean wide;
    private final List<Token> tokens = new ArrayList<>();
    private int at;

    private Lexer(int number, String line) {
        this.number = number;
        this.line = line;
        this.wide = line.codePointCount(0, line.length()) < line.length();
    }

    /** The tokens of a line; the last one is {@code END} or {@code BAD}. */
    static List<Token> tokens(int number, String line) {
        Lexer lexer = new Lexer(number, line);
        try {
            lexer.run();
        } catch (Mistake mistake) {
            lexer.tokens.add(new Token(Kind.BAD, "", 0, Place.line(number), mistake));
        }
        return lexer.tokens;
    }

    private void run() {
        while (at < line.length() && line.charAt(at) != ';') {
            char c = line.charAt(at);
            if (c == ' ' || Character.isISOControl(c)) {
                at++;
            } else if (isNameStart(c)) {
                name();
            } else if (isDigit(c)) {
                number();
            } else if (c == '\'') {
                character();
            } else if (c == '"') {
                string();
            } else {
                sign();
            }
        }
        int end = tokens.isEmpty() ? 1 : tokens.get(tokens.size() - 1).place().end();
        tokens.add(new Token(Kind.END, "", 0, new Place(number, end, 1), null));
    }

    private void name() {
        int start = at;
        skipName();
        add(Kind.NAME, line.substring(start, at), 0, start);
    }

    private void number() {
        int start = at;
        skipName();
        String text = line.substring(start, at);
        add(Kind.NUMBER, text, value(text, place(start)), start);
    }

    private static long value(String text, Place place) {
        int radix = 10;
        int begin = 0;
        if (text.length() > 1 && text.charAt(0) == '0') {
            char letter = Character.toLowerCase(text.charAt(1));
            radix = letter == 'x' ? 16 : letter == 'b' ? 2 : 10;
            begin = radix == 10 ? 0 : 2;
        }
        long value = 0;
        boolean afterDigit = false;
        for (int i = begin; i < text.length(); i++) {
            char c = text.charAt(i);
            if (c == '_' && afterDigit) {
                afterDigit = false;
                continue;
            }
            int digit = Character.digit(c, radix);
            if (digit < 0) {
                throw noNumber(text, place);
            }
            if (value > (Long.MAX_VALUE - digit) / radix) {
                throw new Mistake(place, Text.quoted(text) + " is too large", "numbers go up to " + Long.MAX_VALUE);
            }
            value = value * radix + digit;
            afterDigit = true;
        }
        if (!afterDigit) {
            throw noNumber(text, place);
        }
        return value;
    }

    private static Mistake noNumber(String text, Place place) {
        return new Mistake(
                place, Text.quoted(text) + " is no number", "numbers are written 42, 0x2A, 0b10_1010, 1_000 or 'A'");
    }

    private void character() {
        int start = at++;
        boolean empty = at == line.length() || line.charAt(at) == '\'';
        int value = empty ? 0 : escapable(start);
        boolean closed = at < line.length() && line.charAt(at) == '\'';
        at += closed ? 1 : 0;
        if (empty || !closed) {
            throw new Mistake(
                    place(start),
                    "single quotes hold one character",
                    "as in 'A'; a text of several stands in double quotes");
        }
        add(Kind.NUMBER, line.substring(start, at), value, start);
    }

    private void string() {
        int start = at++;
        StringBuilder value = new StringBuilder();
        while (at < line.length() && line.charAt(at) != '"') {
            value.appendCodePoint(escapable(start));
        }
        if (at >= line.length()) {
            throw new Mistake(place(start), "a text in quotes has no closing quote", "close it with \"");
        }
        at++;
        add(Kind.STRING, value.toString(), 0, start);
    }

    /** One character inside quotes, which may be an escape. */
    private int escapable(int start) {
        int c = line.codePointAt(at);
        int first = at;
        at += Character.charCount(c);
        if (c != '\\') {
            return c;
        }
        int escaped = at < line.length() ? line.codePointAt(at) : -1;
        at += escaped < 0 ? 0 : Character.charCount(escaped);
        return switch (escaped) {
            case 'n' -> '\n';
            case 'r' -> '\r';
            case 't' -> '\t';
            case '0' -> 0;
            case '\\', '"', '\'' -> escaped;
            case -1 -> throw new Mistake(place(start), "nothing follows the backslash", "the escapes are " + ESCAPES);
            default ->
                throw new Mistake(
                        place(first),
                        Text.quoted(line.substring(first, at)) + " is no escape",
                        "the escapes are " + ESCAPES);
        };
    }

    private void sign() {
        for (String sign : SIGNS) {
            if (line.startsWith(sign, at)) {
                int start = at;
                at += sign.length();
                add(Kind.SIGN, sign, 0, start);
                return;
            }
        }
        int c = line.codePointAt(at);
        int start = at;
        at += Character.charCount(c);
        throw new Mistake(
                place(start),
                "the character " + Text.quoted(Character.toString(c)) + " has no meaning here",
                Character.isLetter(c) ? "names are made of a..z, A..Z, 0..9 and _" : hint(c));
    }

    private static @Nullable String hint(int c) {
        return switch (c) {
            case '#', '/' -> "a comment begins with ;";
            case '$' -> "hexadecimal numbers are written 0x2A";
            case '!' -> "not equal is written !=";
            case '.' -> "numbers are whole; a range is written 1..3";
            case '\u2018', '\u2019' -> "a character is quoted with plain '";
            case '\u201C', '\u201D' -> "a text is quoted with plain \"";
            case '\u2010', '\u2011', '\u2012', '\u2013', '\u2014', '\u2212' -> "minus is written as plain -";
            default -> Character.isSpaceChar(c) ? "plain spaces and tabs stand between words" : null;
        };
    }

    private void skipName() {
        while (at < line.length() && (isNameStart(line.charAt(at)) || isDigit(line.charAt(at)))) {
            at++;
        }
    }

    private void add(Kind kind, String text, long value, int start) {
        tokens.add(new Token(kind, text, value, place(start), null));
    }

    /** From there to here. */
    private Place place(int start) {
        return wide
                ? new Place(number, line.codePointCount(0, start) + 1, line.codePointCount(start, at))
                : new Place(number, start + 1, at - start);
    }

    static boolean isNameStart(int c) {
        return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_';
    }

    private static boolean isDigit(int c) {
        return c >= '0' && c <= '9';
    }
}
