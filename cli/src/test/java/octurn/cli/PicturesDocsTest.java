package octurn.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.DynamicTest.dynamicTest;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import octurn.cli.process.Exit;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.junit.jupiter.api.io.TempDir;

/**
 * The commands of {@code docs/pictures.md} draw the pictures that lie beside it, to the byte, and print what stands below
 * them. {@code -Docturn.rewrite=true} draws the pictures anew.
 */
class PicturesDocsTest {

    private static final Path ROOT = Path.of("..");
    private static final Path PAGE = ROOT.resolve(Path.of("docs", "pictures.md"));
    private static final Pattern COMMAND = Pattern.compile("(?m)^\\$ octurn (.*)\n((?:(?!```).*\n)*)");
    private static final boolean REWRITE = Boolean.getBoolean("octurn.rewrite");

    @TempDir
    static Path folder;

    @TestFactory
    List<DynamicTest> page_commands_drawWhatItShows() throws IOException {
        List<DynamicTest> tests = new ArrayList<>();
        Matcher matcher = COMMAND.matcher(Files.readString(PAGE));
        while (matcher.find()) {
            String command = matcher.group(1);
            String shown = matcher.group(2);
            tests.add(dynamicTest(command, () -> check(command, shown)));
        }
        assertThat(tests).hasSizeGreaterThan(3);
        return tests;
    }

    private static void check(String command, String shown) throws IOException {
        List<String> words = new ArrayList<>();
        Path picture = null;
        for (String word : command.split(" ", -1)) {
            if (word.startsWith("docs/pictures/")) {
                picture = ROOT.resolve(word);
                words.add(
                        REWRITE
                                ? picture.toString()
                                : folder.resolve("drawn.svg").toString());
            } else {
                words.add(word.startsWith("lessons/") ? ROOT.resolve(word).toString() : word);
            }
        }
        Shell.Outcome outcome = new Shell().run(words.toArray(String[]::new));

        assertThat(outcome.err()).isEmpty();
        assertThat(outcome.exit()).isEqualTo(Exit.OK);
        assertThat(outcome.out()).isEqualTo(shown);
        if (picture != null && !REWRITE) {
            assertThat(Files.readString(folder.resolve("drawn.svg"))).isEqualTo(Files.readString(picture));
        }
    }

    @Test
    void readme_picture_isOneOfThem() throws IOException {
        assertThat(Files.readString(ROOT.resolve("README.md"))).contains("(docs/pictures/eight-cores.svg)");
    }
}
