package octurn.asm;

import java.nio.charset.StandardCharsets;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import octurn.asm.Assembly.Assembled;
import octurn.asm.Assembly.Rejected;
import octurn.design.Design;
import octurn.diag.Diagnostic.Severity;

/**
 * The assembler: a program file in, a {@link Program} or all its mistakes out.
 *
 * <p>The text goes through these hands: {@link Source} cuts it into lines, {@link Lexer} a line into tokens,
 * {@link Parser} reads tokens into statements and {@link Symbols}, {@link Layout} gives everything its address, and
 * {@link Encoder} makes the words; {@link Review} looks at them for what is allowed but cannot be meant. All of them go on after a mistake, so that {@link Problems} has them all in the end.
 */
public final class Assembler {

    private Assembler() {}

    /** Assembles a text that is at hand as a string. */
    public static Assembly assemble(String name, String text, Design design) {
        return assemble(name, text.getBytes(StandardCharsets.UTF_8), design);
    }

    /**
     * Assembles a file.
     *
     * @param name of the file as the user gave it, for messages
     * @param utf8 what is in it
     * @param design what to assemble for: sizes, and the names known from the start
     */
    public static Assembly assemble(String name, byte[] utf8, Design design) {
        return assemble(name, utf8, design, Map.of());
    }

    /**
     * Assembles a file with other values for some of its constants.
     *
     * @param overrides values by name; a name that the file does not define as a constant is an error
     */
    public static Assembly assemble(String name, byte[] utf8, Design design, Map<String, Long> overrides) {
        Problems problems = new Problems();
        Source source = Source.read(name, utf8, problems);
        if (source.refused()) {
            return new Rejected(problems.told(Severity.ERROR, source));
        }
        Symbols symbols = new Symbols(design, overrides, problems);
        Parser parser = new Parser(source, symbols, problems);
        List<Statement> statements = parser.parse();
        List<Section> sections = parser.sections();
        symbols.checkOverrides();
        if (statements.isEmpty() && symbols.constants().isEmpty() && !problems.anyErrors()) {
            problems.error(Place.FILE, "there is no program in this file", "a section for core 0 begins with: core 0");
        }

        Evaluator evaluator = new Evaluator(source, symbols, problems);
        long[] sizes = new Layout(design, evaluator, symbols.ordered(), problems).run(statements);
        new Encoder(source, evaluator, problems).run(statements, sizes);

        if (problems.anyErrors()) {
            return new Rejected(problems.told(Severity.ERROR, source));
        }
        Program program = program(source, design, sections, symbols);
        Review.run(program, sections, problems);
        return new Assembled(program, problems.told(Severity.WARNING, source));
    }

    private static Program program(Source source, Design design, List<Section> sections, Symbols symbols) {
        Map<String, Long> constants = new LinkedHashMap<>();
        for (Symbol constant : symbols.constants()) {
            if (constant.value != null) {
                constants.put(constant.name, constant.value.number());
            }
        }
        return new Program(
                withoutFolder(source.file()),
                design,
                source.lines(),
                sections.stream().map(Section::block).toList(),
                constants);
    }

    private static String withoutFolder(String file) {
        return file.substring(Math.max(file.lastIndexOf('/'), file.lastIndexOf('\\')) + 1);
    }
}
