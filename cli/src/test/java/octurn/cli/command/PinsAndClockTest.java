package octurn.cli.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import octurn.cli.Shell;
import octurn.cli.process.Exit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** The commands pins, clock and waves, and the events of run. */
class PinsAndClockTest {

    private static final String PROGRAMS = "../lessons/programs/";
    private static final String LOG = PROGRAMS + "serial-log.turn";

    @TempDir
    Path folder;

    private static void assertRefused(String why, String... line) {
        Shell.Outcome outcome = new Shell().run(line);
        assertThat(outcome.exit()).isEqualTo(Exit.USAGE);
        assertThat(outcome.out()).isEmpty();
        assertThat(outcome.err()).hasLineCount(1).startsWith("octurn: ").contains(why);
    }

    @Test
    void pins_aSerialLine_isReadBackToItsText() {
        String out = new Shell().run("pins", LOG, "--serial", "7").out();

        assertThat(out)
                .contains("pin 7: given its level by core 0")
                .contains("8N1, 5,000 cycles a bit = 9600 baud, found by looking at the")
                .contains("\"vent open\\n\"")
                .contains("10 bytes, all good");
    }

    @Test
    void pins_aSerialLineAtAWrongRate_showsFramingErrorsWithTheirCycles() {
        String out =
                new Shell().run("pins", LOG, "--serial", "7", "--baud", "12000").out();

        assertThat(out)
                .contains("4,000 cycles a bit = 12000 baud, as given")
                .containsPattern("cycle [0-9,]+: framing error");
    }

    @Test
    void pins_aLineOfTheScenario_takesItsBitTime() {
        String out = new Shell()
                .run("pins", PROGRAMS + "panel.turn", "--scenario", PROGRAMS + "panel.scenario.json", "--serial", "1")
                .out();

        assertThat(out)
                .contains("417 cycles a bit = 115108 baud, from the scenario")
                .contains("all good");
    }

    @Test
    void pins_aLampThatBlinks_hasItsPeriodAndFrequency() {
        String out = new Shell().run("pins", PROGRAMS + "blink.turn").out();

        assertThat(out)
                .contains("high          4x 2,400,000 cycles = 50 ms")
                .contains("rise to rise  3x 4,800,000 cycles = 100 ms")
                .contains("frequency     10 Hz, high 50 % of the time");
    }

    @ParameterizedTest
    @ValueSource(strings = {"serial-log.turn", "blink.turn", "flow-meter.turn", "one-core.turn"})
    void pins_anyProgram_fits80Columns(String program) {
        for (Charset charset : new Charset[] {StandardCharsets.UTF_8, StandardCharsets.US_ASCII}) {
            String out = new Shell()
                    .charset(charset)
                    .run("pins", PROGRAMS + program, "--cycles", "600000")
                    .out();
            assertThat(out.lines()).isNotEmpty().allMatch(line -> line.length() <= 80);
            assertThat(charset.newEncoder().canEncode(out)).isTrue();
        }
    }

    /** What goes over the line is for the terminal of somebody who did not write the program. */
    @Test
    void pins_controlCharactersOnALine_doNotReachTheTerminal() throws IOException {
        String scenario = Files.writeString(
                        folder.resolve("s.scenario.json"),
                        "{\"inputs\":[{\"pin\":2,\"serial\":{\"from\":100,\"cyclesPerBit\":10,\"text\":\"a\\u001b[2J\\u0007\\u202eb\"}}]}")
                .toString();
        String program = Files.writeString(folder.resolve("p.turn"), "core 0\n pause 3000\n halt\n")
                .toString();

        String out = new Shell()
                .run("pins", program, "--scenario", scenario, "--serial", "2")
                .out();

        assertThat(out).contains("\"a\\u001b[2J\\u0007\\u202eb\"");
        assertThat(out.chars()).noneMatch(c -> c != '\n' && Character.isISOControl(c));
    }

    @Test
    void pins_asJson_areTheFiguresAndTheBytes() {
        JsonNode blink = json("pins", PROGRAMS + "blink.turn").get("pins").get(0);
        assertThat(blink.get("riseToRise").get("min").asLong()).isEqualTo(4_800_000);
        assertThat(blink.get("hertz").asDouble()).isEqualTo(10);
        assertThat(blink.get("duty").asDouble()).isEqualTo(0.5);
        assertThat(blink.get("serial").isNull()).isTrue();

        JsonNode log = json("pins", LOG, "--serial", "7").get("pins").get(0);
        StringBuilder text = new StringBuilder();
        log.get("serial")
                .get("bytes")
                .forEach(each -> text.append((char) each.get("value").asInt()));
        assertThat(text).hasToString("vent open\n");
        assertThat(log.get("drivers").toString()).isEqualTo("[0]");
        assertThat(log.get("changes").get(0).toString()).isEqualTo("{\"cycle\":0,\"level\":\"z\"}");
        assertThat(log.get("changes").get(1).toString()).isEqualTo("{\"cycle\":3,\"level\":\"1\"}");
    }

    @Test
    void clock_asJson_isCyclesAndError() {
        JsonNode clock = json("clock", "--baud", "115200", "--pulse", "31ns");

        assertThat(clock.get("clockHertz").asLong()).isEqualTo(48_000_000);
        JsonNode baud = clock.get("wanted").get(0);
        assertThat(baud.get("kind").asString()).isEqualTo("baud");
        assertThat(baud.get("cycles").asLong()).isEqualTo(417);
        assertThat(baud.get("errorPercent").asDouble()).isEqualTo(-0.0799, within(0.00005));
        JsonNode pulse = clock.get("wanted").get(1);
        assertThat(pulse.get("cycles").asLong()).isEqualTo(1);
        assertThat(pulse.get("gives").asDouble()).isEqualTo(20.8333e-9, within(1e-13));
    }

    @Test
    void json_toAFile_isWrittenBesideWhatIsShown() throws IOException {
        for (String[] line : new String[][] {{"clock"}, {"pins", LOG}}) {
            String file = folder.resolve(line[0] + ".json").toString();
            List<String> words = new ArrayList<>(List.of(line));
            words.addAll(List.of("--json", file));

            assertThat(new Shell().run(words.toArray(String[]::new)).out())
                    .isEqualTo(new Shell().run(line).out());
            assertThat(Files.readString(Path.of(file))).startsWith("{").endsWith("}\n");
        }
    }

    /** What a command writes to standard output, alone there. */
    private static JsonNode json(String... line) {
        List<String> words = new ArrayList<>(List.of(line));
        words.addAll(List.of("--json", "-"));
        return new JsonMapper()
                .readTree(new Shell().run(words.toArray(String[]::new)).out());
    }

    @Test
    void pins_mistakes_areOneLineEach() {
        assertRefused("--pin: 16; this chip has pins 0..15", "pins", LOG, "--pin", "16");
        assertRefused("--serial: -1; this chip has pins 0..15", "pins", LOG, "--serial", "-1");
        assertRefused("give --serial PIN", "pins", LOG, "--baud", "9600");
        assertRefused("--baud: 0 is not above 0", "pins", LOG, "--serial", "7", "--baud", "0");
        assertRefused("is above the clock of 48000000 Hz", "pins", LOG, "--serial", "7", "--baud", "1e9");
        assertRefused("--format: 8X1 is none; right would be 8N1", "pins", LOG, "--serial", "7", "--format", "8X1");
        assertRefused("but the run ended after 505008 cycles", "pins", LOG, "--from", "9000000");
    }

    /** Rounded divisors of 48 MHz and their errors (computed from the definition). */
    @ParameterizedTest
    @CsvSource({
        "9600, '5,000', 9600 baud, exact", "57600, 833, 57623.049 baud, +0.04 %",
        "115200, 417, 115107.91 baud, -0.0799 %", "230400, 208, 230769.23 baud, +0.1603 %"
    })
    void clock_aBaudRate_isItsCyclesAndTheError(String baud, String cycles, String gives, String error) {
        String out = new Shell().run("clock", "--baud", baud).out();

        assertThat(out.lines().filter(line -> line.startsWith(baud + " baud")))
                .singleElement()
                .asString()
                .containsSubsequence(cycles, gives, error);
        assertThat(out.lines()).allMatch(line -> line.length() <= 80);
        assertThat(out).contains("5.26 %", "Common practice").contains("put a level\nshifter in between");
    }

    @Test
    void clock_crystalAndMultiplier_areTheCycleTime() {
        assertThat(new Shell()
                        .run("clock", "--source", "5MHz", "--multiplier", "16")
                        .out())
                .startsWith("5 MHz crystal \u00d7 16 = 80 MHz\nA cycle is 12.5 ns; 80 cycles are 1 \u00b5s.\n");
    }

    @Test
    void clock_rateThatIsTooFast_saysSo() {
        assertThat(new Shell().run("clock", "--baud", "14000000").out()).contains("does not work");
        assertThat(new Shell().run("clock", "--baud", "1850000").out()).doesNotContain("does not work");
    }

    @Test
    void clock_mistakes_areOneLineEach() {
        assertRefused("--baud: x is no rate", "clock", "--baud", "x");
        assertRefused("--baud: 0 is not above 0", "clock", "--baud", "0");
        assertRefused("--pulse: 5 is no time", "clock", "--pulse", "5");
        assertRefused("takes more than 9007199254740991 cycles", "clock", "--pulse", "999999999s");
        assertRefused("--source: 2GHz is not a whole number of Hz in 1..1000000000", "clock", "--source", "2GHz");
        assertRefused("--multiplier: 65 is not in 1..64", "clock", "--multiplier", "65");
        assertRefused("has a clock of its own", "clock", "--design", "default", "--source", "1MHz");
    }

    @Test
    void waves_mistakes_areOneLineEach() {
        assertRefused("--output", "waves", LOG);
        assertRefused("give one of the two", "waves", LOG, "-o", "x.vcd", "--pins-only", "--no-clock");
        assertRefused(
                "there is no such folder",
                "waves",
                LOG,
                "-o",
                folder.resolve("no/x.vcd").toString());
        assertRefused("--output: x.txt is not *.vcd", "waves", LOG, "-o", "x.txt");
        assertRefused("is not a cycle", "waves", LOG, "-o", "-", "--from", "-1");
    }

    @Test
    void waves_endingInCapitals_isWritten() {
        Path file = folder.resolve("W.VCD");

        Shell.Outcome outcome = new Shell().run("waves", LOG, "--output", file.toString(), "--pins-only");

        assertThat(outcome.exit()).isZero();
        assertThat(file).exists();
    }

    @Test
    void waves_toStandardOutput_printsNothingElse() {
        Shell.Outcome outcome = new Shell().run("waves", LOG, "-o", "-", "--pins-only");

        assertThat(outcome.exit()).isZero();
        assertThat(outcome.out()).startsWith("$comment").endsWith("#10521000000\n");
    }

    @Test
    void waves_endlessProgramWithAClock_stopsAndSaysWhy() throws IOException {
        String program = Files.writeString(folder.resolve("p.turn"), "core 0\nmore: pause 1000\n jump more\n")
                .toString();
        String file = folder.resolve("w.vcd").toString();

        Shell.Outcome outcome = new Shell().run("waves", program, "-o", file);

        assertThat(outcome.out()).contains("stops at 1,000,000 cycles").contains("Times are in units of 1 ps");
        assertThat(outcome.out().lines()).allMatch(line -> line.length() <= 80);
        assertThat(Files.readString(Path.of(file))).endsWith("#20833333333\n");
    }

    @Test
    void events_toAFile_areWholeAndTheReportIsPrinted() throws IOException {
        Path file = folder.resolve("e.jsonl");

        Shell.Outcome outcome = new Shell().run("run", PROGRAMS + "worker.turn", "--events", file.toString());

        assertThat(outcome.exit()).isZero();
        assertThat(outcome.out()).startsWith("worker.turn: every core is idle");
        assertThat(Files.readAllLines(file))
                .startsWith("{\"cycle\":0,\"event\":\"state\",\"core\":0,\"state\":\"work\",\"before\":\"idle\"}")
                .last()
                .asString()
                .endsWith("\"event\":\"end\",\"ended\":\"all-idle\"}");
    }

    @Test
    void events_andReportBothToStandardOutput_areRefused() {
        assertRefused(
                "--events -: the report goes to standard output already", "run", LOG, "--events", "-", "--json", "-");
    }
}
