package octurn.cli.page;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.IntStream;
import java.util.stream.LongStream;
import java.util.stream.Stream;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.asm.Program;
import octurn.cli.view.Glyphs;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.design.NamedDesigns;
import octurn.design.Scenario;
import octurn.json.DesignReader;
import octurn.json.Reading;
import octurn.json.ScenarioReader;
import octurn.machine.Chip;
import octurn.machine.Core;
import octurn.machine.State;
import octurn.report.Sentences;
import octurn.run.Moment;
import octurn.run.Progress;
import octurn.run.Timeline;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tools.jackson.databind.JsonNode;

/** The page in a real browser: what it shows is what the chip is, and everybody can get at it. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class BrowserTest {

    private static final Path LESSONS = Path.of("..", "lessons", "programs");
    private static final Path CASES = Path.of("..", "core", "src", "test", "resources", "octurn", "cases");
    private static final long MOST_CYCLES = 200_000;

    /** All that the page knows of the chip, in the words of {@link #known}. */
    private static final String KNOWN = """
            (cycle => {
              const page = document.octurn, chip = page.chip;
              page.go(cycle);
              const sum = (paged, size) => {
                let hash = 1;
                for (let i = 0; i < size; i++) hash = 31 * hash + paged.get(i) | 0;
                return hash;
              };
              const names = ['WORK', 'WAIT', 'SLOT', 'CODE_WAIT', 'CODE_SLOT', 'LOAD_WAIT', 'LOAD_SLOT', 'SLEEP', 'IDLE', 'FAULT'];
              const lines = [`cycle ${chip.cycle} pins ${chip.pins[0]} ${chip.pins[1]} shared ${sum(chip.shared, page.design.sharedWords)}`,
                page.words.turn()];
              for (let core = 0; core < chip.cores; core++) {
                lines.push(`core ${core} ${names[chip.state[core]]} since ${chip.since[core]} registers `
                  + `${[...chip.registers.slice(16 * core, 16 * core + 16)].join(' ')} out ${chip.ports[16 * core + 1]} drive ${chip.ports[16 * core + 2]} `
                  + `tallies ${chip.tallyAt(core, 0, chip.cycle)} ${chip.tallyAt(core, 1, chip.cycle)} `
                  + `ram ${sum(chip.rams[core], page.design.privateWords)} line ${page.words.line(core)}`);
                lines.push(page.words.of(core, page.ahead));
              }
              return lines.join('\\n');
            })(%d)
            """;

    @TempDir
    Path folder;

    private Browser browser;

    /** A run with its page. */
    private record Shown(Program program, Scenario scenario, long limit, Path file) {}

    @BeforeAll
    void start() throws IOException, InterruptedException {
        browser = Browser.start();
    }

    @AfterAll
    void close() throws IOException {
        if (browser != null) {
            browser.close();
        }
    }

    private static Program assemble(String name, String text, Design design) {
        Assembly assembly = Assembler.assemble(name, text.getBytes(StandardCharsets.UTF_8), design);
        if (assembly instanceof Assembly.Assembled assembled) {
            return assembled.program();
        }
        throw new AssertionError(assembly);
    }

    private Shown show(Program program, Scenario scenario, long from, long to, long limit) throws IOException {
        RunPage page = new RunPage(program, scenario, limit);
        page.run().runTo(from);
        page.begin();
        page.run().runTo(to);
        page.end();
        Path file = folder.resolve("page.html");
        try (OutputStream out = Files.newOutputStream(file)) {
            page.write(out);
        }
        browser.open(file);
        assertThat(browser.evaluate("document.getElementById('trouble').textContent")
                        .asString())
                .isEmpty();
        return new Shown(program, scenario, limit, file);
    }

    private Shown lesson(String name, String design) throws IOException {
        Design built = NamedDesigns.of(design).orElseThrow();
        return show(
                assemble(name, Files.readString(LESSONS.resolve(name)), built),
                Scenario.QUIET,
                0,
                MOST_CYCLES,
                MOST_CYCLES);
    }

    // ---- the same as the chip ----

    static IntStream cases() {
        return IntStream.rangeClosed(0, 14).map(i -> 1 + 4 * i);
    }

    @ParameterizedTest
    @MethodSource("cases")
    void page_atAnyCycle_knowsWhatTheChipIs(int number) throws IOException {
        String name = "%02d".formatted(number);
        Design design = ((Reading.Accepted<Design>)
                        DesignReader.read(name, Files.readAllBytes(CASES.resolve(name + ".design.json"))))
                .value();
        Scenario scenario = ((Reading.Accepted<Scenario>)
                        ScenarioReader.read(name, Files.readAllBytes(CASES.resolve(name + ".scenario.json")), design))
                .value();
        Program program = assemble(name + ".turn", Files.readString(CASES.resolve(name + ".turn")), design);
        long limit = Math.min(MOST_CYCLES, scenario.limit().orElse(MOST_CYCLES));
        assertKnowsTheChip(show(program, scenario, 0, limit, limit), number, 10);
    }

    @Test
    void page_ofALesson_knowsWhatTheChipIs() throws IOException {
        assertKnowsTheChip(lesson("spin-lock.turn", "own-port"), 5, 40);
        assertKnowsTheChip(lesson("spin-lock.turn", "next-waiting"), 6, 40);
        assertKnowsTheChip(lesson("eight-cores.turn", "default"), 7, 40);
    }

    private void assertKnowsTheChip(Shown shown, long seed, int times) {
        Timeline timeline = Timeline.of(shown.program(), shown.scenario(), shown.limit());
        Sentences sentences = new Sentences(shown.program());
        long end = browser.evaluate("document.octurn.facts.to").asLong();
        // Forwards and backwards, as it comes.
        LongStream.concat(LongStream.of(0, end, 1), new Random(seed).longs(times, 0, end + 1))
                .forEach(cycle -> {
                    timeline.moveTo(cycle, Progress.NONE);
                    String known = browser.evaluate(KNOWN.formatted(cycle)).asString();
                    assertThat(known.replaceAll("before cycle [0-9]+", "before long"))
                            .as("seed %d, %s", seed, shown.program().name())
                            .isEqualTo(known(timeline.moment(50_000, 200_000), sentences)
                                    .replaceAll("before cycle [0-9]+", "before long"));
                });
        assertThat(browser.troubles()).isEmpty();
    }

    private static String known(Moment moment, Sentences sentences) {
        Chip chip = moment.chip();
        Design design = chip.design();
        int[] shared =
                IntStream.range(0, design.sharedWords()).map(chip::sharedWord).toArray();
        List<String> lines = new ArrayList<>();
        lines.add("cycle %d pins %s %s shared %d"
                .formatted(
                        chip.cycle(),
                        Integer.toUnsignedString(chip.pinLevels()),
                        Integer.toUnsignedString(chip.pinClashes()),
                        Arrays.hashCode(shared)));
        lines.add(sentences.turn(moment));
        for (int number = 0; number < design.cores(); number++) {
            Core core = chip.core(number);
            int[] ram = IntStream.range(0, design.privateWords())
                    .map(core::privateWord)
                    .toArray();
            String registers = IntStream.range(0, 16)
                    .mapToObj(r -> Integer.toString(core.register(r)))
                    .reduce((a, b) -> a + " " + b)
                    .orElseThrow();
            boolean never = core.state() == State.IDLE && core.stateSince() == 0 && core.instructions() == 0;
            boolean loads = core.state() == State.LOAD_WAIT || core.state() == State.LOAD_SLOT;
            lines.add("core %d %s since %d registers %s out %d drive %d tallies %d %d ram %d line %d"
                    .formatted(
                            number,
                            core.state(),
                            core.stateSince(),
                            registers,
                            core.out(),
                            core.drive(),
                            chip.tally(number, 0),
                            chip.tally(number, 1),
                            Arrays.hashCode(ram),
                            never || loads ? 0 : sentences.places().line(core)));
            lines.add(sentences.of(moment, number));
        }
        return String.join("\n", lines);
    }

    @Test
    void page_ofAPart_knowsItsCycles() throws IOException {
        Program program = assemble("flow.turn", Files.readString(LESSONS.resolve("count-bump.turn")), Design.DEFAULT);
        show(program, Scenario.QUIET, 1000, 2000, MOST_CYCLES);
        assertThat(browser.text("#about")).contains("cycles 1000 to 2000; the run goes on");
        assertThat(browser.text("#when")).startsWith("Cycle 1000,");
        Timeline timeline = Timeline.of(program, Scenario.QUIET, MOST_CYCLES);
        timeline.moveTo(1500, Progress.NONE);
        String[] known = browser.evaluate(KNOWN.formatted(1500)).asString().split("\n", -1);
        String[] right =
                known(timeline.moment(2000, 2000), new Sentences(program)).split("\n", -1);
        assertThat(known).containsExactly(right);
        browser.evaluate("document.octurn.go(99999)");
        assertThat(browser.text("#when")).startsWith("Cycle 2000,");
    }

    // ---- by hand ----

    @Test
    void page_byKeysAlone_isSteppedThrough() throws IOException {
        lesson("eight-cores.turn", "default");
        browser.press("ArrowRight");
        browser.press("ArrowRight");
        assertThat(browser.text("#when")).startsWith("Cycle 2, 0.042");
        browser.press("ArrowLeft");
        assertThat(browser.text("#when")).startsWith("Cycle 1,");
        browser.press("5");
        assertThat(browser.text("#sentence")).startsWith("Core 5 works on line");
        assertThat(browser.text("#registers-title")).isEqualTo("Registers of core 5");
        browser.press("ArrowDown");
        assertThat(browser.text("#sentence")).startsWith("Core 6");
        browser.press("ArrowUp");
        browser.press("w");
        assertThat(browser.text("#sentence")).startsWith("Core 5 asked for shared word 5 (soil+5) at cycle");
        browser.press("a");
        assertThat(browser.text("#sentence")).startsWith("Core 5 holds the memory for shared word 5 (soil+5)");
        browser.press("A");
        browser.press("s");
        browser.press("S");
        browser.press("i");
        browser.press("End");
        assertThat(browser.text("#said")).contains("The run has ended at cycle 488: every core is idle or in fault.");
        browser.press("I");
        assertThat(browser.text("#when")).doesNotContain("488");
        browser.press("Home");
        assertThat(browser.text("#when")).startsWith("Cycle 0,");
        browser.press("x");
        assertThat(browser.text("#registers")).contains("0x00000000");
        browser.press("g");
        assertThat(browser.evaluate("document.activeElement.id").asString()).isEqualTo("cycle");
        browser.press("5");
        browser.press("7");
        browser.evaluate("document.getElementById('go').requestSubmit()");
        assertThat(browser.text("#when")).startsWith("Cycle 57, 1.188");
        assertThat(browser.text("#sentence"))
                .isEqualTo("Core 5 asked for shared word 5 (soil+5) at cycle 45. Its slot opens at 63: 6 of 18 cycles"
                        + " still to wait. Line 18: fetch r5, [r2].");
        assertThat(browser.text("#source tr.here")).contains("18").contains("fetch r5, [r2]");
        assertThat(browser.troubles()).isEmpty();
    }

    @Test
    void page_letterKeysSwitchedOff_areKeysNoMore() throws IOException {
        lesson("eight-cores.turn", "default");
        browser.evaluate("document.getElementById('letters').click()");
        browser.press("w");
        browser.press("5");
        assertThat(browser.text("#when")).startsWith("Cycle 0,");
        browser.press("ArrowRight");
        assertThat(browser.text("#when")).startsWith("Cycle 1,");
        assertThat(browser.text("#sentence")).startsWith("Core 0");
    }

    @Test
    void page_playing_goesOnAndRests() throws IOException {
        lesson("eight-cores.turn", "default");
        browser.evaluate("document.getElementById('speed').value = '4096'; document.getElementById('play').click()");
        assertThat(browser.evaluate("document.getElementById('said').getAttribute('aria-live')")
                        .asString())
                .isEqualTo("off");
        browser.evaluate("new Promise(done => { const look = () => document.octurn.playing ? setTimeout(look, 20)"
                + " : done(); look(); })");
        assertThat(browser.text("#when")).startsWith("Cycle 488,");
        assertThat(browser.text("#play")).isEqualTo("Play");
        assertThat(browser.evaluate("document.getElementById('said').getAttribute('aria-live')")
                        .asString())
                .isEqualTo("polite");
    }

    @Test
    void page_tabbedThrough_reachesEveryControlAndShowsIt() throws IOException {
        lesson("eight-cores.turn", "default");
        browser.evaluate("document.getElementById('keys').open = true");
        int controls = browser.evaluate("[...document.querySelectorAll('button, select, input, summary, a[href]')]"
                        + ".filter(it => it.type !== 'radio').length + 1")
                .asInt();
        Set<Integer> reached = new TreeSet<>();
        for (int i = 0; i < controls + 5; i++) {
            browser.press("Tab");
            JsonNode at = browser.evaluate("(() => { const it = document.activeElement; const style ="
                    + " getComputedStyle(it); return {radio: it.type === 'radio', index: [...document"
                    + ".querySelectorAll('button, select, input, summary, a[href]')].indexOf(it),"
                    + " seen: style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2,"
                    + " body: it === document.body || it.id === 'source-scroll'}; })()");
            if (!at.get("body").asBoolean()) {
                assertThat(at.get("seen").asBoolean()).as(at.toString()).isTrue();
                reached.add(at.get("radio").asBoolean() ? -2 : at.get("index").asInt());
            }
        }
        assertThat(reached).hasSize(controls).contains(-2);
    }

    @Test
    void page_accessibilityTree_namesEveryControl() throws IOException {
        lesson("eight-cores.turn", "default");
        JsonNode tree = browser.send("Accessibility.getFullAXTree", Map.of());
        Set<String> roles = new TreeSet<>();
        for (JsonNode node : tree.get("nodes")) {
            String role = node.path("role").path("value").asString("");
            if (Set.of(
                                    "button",
                                    "radio",
                                    "slider",
                                    "combobox",
                                    "spinbutton",
                                    "checkbox",
                                    "link",
                                    "table",
                                    "status",
                                    "region",
                                    "group",
                                    "DisclosureTriangle")
                            .contains(role)
                    && !node.path("ignored").asBoolean()) {
                String name = node.path("name").path("value").asString("");
                if (!role.equals("status")) {
                    assertThat(name).as(node.toString()).isNotBlank();
                }
                roles.add(role);
            }
        }
        assertThat(roles).contains("button", "radio", "slider", "combobox", "spinbutton", "table", "status", "region");
        assertThat(browser.evaluate("[...document.querySelectorAll('[id]')].length === new Set([...document"
                                + ".querySelectorAll('[id]')].map(it => it.id)).size")
                        .asBoolean())
                .isTrue();
    }

    @Test
    void page_onANarrowScreen_needsNoSidewaysScrolling() throws IOException {
        lesson("eight-cores.turn", "default");
        browser.size(360, 740);
        try {
            assertThat(browser.evaluate("document.documentElement.scrollWidth").asInt())
                    .isLessThanOrEqualTo(360);
        } finally {
            browser.size(1280, 1000);
        }
    }

    // ---- harm ----

    @Test
    void page_opened_fetchesNothingAndBreaksNoRule() throws IOException {
        Shown shown = lesson("blink.turn", "default");
        browser.evaluate("new Promise(done => setTimeout(done, 300))");
        assertThat(browser.troubles()).isEmpty();
        assertThat(browser.requests()).containsExactly(shown.file().toUri().toString());
    }

    @Test
    void page_ofAHostileProgram_showsItAsText() throws IOException {
        String mark = "<img src=x onerror=\"window.harmed = 1\">";
        String label = "a".repeat(64);
        String text = "; </script><script>window.harmed = 2</script> " + mark + " \u202e\u200f\ufeff &lt;b&gt;\n"
                + "core 0\n" + label + ": set r1, 1 ; ]]> --> '\"` " + mark + "\n        post r1, [0]\n        halt\n"
                + "shared\n" + label + "_: text \"</script>" + mark.replace("\"", "'") + "\"\n";
        text = text.replace(label + "_", "b".repeat(64));
        String name = "<b>" + "\"'&\u202e\u0007".repeat(3) + "n".repeat(150) + "<b>.turn";
        Design design = new Design(
                "</title><script>window.harmed = 3</script>",
                2,
                64,
                4096,
                3,
                Admission.plain("rotation", 2),
                Design.DEFAULT.cost(),
                16,
                Design.DEFAULT.clock());
        show(assemble(name, text, design), Scenario.QUIET, 0, 1000, 1000);
        for (int i = 0; i < 5; i++) {
            browser.press("ArrowRight");
        }
        browser.size(360, 740);
        assertThat(browser.evaluate("document.documentElement.scrollWidth").asInt())
                .isLessThanOrEqualTo(360);
        browser.size(1280, 1000);
        assertThat(browser.evaluate("[typeof window.harmed, document.querySelectorAll('img, b, iframe').length,"
                                + " document.scripts.length, document.querySelectorAll('title').length].join(' ')")
                        .asString())
                .isEqualTo("undefined 0 3 1");
        assertThat(browser.text("#source"))
                .contains("; </script><script>window.harmed = 2</script> " + mark + " \\u202e\\u200f\\ufeff &lt;b&gt;");
        assertThat(browser.text("#name")).contains("<b>\"'&\\u202e\\u0007").contains("</title><script>");
        assertThat(Stream.of(browser.text("body").split("\\R", -1)))
                .allSatisfy(line -> assertThat(new Glyphs(StandardCharsets.UTF_8).visible(blanks(line)))
                        .isEqualTo(blanks(line)));
        assertThat(browser.troubles()).isEmpty();
    }

    private static String blanks(String line) {
        return line.replace('\t', ' ').replace('\u00a0', ' ');
    }
}
