package octurn.asm;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Map;
import octurn.asm.Assembly.Assembled;
import octurn.asm.Assembly.Rejected;
import octurn.design.Admission;
import octurn.design.Clock;
import octurn.design.Cost;
import octurn.design.Design;
import octurn.diag.Diagnostic;
import octurn.diag.Span;

/** Short ways to assemble, and to say what came of it. */
final class Asm {

    static final String FILE = "p.turn";

    private Asm() {}

    static Design design(int cores, int privateWords, int sharedWords) {
        return new Design(
                "test",
                cores,
                privateWords,
                sharedWords,
                3,
                new Admission.Rotation(Design.plainOrder(cores)),
                Cost.DEFAULT,
                16,
                Clock.DEFAULT);
    }

    /** The largest design that there is. */
    static Design largest() {
        return design(32, 65536, 131072);
    }

    static Program program(String... lines) {
        return program(Design.DEFAULT, lines);
    }

    static Program program(Design design, String... lines) {
        return assembled(Assembler.assemble(FILE, String.join("\n", lines), design))
                .program();
    }

    static Program program(Map<String, Long> overrides, String... lines) {
        return assembled(Assembler.assemble(FILE, bytes(lines), Design.DEFAULT, overrides))
                .program();
    }

    static byte[] bytes(String... lines) {
        return String.join("\n", lines).getBytes(StandardCharsets.UTF_8);
    }

    private static Assembled assembled(Assembly assembly) {
        assertThat(assembly).isInstanceOf(Assembled.class);
        return (Assembled) assembly;
    }

    /** The words of core 0. */
    static int[] core0(String... lines) {
        return program(lines).core(0).words();
    }

    /** The words that one line of code becomes, at address 0. */
    static int[] line(String line) {
        return core0("core 0", "base: " + line);
    }

    /** The words of these expressions. */
    static int[] values(String... expressions) {
        return core0("core 0", "word " + String.join(", ", expressions));
    }

    static List<String> errors(String... lines) {
        return errors(Design.DEFAULT, lines);
    }

    static List<String> errors(Design design, String... lines) {
        return told(Assembler.assemble(FILE, String.join("\n", lines), design));
    }

    static List<String> told(Assembly assembly) {
        if (assembly instanceof Rejected rejected) {
            assertThat(rejected.errors()).allMatch(Diagnostic::isError);
            return rejected.errors().stream().map(Asm::told).toList();
        }
        return List.of();
    }

    static List<String> warnings(Design design, String... lines) {
        List<Diagnostic> warnings = assembled(Assembler.assemble(FILE, String.join("\n", lines), design))
                .warnings();
        assertThat(warnings).noneMatch(Diagnostic::isError);
        return warnings.stream().map(Asm::told).toList();
    }

    /** As in "3:9+4 message -- hint". */
    static String told(Diagnostic diagnostic) {
        Span span = diagnostic.span();
        assertThat(span.file()).isEqualTo(FILE);
        return "%d:%d+%d %s".formatted(span.line(), span.column(), span.length(), diagnostic.message())
                + (diagnostic.hint() == null ? "" : " -- " + diagnostic.hint());
    }
}
