package octurn.asm;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import octurn.asm.Token.Kind;
import octurn.diag.Nearest;
import octurn.isa.Condition;
import octurn.isa.Form;
import octurn.isa.Op;
import octurn.isa.Port;
import org.jspecify.annotations.Nullable;

/** Reads the lines of a text into statements, and the names that they define into the table of names. */
final class Parser {

    private static final int DEEPEST = 100;

    /** For a line that takes no room in memory, or none that is missed. */
    private static final int NO_ROOM = 0;

    private static final int UNKNOWN_ROOM = -1;

    private final Source source;
    private final Symbols symbols;
    private final Problems problems;

    private final List<Section> sections = new ArrayList<>();
    private final List<Statement> statements = new ArrayList<>();
    private @Nullable Section section;
    /** Whether a line outside of all sections was told already: it is one mistake, however many lines follow. */
    private boolean toldOutside;

    // The line being read.
    private List<Token> tokens = List.of();
    private int at;
    private int depth;
    /** How the line at hand is written, for hints. */
    private @Nullable String usage;
    /** How many words a line takes that turns out to be broken. */
    private int room;

    Parser(Source source, Symbols symbols, Problems problems) {
        this.source = source;
        this.symbols = symbols;
        this.problems = problems;
    }

    List<Section> sections() {
        return sections;
    }

    /** What the text says, in its order. */
    List<Statement> parse() {
        for (int number = 1; number <= source.lines().size(); number++) {
            tokens = Lexer.tokens(number, source.text(number));
            at = 0;
            depth = 0;
            usage = null;
            room = NO_ROOM;
            try {
                line();
            } catch (Mistake mistake) {
                mistake.report(problems);
                if (room != NO_ROOM) {
                    statements.add(new Statement.Broken(room, tokens.get(0).place()));
                }
            }
        }
        return statements;
    }

    private void line() {
        if (peek().kind() == Kind.END) {
            return;
        }
        Token first = firstWord();
        if (peek().is("=")) {
            next();
            constant(first);
            return;
        }
        if (!peek().is(":")) {
            statement(first);
            return;
        }
        next();
        label(first);
        if (peek().kind() == Kind.END) {
            return;
        }
        Token second = firstWord();
        if (peek().is(":")) {
            throw new Mistake(second.place(), "a second label on one line", "put it on a line of its own");
        }
        if (peek().is("=") || Vocabulary.SECTIONS.contains(Vocabulary.lower(second.text()))) {
            problems.error(
                    first.place(),
                    "a label stands alone or before an instruction or data",
                    "put %s on a line of its own".formatted(Text.quoted(second.text())));
        }
        if (peek().is("=")) {
            next();
            constant(second);
        } else {
            statement(second);
        }
    }

    private Token firstWord() {
        Token first = next();
        if (first.kind() != Kind.NAME) {
            throw new Mistake(
                    first.place(),
                    "%s cannot stand here".formatted(first.shown()),
                    first.is("/")
                            ? "a comment begins with ;"
                            : "a line holds a label, an instruction, data, a section or a constant");
        }
        return first;
    }

    // Names.

    private void constant(Token name) {
        Expression expression;
        try {
            expression = expression();
            end();
        } catch (Mistake mistake) {
            symbols.defineSpoiled(name);
            throw mistake;
        }
        symbols.defineConstant(name, section, expression);
    }

    private void label(Token name) {
        if (section == null) {
            symbols.defineSpoiled(name);
            tellOutside(name);
            return;
        }
        Symbol label = symbols.defineLabel(name, section);
        if (label != null) {
            statements.add(new Statement.Mark(label, name.place()));
        }
    }

    private void tellOutside(Token word) {
        if (!toldOutside) {
            problems.error(
                    word.place(),
                    "%s stands outside of a section".formatted(Text.quoted(word.text())),
                    "begin one first, with core, image or shared");
        }
        toldOutside = true;
    }

    // Sections and data.

    private void statement(Token word) {
        String lower = Vocabulary.lower(word.text());
        if (Vocabulary.SECTIONS.contains(lower)) {
            section(word, lower);
            return;
        }
        Mnemonic mnemonic = Mnemonic.find(lower);
        boolean data = Vocabulary.DIRECTIVES.contains(lower);
        if (mnemonic == null && !data) {
            unknown(word);
            return;
        }
        if (section == null) {
            tellOutside(word);
            return;
        }
        if (mnemonic != null) {
            instruction(word, mnemonic);
        } else {
            data(word, lower);
        }
    }

    private void unknown(Token word) {
        String meaning = Vocabulary.meaning(word.text());
        if (meaning != null) {
            throw new Mistake(
                    word.place(), "%s is %s, not an instruction".formatted(Text.quoted(word.text()), meaning), (String)
                            null);
        }
        String message = "unknown instruction " + Text.quoted(word.text());
        boolean alone = tokens.get(at).kind() == Kind.END;
        // A section that begins with a slip is one all the same, or all that follows would be told as out of place.
        String near = Nearest.of(word.text(), Vocabulary.SECTIONS);
        if (near != null && near.equals(Nearest.of(word.text(), Vocabulary.firstWords()))) {
            problems.error(word.place(), message, "did you mean %s?".formatted(near));
            section(word, near);
            return;
        }
        room = section == null ? NO_ROOM : 1;
        toldOutside |= section == null;
        throw new Mistake(word.place(), message, () -> {
            String nearest = Nearest.of(word.text(), Vocabulary.firstWords());
            return nearest != null ? "did you mean %s?".formatted(nearest) : alone ? "a label ends in a colon" : null;
        });
    }

    private static Block.Kind sectionKind(String word) {
        return Block.Kind.valueOf(word.toUpperCase(Locale.ROOT));
    }

    private Section open(Block.Kind kind, Place place, String name) {
        Section opened = new Section(kind, place, name);
        sections.add(opened);
        statements.add(new Statement.Open(opened, place));
        section = opened;
        return opened;
    }

    private void section(Token word, String lower) {
        boolean image = lower.equals("image");
        Token name = image ? tokens.get(at) : word;
        Section opened = open(sectionKind(lower), word.place(), image ? name.text() : "");
        // Set again once its first line turns out to be right.
        opened.broken = true;
        switch (opened.kind) {
            case CORE -> {
                usage = "core LIST, where LIST is 0 or 0, 2 or 1..3 or all";
                opened.list = coreList();
            }
            case IMAGE -> {
                usage = "image NAME";
                name = next();
                if (name.kind() != Kind.NAME) {
                    throw unexpected(name, "a name");
                }
                opened.symbol = symbols.defineAddress(name, opened);
            }
            case SHARED -> {
                usage = "shared, or shared at ADDRESS";
                if (peek().isWord("at")) {
                    next();
                    opened.at = expression();
                }
            }
        }
        end();
        opened.broken = false;
    }

    private @Nullable List<Statement.CoreRange> coreList() {
        if (peek().isWord("all")) {
            next();
            return null;
        }
        List<Statement.CoreRange> list = new ArrayList<>();
        do {
            Expression first = expression();
            Expression last = null;
            if (accept("..")) {
                last = expression();
            }
            list.add(new Statement.CoreRange(
                    first, last, last == null ? first.place() : first.place().to(last.place())));
        } while (accept(","));
        return list;
    }

    private void data(Token word, String lower) {
        room = UNKNOWN_ROOM;
        switch (lower) {
            case "word" -> {
                usage = "word e, e, ..";
                List<Expression> values = new ArrayList<>();
                do {
                    values.add(expression());
                } while (accept(","));
                end();
                statements.add(new Statement.Words(values, word.place()));
            }
            case "space" -> {
                usage = "space n";
                Expression count = expression();
                end();
                statements.add(new Statement.Space(count, word.place()));
            }
            default -> {
                usage = "text \"..\"; numbers go into word";
                Token text = next();
                if (text.kind() != Kind.STRING) {
                    throw unexpected(text, "a text in double quotes");
                }
                end();
                statements.add(new Statement.Characters(text.text().codePoints().toArray(), word.place()));
            }
        }
    }

    // Instructions.

    private void instruction(Token word, Mnemonic plain) {
        Mnemonic mnemonic = plain;
        room = mnemonic.words();
        usage = mnemonic.usage();
        List<Operand> operands = new ArrayList<>();
        for (String slot : mnemonic.slots()) {
            operand(mnemonic, slot, operands);
        }
        if (mnemonic.op() == Op.JUMP && peek().isWord("if") && !operands.isEmpty()) {
            mnemonic = Mnemonic.JUMP_IF;
            usage = mnemonic.usage();
            Operand target = operands.get(0);
            if (target.isRegister()) {
                throw new Mistake(
                        target.place(),
                        "a jump with a condition goes to a label, not to a register",
                        "jump over a plain jump r%d with the opposite condition".formatted(target.number()));
            }
            for (String slot : mnemonic.slots().subList(1, mnemonic.slots().size())) {
                operand(mnemonic, slot, operands);
            }
        }
        end();
        operands.addAll(mnemonic.fixed());
        statements.add(new Statement.Instruct(mnemonic, operands, word.place()));
    }

    private void operand(Mnemonic mnemonic, String slot, List<Operand> operands) {
        switch (slot) {
            case "," -> expect(",");
            case "if" -> next();
            case "rd", "ra", "rb", "rs", "rc" -> operands.add(register());
            case "b" -> operands.add(registerOr("a register or a constant"));
            case "c" -> operands.add(constantOperand(mnemonic));
            case "x" -> operands.add(target(mnemonic));
            case "[m]" -> operands.add(memory());
            case "PORT" -> operands.add(port(mnemonic.op()));
            case "COND" -> operands.add(condition());
            default -> throw new IllegalStateException(slot);
        }
    }

    private boolean atRegister() {
        return peek().kind() == Kind.NAME && Vocabulary.register(peek().text()) != Operand.NONE;
    }

    private Operand register() {
        Token token = next();
        int number = token.kind() == Kind.NAME ? Vocabulary.register(token.text()) : Operand.NONE;
        if (number == Operand.NONE) {
            if (token.kind() == Kind.NAME && token.text().matches("[rR][0-9]+")) {
                throw new Mistake(
                        token.place(), "there is no register " + Text.quoted(token.text()), "registers are r0..r15");
            }
            throw unexpected(token, "a register");
        }
        return Operand.number(number, token.place());
    }

    private Operand registerOr(String wanted) {
        return atRegister() ? register() : Operand.of(expression(wanted));
    }

    private Operand constantOperand(Mnemonic mnemonic) {
        if (atRegister()) {
            throw new Mistake(
                    peek().place(),
                    "%s takes a constant, not a register".formatted(mnemonic.name()),
                    "copy rd, ra copies a register");
        }
        return Operand.of(expression("a constant"));
    }

    private Operand target(Mnemonic mnemonic) {
        if (mnemonic.op().form() == Form.LOOP) {
            if (atRegister()) {
                throw unexpected(next(), "a label");
            }
            return Operand.of(expression("a label"));
        }
        return registerOr("a label or a register");
    }

    private Operand memory() {
        Token open = expect("[");
        int register = Operand.NONE;
        Expression added = null;
        if (atRegister()) {
            register = register().number();
            Token sign = peek();
            if (sign.is("+") || sign.is("-")) {
                Place here = new Place(sign.place().line(), sign.place().column(), 0);
                added = continued(new Expression.Literal(0, here), 1);
            } else if (!sign.is("]")) {
                throw new Mistake(
                        sign.place(),
                        "%s after the register of an address".formatted(sign.shown()),
                        "addresses are written [r1], [r1+2], [r1-2] or [100]");
            }
        } else {
            added = expression("a register or an address");
        }
        Token close = expect("]");
        return new Operand(register, added, open.place().to(close.place()));
    }

    private Operand port(Op op) {
        Token token = next();
        Port port = token.kind() == Kind.NAME ? Vocabulary.port(token.text()) : null;
        boolean writing = op == Op.WRITE;
        if (port == null) {
            String near = token.kind() == Kind.NAME ? Nearest.of(token.text(), Vocabulary.ports(writing)) : null;
            throw new Mistake(
                    token.place(),
                    token.kind() == Kind.NAME
                            ? "unknown port " + Text.quoted(token.text())
                            : "expected a port, found " + token.shown(),
                    near != null
                            ? "did you mean %s?".formatted(near)
                            : "the ports are " + String.join(", ", Vocabulary.ports(writing)));
        }
        if (writing && !port.writable()) {
            throw new Mistake(
                    token.place(),
                    "the port %s can only be read".formatted(Text.quoted(token.text())),
                    "ports to write are " + String.join(", ", Vocabulary.ports(true)));
        }
        return Operand.number(port.code(), token.place());
    }

    private Operand condition() {
        Token token = next();
        Place place = token.place();
        String text = token.text();
        if (token.isWord("u") && peek().kind() == Kind.SIGN && peek().place().column() == place.end()) {
            Token sign = next();
            text = "u" + sign.text();
            place = place.to(sign.place());
        }
        for (Condition condition : Condition.values()) {
            if (token.kind() != Kind.STRING && condition.text().equals(text)) {
                return Operand.number(condition.code(), place);
            }
        }
        throw new Mistake(
                place,
                token.kind() == Kind.END
                        ? "expected a condition, found " + token.shown()
                        : "%s is no condition".formatted(Text.quoted(text)),
                text.equals("=") ? "did you mean ==?" : "conditions are == != < <= > >= u< u<= u> u>=");
    }

    // Expressions.

    private Expression expression() {
        return expression("a number or a name");
    }

    private Expression expression(String wanted) {
        return expression(1, wanted);
    }

    private Expression expression(int leastPrecedence, String wanted) {
        return continued(unary(wanted), leastPrecedence);
    }

    /** An expression that begins with this, as far as it holds together at least this tightly. */
    private Expression continued(Expression first, int leastPrecedence) {
        Expression left = first;
        while (true) {
            Token sign = peek();
            int precedence = precedence(sign);
            if (precedence < leastPrecedence) {
                return left;
            }
            next();
            left = new Expression.Binary(
                    sign.text(), sign.place(), left, expression(precedence + 1, "a number or a name"));
        }
    }

    private static int precedence(Token sign) {
        if (sign.kind() != Kind.SIGN) {
            return 0;
        }
        return switch (sign.text()) {
            case "*", "/", "%" -> 6;
            case "+", "-" -> 5;
            case "<<", ">>" -> 4;
            case "&" -> 3;
            case "^" -> 2;
            case "|" -> 1;
            default -> 0;
        };
    }

    private Expression unary(String wanted) {
        Token token = next();
        if (++depth > DEEPEST) {
            throw new Mistake(
                    token.place(),
                    "the expression is nested more than %d deep".formatted(DEEPEST),
                    "name a part of it");
        }
        Expression expression;
        if (token.is("-") || token.is("~")) {
            Expression operand = unary("a number or a name");
            expression =
                    new Expression.Unary(token.text(), operand, token.place().to(operand.place()));
        } else if (token.is("(")) {
            Expression inner = expression();
            expression =
                    new Expression.Group(inner, token.place().to(expect(")").place()));
        } else if (token.kind() == Kind.NUMBER) {
            expression = new Expression.Literal(token.number(), token.place());
        } else if (token.kind() == Kind.NAME) {
            String meaning = Vocabulary.meaning(token.text());
            if (meaning != null && meaning.equals("a word of the language")) {
                throw unexpected(token, wanted);
            }
            if (meaning != null) {
                throw new Mistake(
                        token.place(),
                        "%s is %s, not a number".formatted(Text.quoted(token.text()), meaning),
                        switch (meaning) {
                            case "a register" -> "a register stands alone, or first in an address as in [r1+2]";
                            case "a port" -> "read puts a port's value into a register";
                            default -> null;
                        });
            }
            expression = new Expression.Name(token.text(), token.place());
        } else if (token.kind() == Kind.STRING) {
            throw new Mistake(
                    token.place(),
                    "expected %s, found the text %s".formatted(wanted, token.shown()),
                    "write a character as 'A', or use text for a whole text");
        } else {
            throw unexpected(token, wanted);
        }
        depth--;
        return expression;
    }

    // Tokens.

    private Token peek() {
        Token token = tokens.get(at);
        if (token.mistake() != null) {
            throw token.mistake();
        }
        return token;
    }

    private Token next() {
        Token token = peek();
        if (token.kind() != Kind.END) {
            at++;
        }
        return token;
    }

    private boolean accept(String sign) {
        boolean there = peek().is(sign);
        if (there) {
            next();
        }
        return there;
    }

    private Token expect(String sign) {
        Token token = next();
        if (!token.is(sign)) {
            throw unexpected(token, Text.quoted(sign));
        }
        return token;
    }

    private void end() {
        Token token = peek();
        if (token.kind() != Kind.END) {
            throw unexpected(token, "the end of the line");
        }
    }

    private Mistake unexpected(Token token, String wanted) {
        return new Mistake(
                token.place(),
                "expected %s, found %s".formatted(wanted, token.shown()),
                usage == null ? null : "it is written " + usage);
    }
}
