package octurn.asm;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import octurn.asm.Token.Kind;

/**
 * What is left of a program's text once all is taken away that its writer is free to choose: comments, layout, upper and
 * lower case of the language's words, the way in which a number is written, and the names of labels, constants and
 * images, of which only stays whether two of them are the same. It needs no text without mistakes.
 */
public final class Skeleton {

    private final StringBuilder text = new StringBuilder();
    private final Map<String, Integer> names = new HashMap<>();

    private Skeleton() {}

    /** The skeleton of a file, or nothing if the file is no text that an assembler would look at. */
    public static Optional<String> of(byte[] utf8) {
        Source source = Source.read("", utf8, new Problems());
        if (source.refused()) {
            return Optional.empty();
        }
        Skeleton skeleton = new Skeleton();
        for (int line = 1; line <= source.lines().size(); line++) {
            skeleton.line(Lexer.tokens(line, source.text(line)), source.text(line));
        }
        return Optional.of(skeleton.text.toString());
    }

    private void line(List<Token> tokens, String line) {
        for (int i = 0; i < tokens.size(); i++) {
            Token token = tokens.get(i);
            switch (token.kind()) {
                case NAME -> name(token, tokens.get(i + 1));
                case NUMBER -> text.append(token.number()).append(' ');
                case STRING -> text.append(Text.quoted(token.text())).append(' ');
                case SIGN -> text.append(token.text()).append(' ');
                case BAD -> text.append("? ").append(line.strip()).append('\n');
                case END -> end(tokens);
            }
        }
    }

    /** A label alone on its line is the same as one before what it names. */
    private void end(List<Token> tokens) {
        int size = tokens.size();
        if (size > 1 && !tokens.get(size - 2).is(":")) {
            text.append('\n');
        }
    }

    private void name(Token token, Token next) {
        boolean unsigned =
                token.isWord("u") && next.kind() == Kind.SIGN && next.text().matches("[<>]=?");
        boolean known = unsigned
                || Vocabulary.meaning(token.text()) != null
                || List.of("clock", "cores", "slot", "rotation").contains(token.text());
        if (known) {
            text.append(Vocabulary.lower(token.text()));
        } else {
            text.append('#').append(names.computeIfAbsent(token.text(), name -> names.size() + 1));
        }
        text.append(' ');
    }
}
