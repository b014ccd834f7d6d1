package octurn.cli.terminal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.function.Predicate;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.DisabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;

/** The whole command in a real pseudo-terminal, with tmux as the terminal. Passed over where there is no tmux. */
@DisabledOnOs(OS.WINDOWS)
class TmuxTest {

    private static final long PATIENCE = TimeUnit.SECONDS.toNanos(60);
    private static final Path PROGRAMS = Path.of("..", "lessons", "programs");

    @TempDir
    Path folder;

    private String socket;

    @BeforeEach
    void lookForTmux() {
        socket = folder.resolve("tmux").toString();
        boolean there;
        try {
            there = new ProcessBuilder("tmux", "-V").start().waitFor() == 0;
        } catch (IOException | InterruptedException e) {
            there = false;
        }
        assumeTrue(there, "no tmux");
    }

    @AfterEach
    void end() throws Exception {
        tmux("kill-server");
    }

    private String tmux(String... arguments) throws Exception {
        List<String> command = new ArrayList<>(List.of("tmux", "-S", socket, "-f", "/dev/null"));
        command.addAll(List.of(arguments));
        Process process = new ProcessBuilder(command).redirectErrorStream(true).start();
        String text = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        process.waitFor();
        return text;
    }

    /** Starts the command; what it leaves behind stands below it. */
    private void start(int columns, int rows, String environment, String arguments) throws Exception {
        Path script = folder.resolve("start.sh");
        String java = Path.of(System.getProperty("java.home"), "bin", "java").toString();
        Files.writeString(
                script, """
                stty -a >%1$s/before
                env %2$s '%3$s' -Xlog:disable -Xshare:auto -XX:TieredStopAtLevel=1 -cp '%4$s' octurn.cli.Main %5$s
                echo "left with $?"
                stty -a >%1$s/after
                exec sh
                """.formatted(folder, environment, java, System.getProperty("java.class.path"), arguments));
        tmux(
                "-u",
                "new-session",
                "-d",
                "-s",
                "s",
                "-x",
                Integer.toString(columns),
                "-y",
                Integer.toString(rows),
                "sh " + script);
        // Without a client the window keeps the size that it was given.
        tmux("set-option", "-g", "window-size", "manual");
    }

    private String shown() throws Exception {
        return tmux("capture-pane", "-p", "-t", "s");
    }

    private void await(Predicate<String> condition) throws Exception {
        long end = System.nanoTime() + PATIENCE;
        String text = shown();
        while (!condition.test(text)) {
            assertThat(System.nanoTime() < end).as(text).isTrue();
            TimeUnit.MILLISECONDS.sleep(50);
            text = shown();
        }
    }

    private void awaitText(String wanted) throws Exception {
        await(text -> text.contains(wanted));
    }

    private void keys(String... names) throws Exception {
        List<String> command = new ArrayList<>(List.of("send-keys", "-t", "s"));
        command.addAll(List.of(names));
        tmux(command.toArray(String[]::new));
    }

    private static String program(String name) {
        return PROGRAMS.resolve(name).toAbsolutePath().normalize().toString();
    }

    @Test
    void step_realTerminal_findsOutWhyCore5Waits() throws Exception {
        start(80, 24, "LC_ALL=C.UTF-8 TERM=screen-256color", "step " + program("eight-cores.turn"));
        awaitText("New here?");

        keys("5", "w");
        awaitText("Core 5 asked for shared word 5 (soil+5) at cycle 5. Its slot opens at 15: 10");
        keys("y");
        awaitText("It is admitted only in the cycle in which a slot of its own opens");
        keys("Escape");
        await(text -> !text.contains("why core 5 waits"));
        keys("a");
        awaitText("cycle 15");
        keys("Left");
        awaitText("cycle 14");

        tmux("resize-window", "-t", "s", "-x", "160", "-y", "50");
        await(text -> text.contains("works  w waits") && text.contains("shared memory"));
        tmux("resize-window", "-t", "s", "-x", "70", "-y", "20");
        awaitText("This window has 70 columns and 20 rows");
        tmux("resize-window", "-t", "s", "-x", "80", "-y", "24");
        awaitText("Core 5 asked");

        keys(":", "go 100", "Enter");
        awaitText("cycle 100");
        keys("q");
        awaitText("left with 0");
        await(text -> Files.exists(folder.resolve("after")));
        assertThat(shown()).doesNotContain("Core 5");
        TimeUnit.MILLISECONDS.sleep(200);
        assertThat(settings("after")).isEqualTo(settings("before"));
    }

    /** The terminal's settings without its size and the number of its line discipline, which setting them leaves open. */
    private String settings(String file) throws IOException {
        return Files.readString(folder.resolve(file)).replaceAll("rows [0-9]+; columns [0-9]+;|line = [0-9]+;", "");
    }

    @Test
    void step_withoutUnicodeAndColour_isPlain() throws Exception {
        start(80, 24, "LC_ALL=C NO_COLOR=1 TERM=screen", "step " + program("eight-cores.turn"));
        awaitText("New here? Right Left step");

        assertThat(tmux("capture-pane", "-p", "-e", "-t", "s"))
                .contains("turn")
                .doesNotContain("38;5")
                .doesNotContain("48;5")
                .matches("(?s)[\\x1b\\x0e\\x0f\\n -~]+");
        keys("C-c");
        awaitText("left with 0");
    }

    @Test
    void step_suspended_comesBack() throws Exception {
        start(80, 24, "LC_ALL=C.UTF-8 TERM=screen-256color", "--version");
        awaitText("left with 0");
        // An interactive shell, so that there is job control.
        String java = Path.of(System.getProperty("java.home"), "bin", "java").toString();
        Files.writeString(
                folder.resolve("octurn"),
                "exec '%s' -XX:TieredStopAtLevel=1 -cp '%s' octurn.cli.Main \"$@\"\n"
                        .formatted(java, System.getProperty("java.class.path")));
        keys("exec env LC_ALL=C.UTF-8 TERM=screen-256color PS1='ready> ' bash --norc -i", "Enter");
        awaitText("ready>");
        keys("bash %s/octurn step %s".formatted(folder, program("eight-cores.turn")), "Enter");
        awaitText("New here?");
        keys("Right");
        awaitText("cycle 1 ");

        keys("C-z");
        await(text -> text.contains("Stopped") && text.contains("ready>"));
        // What is typed while the terminal changes hands is thrown away, hence the seconds.
        TimeUnit.SECONDS.sleep(1);
        keys("echo typed $((6 * 7))", "Enter");
        awaitText("typed 42");
        TimeUnit.SECONDS.sleep(1);
        keys("fg", "Enter");
        awaitText("cycle 1 ");
        TimeUnit.SECONDS.sleep(1);
        keys("Right");
        awaitText("cycle 2 ");
        keys("q");
        await(text -> text.contains("ready>") && !text.contains("cycle 2 "));
    }

    @Test
    void step_dumbTerminal_talksInLines() throws Exception {
        start(80, 24, "LC_ALL=C.UTF-8 TERM=dumb", "step " + program("eight-cores.turn"));
        awaitText("One command a line; help lists them.");

        keys("core 5", "Enter", "next request", "Enter");
        awaitText("Core 5 asked for shared word 5");
        keys("quit", "Enter");
        awaitText("left with 0");
    }

    @Test
    void step_killed_leavesTheTerminalAsItWas() throws Exception {
        start(80, 24, "LC_ALL=C.UTF-8 TERM=screen-256color", "step " + program("eight-cores.turn"));
        awaitText("New here?");
        String pane = tmux("list-panes", "-t", "s", "-F", "#{pane_pid}").strip();

        ProcessHandle shell = ProcessHandle.of(Long.parseLong(pane)).orElseThrow();
        shell.children().forEach(ProcessHandle::destroy);

        awaitText("left with 143");
        await(text -> Files.exists(folder.resolve("after")));
        TimeUnit.MILLISECONDS.sleep(200);
        assertThat(settings("after")).isEqualTo(settings("before"));
    }

    // ---- lessons ----

    private String learn() {
        Path course =
                Path.of("src", "test", "resources", "octurn", "cli", "course").toAbsolutePath();
        return "learn --course %s --data %s/data --work %s/work".formatted(course, folder, folder);
    }

    private String environment(String more) {
        return "LC_ALL=C.UTF-8 TERM=screen-256color " + more;
    }

    @Test
    void learn_realTerminal_goesThroughALessonWithNothingButTheScreen() throws Exception {
        start(80, 24, environment(""), learn());
        awaitText("Enter opens lesson 1");
        keys("Enter");
        awaitText("step 1 of 4, read");
        keys("Enter");
        awaitText("Enter opens the run");
        keys("Enter");
        awaitText("Bed 4 asks for the shared word here.");
        keys("Right");
        awaitText("cycle 4 ");
        keys("Enter");
        awaitText("Enter back to the lesson");
        keys("Enter");
        awaitText("Type your answer, then Enter");
        keys("12", "Enter");
        awaitText("You counted the slot itself as well.");
        keys("Tab");
        awaitText("the run of the question");
        keys("q");
        awaitText("Not 12.");
        keys("9", "Enter");
        awaitText("Right: 9 cycles.");

        tmux("resize-window", "-t", "s", "-x", "120", "-y", "40");
        await(text -> text.lines().count() >= 39 && text.contains("Right: 9 cycles."));
        tmux("resize-window", "-t", "s", "-x", "30", "-y", "9");
        awaitText("This window has 30 columns");
        tmux("resize-window", "-t", "s", "-x", "80", "-y", "24");
        awaitText("Enter goes on");
        keys("Escape");
        awaitText("begun, step 3 of 4");
        keys("q");
        awaitText("left with 0");
        await(text -> Files.exists(folder.resolve("after")));
        TimeUnit.MILLISECONDS.sleep(200);
        assertThat(settings("after")).isEqualTo(settings("before"));
    }

    @Test
    void learn_task_isCheckedWheneverTheFileIsSavedByWhomeverItIs() throws Exception {
        start(80, 24, environment("EDITOR=" + editor()), learn());
        awaitText("Enter opens lesson 1");
        keys("Down", "Enter");
        awaitText("Enter writes your file");
        keys("Enter");
        awaitText("2 of 4 passed");
        Path file = folder.resolve("work").resolve("count.turn");
        String start = Files.readString(file);

        // Saved as some editors do it: a new file is moved into the place of the old one.
        Path course = Path.of("src", "test", "resources", "octurn", "cli", "course");
        Path saved = Files.copy(course.resolve("count").resolve("count-model.turn"), folder.resolve("saved"));
        Files.move(saved, file, StandardCopyOption.REPLACE_EXISTING);
        awaitText("Check 2: passed, all 4.");
        awaitText("saved, check 2: passed");

        Files.writeString(file, start);
        awaitText("Check 3: 2 of 4 passed.");
        keys("e");
        awaitText("Check 4: the file has errors, so nothing was run.");
        assertThat(Files.readString(file)).endsWith("edited\n");
        keys("C-c");
        awaitText("left with 0");
    }

    /** An editor that adds a line and ends. */
    private String editor() throws IOException {
        Path editor = Files.writeString(folder.resolve("editor"), "#!/bin/sh\necho edited >>\"$1\"\n");
        assertThat(editor.toFile().setExecutable(true)).isTrue();
        return editor.toString();
    }

    @Test
    void learn_dumbTerminal_talksInLines() throws Exception {
        start(80, 24, "LC_ALL=C.UTF-8 TERM=dumb", learn());
        awaitText("Enter opens lesson 1; open N another one; help, quit.");

        keys("Enter");
        awaitText("One drip, step 1 of 4, read.");
        keys("quit", "Enter");
        awaitText("left with 0");
    }

    @Test
    void learn_withoutUnicodeAndColour_isPlain() throws Exception {
        start(80, 24, "LC_ALL=C NO_COLOR=1 TERM=screen", learn());
        awaitText("Up Down choose another");

        keys("Enter");
        awaitText("step 1 of 4");
        assertThat(tmux("capture-pane", "-p", "-e", "-t", "s"))
                .doesNotContain("38;5")
                .doesNotContain("48;5")
                .matches("(?s)[\\x1b\\x0e\\x0f\\n -~]+");
        keys("C-c");
        awaitText("left with 0");
    }

    @Test
    void learn_killed_leavesTheTerminalAsItWasAndTheProgressWhole() throws Exception {
        start(80, 24, environment(""), learn());
        awaitText("Enter opens lesson 1");
        keys("Enter");
        awaitText("step 1 of 4");
        String pane = tmux("list-panes", "-t", "s", "-F", "#{pane_pid}").strip();

        ProcessHandle shell = ProcessHandle.of(Long.parseLong(pane)).orElseThrow();
        shell.children().forEach(ProcessHandle::destroy);

        awaitText("left with 143");
        await(text -> Files.exists(folder.resolve("after")));
        TimeUnit.MILLISECONDS.sleep(200);
        assertThat(settings("after")).isEqualTo(settings("before"));
        assertThat(Files.readString(folder.resolve("data").resolve("progress.json")))
                .contains("\"at\":1");
    }
}
