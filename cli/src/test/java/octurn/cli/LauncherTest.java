package octurn.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.DisabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * The launcher for Linux and macOS, run by the system's own shell, with a stand-in for Java that tells what it was
 * asked to do: one line for each argument.
 */
@DisabledOnOs(OS.WINDOWS)
class LauncherTest {
    private static final String ECHO = """
            #!/bin/sh
            for a; do
                case $a in
                    -XX:SharedArchiveFile=*) archive=${a#*=} ;;
                    -Xshare:dump) dump=yes ;;
                esac
            done
            if [ -n "$dump" ]; then
                echo made >>"${archive%/*}/made"
                echo x >"$archive"; exit 0
            fi
            for a; do printf '%s\\n' "$a"; done
            """;

    @TempDir
    Path folder;

    private Path octurn;
    private Path java;
    private final Map<String, String> environment = new TreeMap<>();

    private record Outcome(int exit, List<String> out, List<String> err) {}

    @BeforeEach
    void layOut() throws IOException {
        folder = folder.toRealPath();
        octurn = distribution("the octurn folder");
        java = javaHome("java 17", "17.0.9", ECHO);
        environment.put("PATH", System.getenv("PATH"));
        environment.put("JAVA_HOME", java.toString());
    }

    @Test
    void start_folderWithSpaces_handsTheCommandLineOver() throws Exception {
        Outcome outcome = run(octurn.resolve("bin/octurn"), "run", "a b.turn", "*", "", "$HOME");

        assertThat(outcome.err()).isEmpty();
        assertThat(outcome.exit()).isZero();
        assertThat(outcome.out())
                .containsSubsequence(
                        "-cp", octurn + "/lib/octurn.jar", "octurn.cli.Main", "run", "a b.turn", "*", "", "$HOME")
                .contains("-Dlibrary.jline.path=" + octurn + "/lib/native");
    }

    @Test
    void start_chainOfRelativeLinks_findsItsFolder() throws Exception {
        Path links = Files.createDirectories(folder.resolve("other place/deep"));
        Files.createSymbolicLink(links.resolve("second"), Path.of("../../the octurn folder/bin/octurn"));
        Files.createSymbolicLink(folder.resolve("way in"), Path.of("other place/deep"));
        Path first = Files.createSymbolicLink(folder.resolve("first"), Path.of("way in/second"));

        assertThat(run(first, "run").out()).contains(octurn + "/lib/octurn.jar");
    }

    @Test
    void start_linkOnThePath_findsItsFolder() throws Exception {
        Path bin = Files.createDirectories(folder.resolve("my bin"));
        Files.createSymbolicLink(bin.resolve("octurn"), octurn.resolve("bin/octurn"));
        environment.put("PATH", bin + ":" + System.getenv("PATH"));

        assertThat(start(List.of("/bin/sh", "-c", "octurn run")).out()).contains(octurn + "/lib/octurn.jar");
    }

    @Test
    void start_shellInItsFolder_findsItsFolder() throws Exception {
        Outcome outcome = start(List.of("/bin/sh", "-c", "cd \"$1\" && sh octurn run", "sh", octurn + "/bin"));

        assertThat(outcome.out()).contains(octurn + "/lib/octurn.jar");
    }

    @Test
    void javaHome_withoutJava_isToldInOneLine() throws Exception {
        environment.put("JAVA_HOME", folder + "/nothing here");

        Outcome outcome = run(octurn.resolve("bin/octurn"), "run");

        assertThat(outcome.exit()).isEqualTo(1);
        assertThat(outcome.out()).isEmpty();
        assertThat(outcome.err())
                .containsExactly("octurn: JAVA_HOME is " + folder
                        + "/nothing here, but there is no bin/java in it; let it name a Java 17 or newer, or unset it");
    }

    @Test
    void java_nowhere_isToldInOneLine() throws Exception {
        environment.remove("JAVA_HOME");
        environment.put("PATH", folder.toString());

        Outcome outcome = run(octurn.resolve("bin/octurn"), "run");

        assertThat(outcome.exit()).isEqualTo(1);
        assertThat(outcome.err())
                .containsExactly("octurn: no Java found; install Java 17 or newer, or set JAVA_HOME to where it is");
    }

    @Test
    void java_linkOnThePath_isTheOneUsed() throws Exception {
        Path bin = Files.createDirectories(folder.resolve("path"));
        Files.createSymbolicLink(
                bin.resolve("java"), javaHome("java 11", "11.0.20", ECHO).resolve("bin/java"));
        environment.remove("JAVA_HOME");
        environment.put("PATH", bin + ":" + System.getenv("PATH"));

        assertThat(run(octurn.resolve("bin/octurn"), "run").err())
                .containsExactly("octurn: Java 17 or newer is needed, but " + bin
                        + "/java is 11.0.20; install a newer one, or set JAVA_HOME to it");
    }

    @ParameterizedTest
    @CsvSource({"1.8.0_402, 1", "11.0.20, 1", "16, 1", "17, 0", "17.0.15, 0", "21-ea, 0", "25.0.1, 0"})
    void java_version_decidesWhetherItStarts(String version, int exit) throws Exception {
        environment.put("JAVA_HOME", javaHome("some java", version, ECHO).toString());

        assertThat(run(octurn.resolve("bin/octurn"), "run").exit()).isEqualTo(exit);
    }

    @Test
    void java_withoutReleaseFile_isAskedForItsVersion() throws Exception {
        Path old = javaHome("old java", "", "#!/bin/sh\necho 'java version \"1.8.0_402\"' >&2\n");
        Files.delete(old.resolve("release"));
        environment.put("JAVA_HOME", old.toString());

        assertThat(run(octurn.resolve("bin/octurn"), "run").err())
                .containsExactly("octurn: Java 17 or newer is needed, but " + old
                        + "/bin/java is 1.8.0_402; install a newer one, or set JAVA_HOME to it");
    }

    @Test
    void javaOptions_fromTheEnvironment_areSplitAtBlanksOnly() throws Exception {
        environment.put("OCTURN_JAVA_OPTS", "-Xmx64m  -Dstar=*");

        assertThat(run(octurn.resolve("bin/octurn"), "run").out())
                .containsSubsequence("-Xmx64m", "-Dstar=*", "-cp", "octurn.cli.Main");
    }

    @ParameterizedTest
    @ValueSource(strings = {"--version", "learn", "run"})
    void compiler_anyCommand_isTheFullOneWithALaterStart(String command) throws Exception {
        assertThat(run(octurn.resolve("bin/octurn"), command).out())
                .contains("-XX:CompileThresholdScaling=5")
                .noneMatch(option -> option.startsWith("-XX:TieredStopAtLevel"));
    }

    @Test
    void archive_firstCommand_makesAndUsesIt() throws Exception {
        Outcome first = run(octurn.resolve("bin/octurn"), "run");
        Outcome second = run(octurn.resolve("bin/octurn"), "run");

        assertThat(timesMade(octurn)).isEqualTo(1);
        assertThat(first.out()).contains("-XX:SharedArchiveFile=" + octurn + "/lib/octurn.jsa");
        assertThat(second).isEqualTo(first);
        assertThat(octurn.resolve("lib"))
                .isDirectoryNotContaining(file -> file.toString().matches(".*jsa\\.[0-9]+"));
    }

    @Test
    void archive_version_doesNotWaitForIt() throws Exception {
        Outcome outcome = run(octurn.resolve("bin/octurn"), "--version");

        assertThat(timesMade(octurn)).isZero();
        assertThat(outcome.out()).noneMatch(line -> line.startsWith("-XX:SharedArchiveFile"));
    }

    @Test
    void archive_folderMoved_isMadeAgain() throws Exception {
        run(octurn.resolve("bin/octurn"), "run");
        Path moved = Files.move(octurn, folder.resolve("moved"));

        assertThat(run(moved.resolve("bin/octurn"), "run").out())
                .contains("-XX:SharedArchiveFile=" + moved + "/lib/octurn.jsa");
        assertThat(timesMade(moved)).isEqualTo(2);
    }

    @Test
    void archive_otherJava_isMadeAgain() throws Exception {
        run(octurn.resolve("bin/octurn"), "run");
        javaHome("java 17", "17.0.10", ECHO);
        run(octurn.resolve("bin/octurn"), "run");

        assertThat(timesMade(octurn)).isEqualTo(2);
    }

    @Test
    void archive_linkNowToOtherJava_isMadeAgain() throws Exception {
        Path link = Files.createDirectories(folder.resolve("path")).resolve("java");
        environment.remove("JAVA_HOME");
        environment.put("PATH", link.getParent() + ":" + System.getenv("PATH"));
        Files.createSymbolicLink(link, java.resolve("bin/java"));
        run(octurn.resolve("bin/octurn"), "run");
        run(octurn.resolve("bin/octurn"), "run");
        assertThat(timesMade(octurn)).isEqualTo(1);
        Files.delete(link);
        Files.createSymbolicLink(
                link, javaHome("same version elsewhere", "17.0.9", ECHO).resolve("bin/java"));
        run(octurn.resolve("bin/octurn"), "run");

        assertThat(timesMade(octurn)).isEqualTo(2);
    }

    @Test
    void archive_linkToTheSameJava_isFollowedOnceOnly() throws Exception {
        Path bin = Files.createDirectories(folder.resolve("path"));
        Files.createSymbolicLink(bin.resolve("java"), java.resolve("bin/java"));
        environment.remove("JAVA_HOME");
        environment.put("PATH", bin + ":" + System.getenv("PATH"));
        run(octurn.resolve("bin/octurn"), "run");
        executable(bin.resolve("readlink"), "#!/bin/sh\necho asked >&2\nexec /bin/readlink \"$@\"\n");

        Outcome later = run(octurn.resolve("bin/octurn"), "run");

        assertThat(later.err()).isEmpty();
        assertThat(later.out()).contains("-XX:SharedArchiveFile=" + octurn + "/lib/octurn.jsa");
    }

    @Test
    void archive_thatCannotBeMade_isDoneWithoutAndNotTriedAgain() throws Exception {
        String failing = ECHO.replace("echo x >\"$archive\"; exit 0", "echo no room; echo no room >&2; exit 1");
        environment.put("JAVA_HOME", javaHome("failing java", "17.0.9", failing).toString());

        Outcome first = run(octurn.resolve("bin/octurn"), "run");
        run(octurn.resolve("bin/octurn"), "run");

        assertThat(first.exit()).isZero();
        assertThat(first.err()).isEmpty();
        assertThat(first.out()).contains("octurn.cli.Main").noneMatch(line -> line.contains("SharedArchiveFile"));
        assertThat(timesMade(octurn)).isEqualTo(1);
    }

    @Test
    void exit_ofTheProgram_isHandedOn() throws Exception {
        environment.put(
                "JAVA_HOME",
                javaHome("stuck java", "17.0.9", "#!/bin/sh\nexit 4\n").toString());

        assertThat(run(octurn.resolve("bin/octurn"), "--version").exit()).isEqualTo(4);
    }

    private Path distribution(String name) throws IOException {
        Path home = folder.resolve(name);
        Files.createDirectories(home.resolve("bin"));
        Files.createDirectories(home.resolve("lib"));
        Files.createFile(home.resolve("lib/octurn.classlist"));
        executable(home.resolve("bin/octurn"), Files.readString(Path.of("src/main/dist/bin/octurn")));
        return home;
    }

    private Path javaHome(String name, String version, String script) throws IOException {
        Path home = folder.resolve(name);
        Files.createDirectories(home.resolve("bin"));
        Files.writeString(home.resolve("release"), "IMPLEMENTOR=\"Nobody\"\nJAVA_VERSION=\"" + version + "\"\n");
        executable(home.resolve("bin/java"), script);
        return home;
    }

    private static void executable(Path file, String text) throws IOException {
        Files.writeString(file, text);
        assertThat(file.toFile().setExecutable(true)).isTrue();
    }

    private static long timesMade(Path octurn) throws IOException {
        Path made = octurn.resolve("lib/made");
        return Files.exists(made) ? Files.readAllLines(made).size() : 0;
    }

    private Outcome run(Path launcher, String... arguments) throws Exception {
        List<String> command = new ArrayList<>(List.of(launcher.toString()));
        command.addAll(List.of(arguments));
        return start(command);
    }

    private Outcome start(List<String> command) throws Exception {
        Path out = folder.resolve("out.txt");
        Path err = folder.resolve("err.txt");
        ProcessBuilder builder =
                new ProcessBuilder(command).redirectOutput(out.toFile()).redirectError(err.toFile());
        builder.environment().clear();
        builder.environment().putAll(environment);
        int exit = builder.start().waitFor();
        return new Outcome(exit, Files.readAllLines(out), Files.readAllLines(err));
    }
}
