package octurn.asm;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.URISyntaxException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Random;
import java.util.stream.Stream;
import octurn.asm.Assembly.Assembled;
import octurn.asm.Assembly.Rejected;
import octurn.diag.Diagnostic;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Good programs with random damage: whatever the text, there is a program or there are messages, and no exception. */
class MutatedProgramsTest {

    private static final String[] PIECES = {
        "core 0",
        "core all",
        "shared",
        "shared at 5",
        "image x",
        "word 1",
        "space 9",
        "text \"",
        "'",
        "\"",
        "(",
        ")",
        "[",
        "]",
        ",",
        ":",
        "=",
        "==",
        "-",
        "+",
        "<<",
        "/ 0",
        "r1",
        "r16",
        "jump ",
        " if ",
        "u<",
        "0x",
        "99999999999999999999",
        "\r",
        "\u001b",
        "\uD83C\uDF31",
        "\u202e",
        "\uFEFF",
        "\n",
        ";",
        "..",
        "data",
        "cores",
        "word",
        "set",
        "big r1, ",
        "x: ",
        "x = x"
    };

    static Stream<Path> programs() throws IOException, URISyntaxException {
        return Stream.concat(programs("/octurn/cases"), programs("/octurn/asm/bad"));
    }

    private static Stream<Path> programs(String folder) throws IOException, URISyntaxException {
        Path path = Path.of(MutatedProgramsTest.class.getResource(folder).toURI());
        try (Stream<Path> files = Files.list(path)) {
            return files.filter(file -> file.toString().endsWith(".turn")).sorted().toList().stream();
        }
    }

    @ParameterizedTest
    @MethodSource("programs")
    void text_withRandomDamage_isAssembledOrRejected(Path file) throws IOException {
        String text = Files.readString(file);
        Random random = new Random(file.getFileName().toString().hashCode());
        for (int round = 0; round < 60; round++) {
            StringBuilder damaged = new StringBuilder(text);
            for (int count = 1 + random.nextInt(8); count > 0; count--) {
                damage(damaged, random);
            }
            check(damaged.toString().getBytes(StandardCharsets.UTF_8));
        }
        byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
        for (int round = 0; round < 20; round++) {
            bytes[random.nextInt(bytes.length)] = (byte) random.nextInt(256);
            check(bytes);
        }
    }

    private static void damage(StringBuilder text, Random random) {
        int at = random.nextInt(text.length());
        int end = Math.min(text.length(), at + 1 + random.nextInt(12));
        String other = text.substring(random.nextInt(text.length()));
        switch (random.nextInt(4)) {
            case 0 -> text.delete(at, Math.min(end, text.length() - 1));
            case 1 -> text.insert(at, PIECES[random.nextInt(PIECES.length)]);
            case 2 -> text.replace(at, end, PIECES[random.nextInt(PIECES.length)]);
            default -> text.insert(at, other.lines().findFirst().orElse("") + "\n");
        }
    }

    private static void check(byte[] text) {
        Assembly assembly = Assembler.assemble(Asm.FILE, text, Asm.largest());
        List<Diagnostic> told =
                assembly instanceof Rejected rejected ? rejected.errors() : ((Assembled) assembly).warnings();
        int line = 0;
        for (Diagnostic diagnostic : told) {
            assertThat(diagnostic.message()).doesNotContainPattern("[\\p{Cc}\u202e\uFEFF]");
            assertThat(String.valueOf(diagnostic.hint())).doesNotContainPattern("[\\p{Cc}\u202e\uFEFF]");
            if (diagnostic.span().line() > 0) {
                assertThat(diagnostic.span().line()).isGreaterThanOrEqualTo(line);
                line = diagnostic.span().line();
            }
            if (diagnostic.span().column() > 0) {
                assertThat(diagnostic.span().length()).isPositive();
            }
        }
    }
}
