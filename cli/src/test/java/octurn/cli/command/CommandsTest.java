package octurn.cli.command;

import static octurn.cli.Resources.program;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import octurn.cli.Shell;
import octurn.cli.process.Exit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** What commands do with files: good ones, bad ones, and those that are none. */
class CommandsTest {

    private static final JsonMapper JSON = new JsonMapper();

    @TempDir
    Path folder;

    private String file(String name, String text) throws IOException {
        return Files.writeString(folder.resolve(name), text).toString();
    }

    private String file(String name, byte[] bytes) throws IOException {
        return Files.write(folder.resolve(name), bytes).toString();
    }

    // ---- reports as JSON

    @Test
    void json_toAFile_isWrittenBesideTheReport() throws IOException {
        Path json = folder.resolve("out.json");
        Shell.Outcome outcome = new Shell().run("run", program("drips.turn"), "--json", json.toString());
        assertThat(outcome.exit()).isEqualTo(Exit.OK);
        assertThat(outcome.out()).startsWith("drips.turn: every core is idle");
        assertThat(JSON.readTree(json.toFile()).get("cycles").asInt()).isEqualTo(2405);
        try (var files = Files.list(folder)) {
            assertThat(files).containsExactly(json);
        }
    }

    @Test
    void json_toStandardOutput_isAloneThere() {
        for (String command : List.of("run", "check", "list")) {
            Shell.Outcome outcome = new Shell().run(command, program("drips.turn"), "--json", "-");
            assertThat(outcome.exit()).isEqualTo(Exit.OK);
            assertThat(outcome.out()).hasLineCount(1).endsWith("}\n");
            assertThat(JSON.readTree(outcome.out()).get("program").asString()).endsWith("drips.turn");
        }
        JsonNode design = JSON.readTree(new Shell().run("design", "--json=-").out());
        assertThat(design.get("rotationCycles").asInt()).isEqualTo(24);
    }

    @Test
    void json_withDump_holdsTheMemories() {
        String out = new Shell()
                .run("run", program("drips.turn"), "--json", "-", "--dump", "all")
                .out();
        JsonNode report = JSON.readTree(out);
        assertThat(report.get("shared").get("0").asInt()).isEqualTo(800);
        assertThat(report.get("cores").get(0).has("private")).isTrue();
    }

    @Test
    void json_ofCheckWithErrors_isWrittenAllTheSame() {
        Shell.Outcome outcome = new Shell().run("check", program("broken.turn"), "--json", "-");
        assertThat(outcome.exit()).isEqualTo(Exit.USAGE);
        JsonNode report = JSON.readTree(outcome.out());
        assertThat(report.get("ok").asBoolean()).isFalse();
        assertThat(report.get("diagnostics").get(1).get("line").asInt()).isEqualTo(4);
        assertThat(report.get("diagnostics").get(1).get("hint").asString()).isEqualTo("did you mean fetch?");
        assertThat(outcome.err()).contains("broken.turn:4:2: error: ");
    }

    @ParameterizedTest
    @ValueSource(strings = {"run", "list"})
    void json_ofAProgramWithErrors_isNotWritten(String command) throws IOException {
        String json = file("old.json", "old");
        Shell.Outcome outcome = new Shell().run(command, program("broken.turn"), "--json", json);
        assertThat(outcome.exit()).isEqualTo(Exit.USAGE);
        assertThat(Path.of(json)).hasContent("old");
    }

    // ---- targets that cannot be written

    @Test
    void json_toAFolder_isOneLine() {
        assertRefused("is a folder, not a file", "run", program("drips.turn"), "--json", folder.toString());
    }

    @Test
    void json_toNoFolder_isOneLine() {
        String target = folder.resolve("none").resolve("x.json").toString();
        assertRefused("there is no such folder", "run", program("drips.turn"), "--json", target);
    }

    @Test
    void json_overAFileThatIsRead_isOneLine() throws IOException {
        String text = Files.readString(Path.of(program("drips.turn")));
        String program = file("a.turn", text);
        assertRefused("would be written over, but this command reads it", "run", program, "--json", program);
        String design = file("d.design.json", "{}");
        assertRefused(
                "would be written over, but this command reads it",
                "run",
                program,
                "--design",
                design,
                "--json",
                design);
        assertThat(Path.of(program)).hasContent(text);
        assertThat(Path.of(design)).hasContent("{}");
    }

    @Test
    void json_throughALink_replacesTheFileThatItLeadsTo() throws IOException {
        Path real = Path.of(file("real.json", "old"));
        Path link = Files.createSymbolicLink(folder.resolve("link.json"), real);
        new Shell().run("design", "--json", link.toString());
        assertThat(link).isSymbolicLink();
        assertThat(Files.readString(real)).startsWith("{\"design\":");
    }

    // ---- files that are no programs

    private void assertRefused(String why, String... line) {
        Shell.Outcome outcome = new Shell().run(line);
        assertThat(outcome.exit()).isEqualTo(Exit.USAGE);
        assertThat(outcome.out()).isEmpty();
        assertThat(outcome.err()).hasLineCount(1).startsWith("octurn: ").contains(why);
    }

    @ParameterizedTest
    @ValueSource(strings = {"run", "check", "list"})
    void program_missingOrAFolder_isOneLine(String command) {
        assertRefused(
                "no.turn: there is no such file",
                command,
                folder.resolve("no.turn").toString());
        assertRefused(folder + ": is a folder, not a file", command, folder.toString());
        assertRefused("a file's name is empty", command, "");
        assertRefused("no file can have this name", command, "a\0b");
    }

    @Test
    void designOrScenario_missing_isOneLine() {
        assertRefused("there is no such file", "run", program("drips.turn"), "--design", "no.json");
        assertRefused("there is no such file", "run", program("drips.turn"), "--scenario", "no.json");
        assertRefused("there is no such file", "design", "no.json");
    }

    @Test
    void program_emptyOrEndlessLineOrTooLarge_isOneDiagnostic() throws IOException {
        assertOneDiagnostic(file("long.turn", "x".repeat(1_000_000)));
        assertOneDiagnostic(file("large.turn", "; comment\n".repeat(200_000)));
        assertOneDiagnostic(file("zeros.turn", new byte[50_000_000]));
        Shell.Outcome empty = new Shell().run("check", file("empty.turn", ""));
        assertThat(empty.err() + empty.out()).contains("empty.turn");
    }

    private static void assertOneDiagnostic(String file) {
        Shell.Outcome outcome = new Shell().run("run", file);
        assertThat(outcome.exit()).isEqualTo(Exit.USAGE);
        assertThat(outcome.err().lines().filter(line -> line.contains(": error: ")))
                .hasSize(1);
        assertThat(outcome.err().length()).isLessThan(1000);
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3})
    void program_ofGarbage_isRefusedInPlainText(long seed) throws IOException {
        byte[] garbage = new byte[1 << 20];
        new Random(seed).nextBytes(garbage);
        byte[] text = new byte[1 << 20];
        for (int i = 0; i < text.length; i++) {
            text[i] = garbage[i] < 0 ? (byte) '\n' : garbage[i];
        }
        for (byte[] bytes : List.of(garbage, text)) {
            Shell.Outcome outcome = new Shell().run("run", file("garbage.turn", bytes));
            assertThat(outcome.exit()).as("seed %d", seed).isEqualTo(Exit.USAGE);
            assertThat(outcome.err()).doesNotContain("Exception", "octurn.cli").contains(": error: ");
            assertThat(outcome.err().lines().count()).isLessThan(5000);
            assertThat(outcome.err().chars()).allMatch(c -> c == '\n' || c >= ' ');
        }
    }

    @Test
    void everyFileWithErrors_isToldOfAtOnce() throws IOException {
        String scenario = file("s.scenario.json", "{ \"limit\": 0 }");
        Shell.Outcome outcome = new Shell().run("run", program("broken.turn"), "--scenario", scenario);
        assertThat(outcome.err()).contains("s.scenario.json:1:12: error: ").contains("broken.turn:7:9: error: ");
    }

    @Test
    void scenario_isCheckedAgainstTheDesign() throws IOException {
        String design = file("d.design.json", "{ \"pins\": 2 }");
        Shell.Outcome outcome = new Shell()
                .run("run", program("stuck.turn"), "--design", design, "--scenario", program("bell.scenario.json"));
        assertThat(outcome.exit()).isEqualTo(Exit.USAGE);
        assertThat(outcome.err()).contains("inputs[0].pin: 3 is not in 0..1");
    }

    // ---- limits

    @Test
    void limit_onTheCommandLine_winsOverTheScenario() {
        String[] line = {"run", program("endless.turn"), "--scenario", program("bell.scenario.json")};
        assertThat(new Shell().run(line).out()).startsWith("endless.turn: stopped at the limit of 3,000 cycles");
        String[] longer = Arrays.copyOf(line, line.length + 2);
        longer[line.length] = "--cycles";
        longer[line.length + 1] = "4000";
        assertThat(new Shell().run(longer).out())
                .startsWith("endless.turn: stopped at the limit of 4,000 cycles")
                .doesNotContain("protects");
    }

    @Test
    void limit_nobodyChose_isSaidWhenItEndsTheRun() {
        String out = new Shell().run("run", program("endless.turn")).out();
        assertThat(out).startsWith("endless.turn: stopped at the limit of 50,000,000 cycles = 1.042 s");
        assertThat(out.replaceAll("\\s+", " "))
                .contains(
                        "The run was ended by the limit that protects from endless programs; --cycles N sets another.");
    }

    // ---- values set on the command line

    @Test
    void set_aFieldOfTheDesign_isTheSameAsADesignWithIt() throws IOException {
        String design = file("d.design.json", "{ \"slotCycles\": 6 }");
        for (String command : List.of("run", "stalls")) {
            Shell.Outcome set = new Shell().run(command, program("drips.turn"), "--set", "slotCycles=6", "--json", "-");
            assertThat(set.exit()).isEqualTo(Exit.OK);
            assertThat(set.out())
                    .isEqualTo(new Shell()
                            .run(command, program("drips.turn"), "--design", design, "--json", "-")
                            .out())
                    .contains("\"slotCycles\":6");
        }
        String[] step = {"step", program("drips.turn"), "--say"};
        String[] stepDesign = {"step", program("drips.turn"), "--design", design, "--say"};
        String[] stepSet = {"step", program("drips.turn"), "--set", "slotCycles=6", "--say"};
        String asked = "go end\n";
        assertThat(new Shell().in(asked).run(stepSet))
                .isEqualTo(new Shell().in(asked).run(stepDesign))
                .isNotEqualTo(new Shell().in(asked).run(step));
    }

    /** Each of eight cores counts its laps. */
    @Test
    void set_aConstantOfTheProgram_countsInTheRun() {
        String out = new Shell()
                .run("run", program("drips.turn"), "--set", "laps=7", "--json", "-", "--dump", "shared")
                .out();
        assertThat(JSON.readTree(out).get("shared").get("0").asInt()).isEqualTo(56);
    }

    @ParameterizedTest
    @ValueSource(strings = {"run", "step", "stalls"})
    void set_mistakes_areOneLineEach(String command) {
        assertRefused("did you mean laps?", command, program("drips.turn"), "--set", "lasp=7");
        assertRefused("--set ", command, program("drips.turn"), "--set", "slotCycles=0");
        assertRefused("--set ", command, program("drips.turn"), "--set", "slotCycles");
    }

    // ---- progress

    @Test
    void progress_ofALongRun_isShownAndTakenAway() {
        Shell.Outcome outcome =
                new Shell().terminal(80).slowly(300_000_000).run("run", program("endless.turn"), "--cycles", "2000000");
        assertThat(outcome.err()).contains("\r").contains(" % of the limit").endsWith("\r");
        String last = outcome.err()
                .substring(outcome.err().lastIndexOf('\r', outcome.err().length() - 2) + 1);
        assertThat(last).isBlank();
        assertThat(outcome.out())
                .isEqualTo(new Shell()
                        .run("run", program("endless.turn"), "--cycles", "2000000")
                        .out());
    }

    @Test
    void progress_ofAShortRunOrOffATerminal_isNotShown() {
        assertThat(new Shell().terminal(80).run("run", program("drips.turn")).err())
                .isEmpty();
        assertThat(new Shell()
                        .slowly(3_000_000_000L)
                        .run("run", program("drips.turn"))
                        .err())
                .isEmpty();
    }

    // ---- completion

    @ParameterizedTest
    @ValueSource(strings = {"bash", "zsh"})
    void completion_knowsCommandsOptionsAndWords(String shell) {
        String script = new Shell().run("completion", shell).out();
        assertThat(script)
                .contains("complete -F")
                .contains("--scenario")
                .contains("completion")
                .contains("shared");
        assertThat(script.startsWith("autoload -U +X compinit")).isEqualTo(shell.equals("zsh"));
    }

    @Test
    void completion_inBash_completes() throws Exception {
        String script = new Shell().run("completion", "bash").out();
        String ask = """
                ask() {
                    COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); COMP_LINE="$*"; COMP_POINT=${#COMP_LINE}; COMPREPLY=()
                    _complete_octurn; echo "${COMPREPLY[*]}"
                }
                ask octurn ch
                ask octurn run --sc
                ask octurn run --dump ""
                ask octurn completion ""
                """;
        Path file = Files.writeString(folder.resolve("ask.sh"), script + "\n" + ask);
        // Outside a real completion the shell complains of that on standard error.
        Process bash = new ProcessBuilder("bash", file.toString())
                .redirectError(ProcessBuilder.Redirect.DISCARD)
                .start();
        String answer = new String(bash.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        assertThat(answer.lines()).containsExactly("check", "--scenario", "shared private all", "bash zsh");
    }
}
