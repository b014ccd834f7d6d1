package octurn.cli.view;

import static octurn.cli.stepper.Steppers.ASCII;
import static octurn.cli.stepper.Steppers.UNICODE;
import static octurn.cli.stepper.Steppers.doing;
import static octurn.cli.stepper.Steppers.lesson;
import static octurn.cli.stepper.Steppers.screen;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import octurn.cli.stepper.CommandLineEditor;
import octurn.cli.stepper.Stepper;
import octurn.cli.stepper.Steppers;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.design.Scenario;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Whole screens, compared with those kept in {@code octurn/cli/screens}. After a change that is meant, write them anew
 * with {@code mvn -pl cli test -Dtest=StepScreenTest -Docturn.screens=write} and look at the difference.
 */
class StepScreenTest {

    private static final Path KEPT = Path.of("src", "test", "resources", "octurn", "cli", "screens");

    /** A screen with a name. */
    record Shown(String name, Frame frame, boolean colour) {
        @Override
        public String toString() {
            return name;
        }
    }

    static Stream<Shown> screens() {
        return Stream.of(
                new Shown("start-80x24", screen(lesson("eight-cores.turn"), 80, 24, UNICODE), false),
                new Shown("waiting-80x24", screen(waiting(), 80, 24, UNICODE), false),
                new Shown("waiting-100x30", screen(waiting(), 100, 30, UNICODE), false),
                new Shown("waiting-160x50", screen(waiting(), 160, 50, UNICODE), false),
                new Shown("waiting-80x24-ascii", screen(waitingInAscii(), 80, 24, ASCII), false),
                new Shown("waiting-80x24-colour", screen(waiting(), 80, 24, UNICODE), true),
                new Shown("why-80x24", screen(doing(waiting(), "why"), 80, 24, UNICODE), false),
                new Shown("help-80x24", screen(doing(waiting(), "help"), 80, 24, UNICODE), false),
                new Shown(
                        "demand-100x30",
                        screen(
                                doing(lesson("spin-lock.turn", "next-waiting.design.json"), "go 120", "show turns"),
                                100,
                                30,
                                UNICODE),
                        false),
                new Shown(
                        "own-port-80x24",
                        screen(
                                doing(lesson("count-bump.turn", "own-port.design.json"), "go 30", "show shared"),
                                80,
                                24,
                                UNICODE),
                        false),
                new Shown(
                        "pins-160x50",
                        screen(
                                doing(
                                        Steppers.lessonWithScenario("panel.turn", "panel.scenario.json"),
                                        "next pin",
                                        "go +3000",
                                        "show pins",
                                        "wave 100",
                                        "base hex"),
                                160,
                                50,
                                UNICODE),
                        false),
                new Shown(
                        "code-100x30",
                        screen(
                                doing(lesson("two-memories.turn"), "core 1", "go 400", "show private"),
                                100,
                                30,
                                UNICODE),
                        false),
                new Shown(
                        "loading-80x24",
                        screen(doing(lesson("worker.turn"), "core 1", "go 60", "base bin"), 80, 24, UNICODE),
                        false),
                new Shown("altered-end-80x24", screen(altered(), 80, 24, UNICODE), false),
                new Shown("refused-80x24", refused(), false),
                new Shown("command-line-80x24", typing(), false),
                new Shown("many-cores-80x24", screen(manyCores(), 80, 24, UNICODE), false),
                new Shown("short-slots-100x30", screen(shortSlots(), 100, 30, UNICODE), false),
                new Shown("too-small-79x24", screen(waiting(), 79, 24, UNICODE), false),
                new Shown("too-small-30x3", screen(waiting(), 30, 3, UNICODE), false));
    }

    private static Stepper waiting() {
        return doing(lesson("eight-cores.turn"), "core 5", "go 57");
    }

    private static Stepper waitingInAscii() {
        return doing(lesson("eight-cores.turn", ASCII), "core 5", "go 57");
    }

    private static Stepper altered() {
        return doing(
                lesson("eight-cores.turn"),
                "stop line 23",
                "stop when r4 == 3",
                "mark here",
                "go 40",
                "set r4 2",
                "set shared[soil] 77",
                "set pin 3 1",
                "end",
                "show pins");
    }

    private static Frame refused() {
        Stepper stepper = waiting();
        stepper.run("go nowhere", octurn.run.Progress.NONE);
        return screen(stepper, 80, 24, UNICODE);
    }

    private static Frame typing() {
        Stepper stepper = waiting();
        CommandLineEditor editor = new CommandLineEditor(stepper);
        editor.open("stop when sh");
        return StepScreen.render(stepper.scene(24, 80, editor.prompt()), 24, 80, UNICODE);
    }

    private static Design design(int cores, int slotCycles) {
        Design d = Design.DEFAULT;
        return new Design(
                "many",
                cores,
                d.privateWords(),
                d.sharedWords(),
                slotCycles,
                new Admission.Rotation(Design.plainOrder(cores)),
                d.cost(),
                32,
                d.clock());
    }

    private static Stepper manyCores() {
        return doing(
                of("core all\nmore: fetch r1, [r2+40]\n bump r1, [7]\n jump more\n", design(32, 3)),
                "core 20",
                "go 100");
    }

    private static Stepper shortSlots() {
        return doing(of("core all\nmore: fetch r1, [r2+40]\n bump r1, [7]\n jump more\n", design(12, 1)), "go 50");
    }

    private static Stepper of(String text, Design design) {
        return Steppers.of("many.turn", text.getBytes(StandardCharsets.UTF_8), design, Scenario.QUIET, UNICODE);
    }

    @ParameterizedTest
    @MethodSource("screens")
    void render_knownScene_isTheScreenKept(Shown shown) throws IOException {
        Path file = KEPT.resolve(shown.name() + ".txt");
        String text = shown.frame().lines().stream()
                .map(line -> shown.colour()
                        ? line.onScreen(true).replace("\u001b", "\\e")
                        : line.onScreen(false)
                                .replaceAll("\u001b\\[[0-9;]*m", "")
                                .stripTrailing())
                .collect(Collectors.joining("\n", "", "\n"));
        if (System.getProperty("octurn.screens", "").equals("write")) {
            Files.writeString(file, text);
        }

        assertThat(text).isEqualTo(Files.readString(file));
    }

    /** The screens in the manual and on the first page are those of the program. */
    @ParameterizedTest
    @CsvSource({
        "README.md, waiting-80x24",
        "docs/stepper.md, waiting-80x24",
        "docs/stepper.md, why-80x24",
        "docs/stepper.md, demand-100x30"
    })
    void manual_screens_areThoseKept(String page, String screen) throws IOException {
        assertThat(Files.readString(Path.of("..").resolve(page)))
                .contains("```text\n" + Files.readString(KEPT.resolve(screen + ".txt")) + "```");
    }

    @ParameterizedTest
    @MethodSource("screens")
    void render_knownScene_fitsItsSize(Shown shown) {
        assertThat(shown.frame().lines())
                .allSatisfy(line -> assertThat(Glyphs.width(line.onScreen(false).replaceAll("\u001b\\[[0-9;]*m", "")))
                        .isEqualTo(shown.frame().columns()));
    }

    @Test
    void render_withoutColour_hasNoColourInIt() {
        String text = screen(waiting(), 80, 24, UNICODE).lines().stream()
                .map(line -> line.onScreen(false))
                .collect(Collectors.joining());

        assertThat(text).doesNotContain("38;5").doesNotContain("48;5").contains("\u001b[1;7m");
    }

    @Test
    void render_ascii_isAscii() {
        assertThat(screen(waitingInAscii(), 160, 50, ASCII).plain())
                .matches("[\\n -~]+")
                .doesNotContain("\\u");
    }

    /** A place of the lane is a cycle: those of the run, told by hand in the docs of the program. */
    @Test
    void lanes_waitingCore_showTheCyclesOfTheRules() {
        String lane = screen(waiting(), 80, 24, UNICODE).lines().get(9).plain();

        // Core 5 asked at 45; the bar stands before 57; its slot is 63..65; then mul, 4 cycles, shr, 1, post, 1.
        assertThat(lane).contains("wwwwwwwwwwww\u2503wwwwwwSSS\u25b8\u2501\u2501\u2501\u25b8\u25b8w");
    }

    @Test
    void zones_laneRulerLineAndPanel_giveCommands() {
        Frame frame = screen(waiting(), 80, 24, UNICODE);

        assertThat(frame.command(6, 50, Frame.Zone::click)).isEqualTo("core 2");
        assertThat(frame.command(2, 5, Frame.Zone::click)).isEqualTo("go 36");
        assertThat(frame.command(16, 20, Frame.Zone::click)).isEqualTo("select 18");
        assertThat(frame.command(17, 20, Frame.Zone::wheelDown)).isEqualTo("select down 3");
        assertThat(frame.command(17, 60, Frame.Zone::wheelUp)).isEqualTo("scroll up 3");
        assertThat(frame.command(12, 60, Frame.Zone::click)).isEqualTo("show next");
        assertThat(frame.command(23, 60, Frame.Zone::click)).isEmpty();
    }

    @ParameterizedTest
    @CsvSource({"1,1", "80,1", "1,24", "79,24", "80,23", "500,200", "81,25", "120,27", "124,40", "190,60"})
    void render_anySize_fitsIt(int columns, int rows) {
        for (Stepper stepper : List.of(waiting(), manyCores(), shortSlots())) {
            Frame frame = screen(stepper, columns, rows, UNICODE);

            assertThat(frame.lines()).hasSize(rows);
            assertThat(frame.lines())
                    .allSatisfy(line -> assertThat(Glyphs.width(line.plain())).isLessThanOrEqualTo(columns));
        }
    }

    @Test
    void render_allCoresAndPolicies_showTheChosenLane() {
        IntStream.range(0, 32).forEach(core -> {
            Stepper stepper = doing(manyCores(), "core " + core);
            assertThat(screen(stepper, 80, 24, UNICODE).plain()).contains("\u25b6" + "%3d ".formatted(core));
        });
    }

    // ---- hostile program text ----

    @Test
    void render_hostileText_staysInItsCells() {
        String hostile =
                "core 0 ; \u202e reversed \u0301\u0301\u0301\u0301\u0301 \u200b \ufeff wide \u6f22\u5b57 \ud83d\ude00\n"
                        + "a".repeat(64) + ": fetch r1, [" + "b".repeat(64) + "] ; " + "\u6f22".repeat(200) + "\n"
                        + "\thalt ; \ue000 \u0e31\u0e31\n"
                        + "shared\n" + "b".repeat(64) + ": word 0\n";
        Stepper stepper = Steppers.of(
                "na\u001b[2Jme\u202e.turn",
                hostile.getBytes(StandardCharsets.UTF_8),
                Design.DEFAULT,
                Scenario.QUIET,
                UNICODE);
        doing(stepper, "go 3");

        for (int columns : new int[] {80, 81, 95, 160}) {
            for (String panel : new String[] {"registers", "shared", "private", "turns"}) {
                doing(stepper, "show " + panel);
                Frame frame = screen(stepper, columns, 30, UNICODE);
                assertThat(frame.lines()).allSatisfy(line -> {
                    String text = line.plain();
                    assertThat(Glyphs.width(text)).isLessThanOrEqualTo(columns);
                    assertThat(text.codePoints())
                            .noneMatch(Character::isISOControl)
                            .noneMatch(c -> Character.getType(c) == Character.FORMAT);
                });
                assertThat(frame.plain()).contains("na\\u001b[2Jme");
            }
        }
    }
}
