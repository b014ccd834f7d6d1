package octurn.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.DynamicTest.dynamicTest;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import octurn.cli.process.Exit;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.TestFactory;
import org.junit.jupiter.api.io.TempDir;

/**
 * The commands in {@code docs/measure.md} print what stands below them there; where nothing stands below, they do what
 * they should. A line of three dots stands for the rest.
 */
class MeasureDocsTest {

    private static final Path PAGE = Path.of("..", "docs", "measure.md");
    private static final Path PROGRAMS = Path.of("..", "lessons", "programs");
    private static final String PROMPT = "$ octurn ";

    @TempDir
    static Path folder;

    /** A command with what the page shows of its output. */
    private record Shown(int line, String command, List<String> output) {}

    @TestFactory
    List<DynamicTest> page_commands_printWhatItShows() throws IOException {
        List<DynamicTest> tests = new ArrayList<>();
        // One command reads what another wrote, so they run in the order of the page.
        for (Shown shown : shown()) {
            tests.add(dynamicTest("line %d: %s".formatted(shown.line(), shown.command()), () -> check(shown)));
        }
        return tests;
    }

    private static List<Shown> shown() throws IOException {
        List<Shown> all = new ArrayList<>();
        // The one command that stands in running text.
        all.add(new Shown(0, "workload --fixed 18 --accesses 500 -o think18.turn", List.of()));
        List<String> lines = Files.readAllLines(PAGE);
        boolean inBlock = false;
        for (int i = 0; i < lines.size(); i++) {
            String line = lines.get(i);
            if (line.startsWith("```")) {
                inBlock = line.equals("```text");
            } else if (inBlock && line.startsWith(PROMPT)) {
                all.add(new Shown(i + 1, line.substring(PROMPT.length()), new ArrayList<>()));
            } else if (inBlock) {
                all.get(all.size() - 1).output().add(line);
            }
        }
        return all;
    }

    private static void check(Shown shown) {
        String[] words = Arrays.stream(shown.command().split(" ", -1))
                .map(MeasureDocsTest::placed)
                .toArray(String[]::new);
        Shell.Outcome outcome = new Shell().run(words);

        assertThat(outcome.err()).isEmpty();
        assertThat(outcome.exit()).isEqualTo(Exit.OK);
        List<String> expected = shown.output();
        List<String> printed = outcome.out().lines().toList();
        assertThat(printed)
                .allSatisfy(line ->
                        assertThat(line.codePointCount(0, line.length())).isLessThanOrEqualTo(80));
        if (!expected.isEmpty()) {
            boolean cut = expected.get(expected.size() - 1).equals("...");
            int length = cut ? expected.size() - 1 : printed.size();
            assertThat(String.join("\n", printed.subList(0, Math.min(length, printed.size())))
                            .stripTrailing())
                    .isEqualTo(String.join("\n", cut ? expected.subList(0, length) : expected)
                            .stripTrailing());
        }
    }

    /** Files of the page are those of the programs' folder, or else made by an earlier command. */
    private static String placed(String word) {
        if (!word.endsWith(".turn") && !word.endsWith(".json")) {
            return word;
        }
        Path program = PROGRAMS.resolve(word);
        return (Files.exists(program) ? program : folder.resolve(word)).toString();
    }
}
