package octurn.cli.command;

import static octurn.cli.Resources.assertGolden;
import static octurn.cli.Resources.program;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import octurn.cli.Shell;
import octurn.cli.process.Exit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class DrawCommandTest {

    @TempDir
    Path folder;

    private static String[] words(String line) {
        return Arrays.stream(line.split(" ", -1))
                .map(word -> word.endsWith(".turn") || word.endsWith(".json") ? program(word) : word)
                .toArray(String[]::new);
    }

    @ParameterizedTest
    @CsvSource({
        "draw-drips, draw drips.turn",
        "draw-next-waiting, draw drips.turn --design next-waiting.design.json --from 40",
        "draw-own-port, draw drips.turn --design own-port --no-labels --to 40",
        "draw-clash, draw clash.turn --pins 0..1 --cores all --width 60",
        "draw-everything, draw everything.turn --from 330 --to 400",
        "draw-merged, draw drips.turn --to 5000"
    })
    void draw_asText_isTheGoldenScreen(String name, String line) {
        Shell.Outcome outcome = new Shell().run(words(line));

        assertThat(outcome.exit()).isEqualTo(Exit.OK);
        assertThat(outcome.out().lines())
                .allSatisfy(
                        one -> assertThat(one.codePointCount(0, one.length())).isLessThanOrEqualTo(80));
        assertGolden(name, outcome.out());
    }

    @Test
    void draw_withoutUnicode_isAscii() {
        Shell.Outcome outcome = new Shell().charset(StandardCharsets.US_ASCII).run(words("draw clash.turn --to 60"));

        assertThat(StandardCharsets.US_ASCII.newEncoder().canEncode(outcome.out()))
                .isTrue();
        assertGolden("draw-ascii", outcome.out());
    }

    @Test
    void draw_toATextFile_isWhatStandardOutputGets() throws IOException {
        Path file = folder.resolve("drips.txt");
        Shell.Outcome outcome = new Shell().run("draw", program("drips.turn"), "-o", file.toString());

        assertThat(outcome.out()).isEmpty();
        assertThat(Files.readString(file))
                .isEqualTo(new Shell().run(words("draw drips.turn")).out());
    }

    @ParameterizedTest
    @CsvSource({"a.svg, <?xml", "b.PNG, \u0089PNG"})
    void draw_toAPicture_writesIt(String name, String beginning) throws IOException {
        Path file = folder.resolve(name);
        Shell.Outcome outcome = new Shell().run("draw", program("drips.turn"), "-o", file.toString());

        assertThat(outcome.exit()).isEqualTo(Exit.OK);
        assertThat(outcome.err() + outcome.out()).isEmpty();
        assertThat(Files.readString(file, StandardCharsets.ISO_8859_1)).startsWith(beginning);
    }

    @Test
    void draw_overAFileWithADesignByName_replacesIt() throws IOException {
        Path file = folder.resolve("again.svg");
        Files.writeString(file, "old");
        Shell.Outcome outcome =
                new Shell().run("draw", program("drips.turn"), "--design", "first-come", "-o", file.toString());

        assertThat(outcome.err()).isEmpty();
        assertThat(Files.readString(file)).startsWith("<?xml");
    }

    @Test
    void draw_longStretchOfALongRun_hasSharesOfAllCycles() {
        Shell.Outcome outcome = new Shell().run(words("draw endless.turn --to 3000000"));

        assertThat(outcome.exit()).isEqualTo(Exit.OK);
        assertThat(outcome.out()).contains("cycles 0 to 3,000,000").contains("Each column is 60,000 cycles");
    }

    @ParameterizedTest(name = "{0}")
    @CsvSource(
            delimiter = '|',
            value = {
                "--from 50 --to 50 | --from 50 --to 50: there is no cycle between them",
                "--to 0 | --to 0: there is no cycle before it",
                "--from -1 | -1 is not a cycle in 0..9007199254740991",
                "--to 1.5 | 1.5 is not a cycle in 0..9007199254740991",
                "--from 1000000 | --from 1,000,000: the run ends at cycle 2,405 (all-idle)",
                "--cores 8 | --cores: there is no core 8, but 0..7",
                "--cores 3..1 | --cores: 3..1 runs backwards",
                "--cores x | --cores: x is not a list of cores, as 0, 2 or 1..3 or all",
                "--pins 0..99 | --pins: there is no pin 99, but 0..15",
                "-o x.gif | --output: x.gif is neither *.svg nor *.png nor *.txt",
                "--size page | --size is for pictures: give -o FILE.svg or -o FILE.png",
                "--colours dark | --colours is for pictures: give -o FILE.svg or -o FILE.png",
                "-o x.svg --width 90 | --width is for text; a picture has a --size",
                "-o x.svg --size huge | --size: huge is not one of slide, page",
                "-o x.svg --colours red | --colours: red is not one of light, dark, grey",
                "--width 20 | --width: 20 is not a whole number in 40..500",
                "-o /no/such/folder/x.svg | /no/such/folder/x.svg: there is no such folder"
            })
    void draw_withAMistake_saysItInOneLine(String options, String message) {
        List<String> words = new ArrayList<>(List.of("draw", program("drips.turn")));
        words.addAll(List.of(options.split(" ", -1)));
        Shell.Outcome outcome = new Shell().run(words.toArray(String[]::new));

        assertThat(outcome.exit()).isEqualTo(Exit.USAGE);
        assertThat(outcome.out()).isEmpty();
        assertThat(outcome.err().lines().findFirst().orElse("")).contains(message);
        assertThat(outcome.err()).doesNotContain("\tat ");
    }
}
