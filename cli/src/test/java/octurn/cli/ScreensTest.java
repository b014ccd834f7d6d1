package octurn.cli;

import static octurn.cli.Resources.assertGolden;
import static octurn.cli.Resources.program;
import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import octurn.cli.view.Glyphs;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** What commands show, against golden screens; standard error first, as it is on a terminal. */
class ScreensTest {

    private static String screen(Shell.Outcome outcome) {
        return outcome.err() + outcome.out();
    }

    static Stream<Arguments> screens() {
        return Stream.of(
                Arguments.of("run-drips", 0, "run drips.turn"),
                Arguments.of("run-lock-limit", 0, "run lock.turn --cycles 3000"),
                Arguments.of("run-everything", 3, "run everything.turn"),
                Arguments.of("run-stuck", 4, "run stuck.turn"),
                Arguments.of("run-stuck-no-slot", 4, "run stuck.turn --design weighted.design.json"),
                Arguments.of("run-bell", 0, "run stuck.turn --scenario bell.scenario.json"),
                Arguments.of("run-clash", 0, "run clash.turn"),
                Arguments.of("run-faults", 3, "run faults.turn"),
                Arguments.of("run-many-cores", 0, "run drips.turn --design many.design.json"),
                Arguments.of("run-next-waiting", 0, "run drips.turn --design next-waiting.design.json"),
                Arguments.of("run-own-port", 0, "run lock.turn --design own-port.design.json"),
                Arguments.of("run-nothing", 0, "run nothing.turn"),
                Arguments.of("run-broken", 2, "run broken.turn"),
                Arguments.of("run-wrong-design", 2, "run drips.turn --design wrong.design.json"),
                Arguments.of("check-fine", 0, "check everything.turn"),
                Arguments.of("check-broken", 2, "check broken.turn"),
                Arguments.of("list-everything", 0, "list everything.turn"),
                Arguments.of("design-default", 0, "design"),
                Arguments.of("design-weighted", 0, "design weighted.design.json"),
                Arguments.of("design-lottery", 0, "design lottery.design.json"),
                Arguments.of("design-priority", 0, "design priority.design.json"),
                Arguments.of("design-next-waiting", 0, "design next-waiting.design.json"),
                Arguments.of("design-own-port", 0, "design own-port.design.json"),
                Arguments.of("pins-clash", 0, "pins clash.turn"),
                Arguments.of("pins-none", 4, "pins stuck.turn"),
                Arguments.of(
                        "pins-lines",
                        0,
                        "pins lock.turn --scenario lines.scenario.json --cycles 3000 --serial 2 --pin 5"),
                Arguments.of(
                        "pins-framing",
                        0,
                        "pins lock.turn --scenario lines.scenario.json --cycles 3000 --serial 2 --baud 1300000"),
                Arguments.of("clock", 0, "clock"),
                Arguments.of(
                        "clock-wishes",
                        0,
                        "clock --source 5MHz --multiplier 16 --baud 115200 --baud 9000000 --hertz 440 --pulse 1.5ms"),
                Arguments.of("help-run", 0, "help run"));
    }

    /** The words of a command line, with the names of files of the tests led to their folder. */
    private static String[] words(String line) {
        return Arrays.stream(line.split(" ", -1))
                .map(word -> word.endsWith(".turn") || word.endsWith(".json") ? program(word) : word)
                .toArray(String[]::new);
    }

    /** Names of files stand in diagnostics as they were given, and a folder is written differently elsewhere. */
    private static String withoutFolder(String screen) {
        return screen.replace(
                Path.of(program("x")).getParent() + Path.of("/").getFileSystem().getSeparator(), "");
    }

    @ParameterizedTest
    @MethodSource("screens")
    void command_onATerminal_showsTheGoldenScreen(String name, int exit, String line) {
        Shell.Outcome outcome = new Shell().terminal(80).run(words(line));
        assertThat(outcome.exit()).isEqualTo(exit);
        assertGolden(name, withoutFolder(screen(outcome)));
    }

    @ParameterizedTest
    @CsvSource({
        "run-drips-ascii, run drips.turn",
        "run-broken-ascii, run broken.turn",
        "design-ascii, design",
        "pins-ascii, pins lock.turn --scenario lines.scenario.json --cycles 3000 --serial 2",
        "clock-ascii, clock"
    })
    void command_withoutUnicode_showsTheGoldenScreenInAscii(String name, String line) {
        Shell.Outcome outcome =
                new Shell().terminal(80).charset(StandardCharsets.US_ASCII).run(words(line));
        String screen = withoutFolder(screen(outcome));
        assertThat(StandardCharsets.US_ASCII.newEncoder().canEncode(screen)).isTrue();
        assertGolden(name, screen);
    }

    @Test
    void run_onAWideTerminal_usesTheWidth() {
        assertGolden(
                "run-drips-wide",
                new Shell().terminal(120).run(words("run drips.turn")).out());
        assertGolden(
                "list-wide",
                new Shell().terminal(120).run(words("list everything.turn")).out());
    }

    @Test
    void run_inColour_differsOnlyByControlSequences() {
        Shell.Outcome outcome = new Shell().colour().run(words("run everything.turn"));
        assertGolden("run-everything-colour", outcome.out().replace('\u001b', '^'));
        assertThat(outcome.out().replaceAll("\u001b\\[[0-9;]*m", "").replaceAll("(?m) +$", ""))
                .isEqualTo(new Shell()
                        .terminal(80)
                        .run(words("run everything.turn"))
                        .out());
    }

    @Test
    void list_offATerminal_isNotCut() {
        String text = new Shell().run(words("list everything.turn")).out();
        assertThat(text).contains("div   r1, r1, r0        ; a fault, in the end");
    }

    static Stream<String> cases() {
        return IntStream.rangeClosed(1, 58).mapToObj("%02d"::formatted);
    }

    /** The report of any run fits 80 columns, with and without Unicode, and its percentages add up. */
    @ParameterizedTest
    @MethodSource("cases")
    void run_anyProgram_fits80Columns(String name) {
        Path folder = Path.of("..", "core", "src", "test", "resources", "octurn", "cases");
        String[] line = {
            "run",
            folder.resolve(name + ".turn").toString(),
            "--design",
            folder.resolve(name + ".design.json").toString(),
            "--scenario",
            folder.resolve(name + ".scenario.json").toString()
        };
        for (Charset charset : new Charset[] {StandardCharsets.UTF_8, StandardCharsets.US_ASCII}) {
            String out = new Shell().charset(charset).run(line).out();
            assertThat(out).isNotEmpty();
            assertThat(out.lines())
                    .allSatisfy(text -> assertThat(Glyphs.width(text)).isLessThanOrEqualTo(80));
            int first = out.indexOf("\ncore ");
            int last = out.indexOf("\n\n", first + 1);
            if (first >= 0) {
                String head = out.substring(first + 1, out.indexOf('\n', first + 1));
                int end = head.indexOf("   count");
                out.substring(first + 1, last).lines().skip(1).forEach(row -> assertPercent(row, head, end));
            }
        }
    }

    private static void assertPercent(String row, String head, int end) {
        if (row.contains("idle all the time")) {
            return;
        }
        // Bars may hold letters but no digits; the figures of percent are those between the bar and the counts.
        String figures = row.substring(5, Math.min(row.length(), end))
                .replaceAll("[^0-9 ]", " ")
                .strip();
        int sum = Arrays.stream(figures.split(" +", -1))
                .mapToInt(Integer::parseInt)
                .sum();
        assertThat(sum).as(head + "\n" + row).isEqualTo(100);
    }

    @ParameterizedTest
    @ValueSource(strings = {"run drips.turn", "list everything.turn", "design weighted.design.json", "check lock.turn"})
    void command_twice_saysTheSame(String line) {
        assertThat(new Shell().run(words(line))).isEqualTo(new Shell().run(words(line)));
    }
}
