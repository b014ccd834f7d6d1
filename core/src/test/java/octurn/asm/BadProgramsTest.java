package octurn.asm;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.URISyntaxException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import octurn.design.Design;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Programs full of mistakes, each with what is said about it in a comment on its line: {@code ; ERROR col C len N:
 * message -- hint}, or {@code ; ERROR ABOVE ..} on the next line where a comment would be part of the mistake. A first
 * line {@code ; DESIGN cores=4 private=16 shared=64} gives a design other than the default one.
 */
class BadProgramsTest {

    private static final Pattern ERROR = Pattern.compile("; ERROR (ABOVE )?col (\\d+) len (\\d+): (.*?)(?= ; ERROR|$)");

    private static final Pattern DESIGN = Pattern.compile("(cores|private|shared)=(\\d+)");

    static Stream<Path> programs() throws IOException, URISyntaxException {
        Path folder =
                Path.of(BadProgramsTest.class.getResource("/octurn/asm/bad").toURI());
        try (Stream<Path> files = Files.list(folder)) {
            return files.sorted().toList().stream();
        }
    }

    @ParameterizedTest
    @MethodSource("programs")
    void mistakes_allOfThem_areToldInOrder(Path file) throws IOException {
        String text = Files.readString(file);
        String[] lines = text.split("\n", -1);
        List<String> expected = new ArrayList<>();
        for (int i = 0; i < lines.length; i++) {
            for (MatchResult error : ERROR.matcher(lines[i]).results().toList()) {
                int line = i + (error.group(1) == null ? 1 : 0);
                expected.add("%d:%s+%s %s".formatted(line, error.group(2), error.group(3), error.group(4)));
            }
        }
        assertThat(expected).isNotEmpty();

        assertThat(Asm.told(Assembler.assemble(Asm.FILE, text, design(lines[0]))))
                .isEqualTo(expected);
    }

    private static Design design(String line) {
        int cores = Design.DEFAULT.cores();
        int privateWords = Design.DEFAULT.privateWords();
        int sharedWords = Design.DEFAULT.sharedWords();
        for (MatchResult field : DESIGN.matcher(line).results().toList()) {
            int value = Integer.parseInt(field.group(2));
            switch (field.group(1)) {
                case "cores" -> cores = value;
                case "private" -> privateWords = value;
                default -> sharedWords = value;
            }
        }
        return Asm.design(cores, privateWords, sharedWords);
    }
}
