package octurn.published;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.Map;
import java.util.Objects;
import java.util.Random;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.asm.Block;
import octurn.asm.Program;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.machine.End;
import octurn.report.RunReport;
import octurn.report.RunReports;
import octurn.run.Run;

/** One of the programs of this package's resources or a variation of it, and how its run ended. */
final class Published {

    private final Program program;
    private final RunReport report;

    private Published(Program program, RunReport report) {
        this.program = program;
        this.report = report;
    }

    /** The program's text. */
    static String text(String name) {
        try (InputStream in = Objects.requireNonNull(Published.class.getResourceAsStream(name + ".turn"), name)) {
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new IllegalStateException(e);
        }
    }

    /** Runs the program as it stands, on the standard chip. */
    static Published run(String name) {
        return run(name, Map.of());
    }

    /** Runs the program with other values for some of its constants. */
    static Published run(String name, Map<String, Long> constants) {
        return runText(text(name), Design.DEFAULT, constants);
    }

    /** Runs the program with another message in place of its own. */
    static Published runMessage(String name, String ownMessage, String message) {
        return runText(withMessage(text(name), ownMessage, message), Design.DEFAULT);
    }

    static String withMessage(String text, String ownMessage, String message) {
        assertThat(text).containsOnlyOnce("\"" + ownMessage + "\"");
        return text.replace("\"" + ownMessage + "\"", "\"" + message + "\"");
    }

    /** Runs a text that must be right, to an end with every core idle. */
    static Published runText(String text, Design design) {
        return runText(text, design, Map.of());
    }

    static Published runText(String text, Design design, Map<String, Long> constants) {
        byte[] utf8 = text.getBytes(StandardCharsets.UTF_8);
        Assembly assembly = Assembler.assemble("published.turn", utf8, design, constants);
        assertThat(assembly).isInstanceOf(Assembly.Assembled.class);
        Program program = ((Assembly.Assembled) assembly).program();
        Run run = Run.of(program, Scenario.QUIET, Run.DEFAULT_LIMIT);
        run.finish();
        RunReport report = RunReports.of(run);
        assertThat(report.ended()).isEqualTo(End.ALL_IDLE);
        assertThat(report.cores()).allSatisfy(core -> assertThat(core.fault()).isNull());
        return new Published(program, report);
    }

    RunReport report() {
        return report;
    }

    /** The shared word with this label, at the end. */
    int word(String label) {
        return word(label, 0);
    }

    int word(String label, int offset) {
        for (Block block : program.blocks()) {
            Integer address = block.labels().get(label);
            if (block.kind() == Block.Kind.SHARED && address != null) {
                return report.shared().getOrDefault(address + offset, 0);
            }
        }
        throw new AssertionError("no shared label " + label);
    }

    /** So many words from a label on, as hexadecimal digits. */
    String hex(String label, int words) {
        StringBuilder hex = new StringBuilder();
        for (int i = 0; i < words; i++) {
            hex.append("%08x".formatted(word(label, i)));
        }
        return hex.toString();
    }

    /** Printable ASCII characters but the quote and the backslash. */
    static String randomMessage(long seed, int length) {
        Random random = new Random(seed);
        return random.ints(' ', '~' + 1)
                .filter(c -> c != '"' && c != '\\')
                .limit(length)
                .collect(StringBuilder::new, StringBuilder::appendCodePoint, StringBuilder::append)
                .toString();
    }
}
