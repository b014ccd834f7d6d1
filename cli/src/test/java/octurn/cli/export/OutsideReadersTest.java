package octurn.cli.export;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.fail;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import octurn.cli.Shell;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Wave files in the hands of programs that others made: GTKWave's converters, and the decoders of sigrok. On Debian they
 * are in the packages {@code gtkwave} and {@code sigrok-cli}; where they are not installed these tests are left out, but
 * not where CI=true.
 */
class OutsideReadersTest {

    private static final String PROGRAMS = Path.of("..", "lessons", "programs").toString();

    @TempDir
    Path folder;

    private static void need(String tool) {
        boolean there = Stream.of(System.getenv().getOrDefault("PATH", "").split(":", -1))
                .anyMatch(place -> Files.isExecutable(Path.of(place, tool)));
        if (!there && "true".equals(System.getenv("CI"))) {
            fail(tool + " is missing: apt-get install --no-install-recommends gtkwave sigrok-cli");
        }
        assumeTrue(there, tool + " is not installed");
    }

    private String tool(String... command) throws IOException, InterruptedException {
        Path out = folder.resolve("out.txt");
        Process process = new ProcessBuilder(command)
                .redirectErrorStream(true)
                .redirectOutput(out.toFile())
                .start();
        if (!process.waitFor(120, TimeUnit.SECONDS)) {
            process.destroyForcibly();
            fail("does not end: " + String.join(" ", command));
        }
        String said = Files.readString(out);
        assertThat(process.exitValue()).as(said).isZero();
        return said;
    }

    private String waves(String program, String... options) {
        String file = folder.resolve("w.vcd").toString();
        List<String> line = new ArrayList<>(List.of("waves", program, "-o", file));
        line.addAll(List.of(options));
        assertThat(new Shell().run(line.toArray(String[]::new)).exit()).isZero();
        return file;
    }

    private String program(String text) throws IOException {
        return Files.writeString(folder.resolve("p.turn"), text).toString();
    }

    /** All changes in the output of fst2vcd, which is not as strict as ours: time, code, value. */
    private static List<String> loose(String text) {
        Pattern change = Pattern.compile("(?:b([01xz]+) |([01xz]))([!-~]+)");
        List<String> changes = new ArrayList<>();
        String time = "";
        boolean inside = false;
        for (String line : text.lines().toList()) {
            inside |= line.startsWith("$enddefinitions");
            Matcher match = change.matcher(line);
            if (line.startsWith("#")) {
                time = line;
            } else if (inside && match.matches()) {
                String value = match.group(1) == null ? match.group(2) : match.group(1);
                changes.add(time + " " + match.group(3) + " " + value.replaceAll("^(0(?=.)|x(?=x)|z(?=z))+", ""));
            }
        }
        return changes.stream().sorted().toList();
    }

    @ParameterizedTest
    @CsvSource({"eight-cores.turn", "ring-buffer.turn", "worker.turn", "parallel-sum.turn"})
    void gtkwave_convertsThereAndBack_theChangesAreTheSame(String program) throws Exception {
        need("vcd2fst");
        need("fst2vcd");
        String vcd = waves(PROGRAMS + "/" + program, "--cycles", "20000");
        String fst = folder.resolve("w.fst").toString();
        String back = folder.resolve("b.vcd").toString();

        tool("vcd2fst", "-v", vcd, "-f", fst);
        tool("fst2vcd", "-f", fst, "-o", back);

        List<String> ours = loose(Files.readString(Path.of(vcd)));
        assertThat(ours.size()).isGreaterThan(1000);
        assertThat(loose(Files.readString(Path.of(back)))).isEqualTo(ours);
    }

    @ParameterizedTest
    @CsvSource({"eight-cores.turn", "serial-log.turn", "spin-lock.turn"})
    void gtkwave_readsTheFile_withoutAComplaint(String program) throws Exception {
        need("vcd2lxt2");
        String vcd = waves(PROGRAMS + "/" + program, "--cycles", "20000");

        String said = tool("vcd2lxt2", vcd, folder.resolve("w.lxt2").toString());

        assertThat(said).doesNotContain("Near line").contains("86 symbols");
    }

    /** Every 100000th picosecond is looked at: a bit lasts a thousand times as long. */
    @Test
    void sigrok_decodesTheLogLine_asTheTextThatTheProgramSends() throws Exception {
        need("sigrok-cli");
        String vcd = waves(PROGRAMS + "/serial-log.turn", "--pins-only");

        String said = tool(
                "sigrok-cli",
                "-I",
                "vcd:downsample=100000",
                "-i",
                vcd,
                "-P",
                "uart:rx=pin7:baudrate=9600:format=ascii",
                "-A",
                "uart=rx-data:rx-warnings");

        assertThat(said.replaceAll("(?m)^uart-1: ", "").replace("\n", "")).isEqualTo("vent open[0A]");
    }

    /** What a scenario sends at 417 cycles a bit is 115200 baud to anybody. */
    @Test
    void sigrok_decodesAScenariosLine_asItsText() throws Exception {
        need("sigrok-cli");
        String scenario =
                Files.writeString(folder.resolve("s.scenario.json"), """
                        { "inputs": [ { "pin": 4, "serial": { "from": 1000, "cyclesPerBit": 417, "text": "probe 3: 41\\n" } } ] }
                        """).toString();
        String vcd =
                waves(program("core 0\n big r1, 70000\n pause r1\n halt\n"), "--scenario", scenario, "--pins-only");

        String said = tool(
                "sigrok-cli",
                "-I",
                "vcd:downsample=10000",
                "-i",
                vcd,
                "-P",
                "uart:rx=pin4:baudrate=115200:format=ascii",
                "-A",
                "uart=rx-data:rx-warnings");

        assertThat(said.replaceAll("(?m)^uart-1: ", "").replace("\n", "")).isEqualTo("probe 3: 41[0A]");
    }

    @Test
    void sigrok_measuresAPulse_asTheProgramMakesIt() throws Exception {
        need("sigrok-cli");
        String vcd = waves(program("""
                        core 0
                                set   r1, 8
                                write drive, r1
                                set   r1, 480
                                write span0, r1
                                set   r1, 120
                                write level0, r1
                                set   r1, 0x306
                                write mode0, r1
                                pause 9600
                                halt
                        """), "--pins-only");

        String duty = tool("sigrok-cli", "-I", "vcd:downsample=100", "-i", vcd, "-P", "pwm:data=pin3", "-A", "pwm");
        String times = tool(
                "sigrok-cli", "-I", "vcd:downsample=100", "-i", vcd, "-P", "timing:data=pin3", "-A", "timing=time");

        // 480 cycles at 48 MHz are 10 us, 120 of them 2.5 us.
        assertThat(duty).contains("25.000000%").contains("10.0 μs");
        assertThat(times).contains("2.500").contains("7.500");
    }
}
