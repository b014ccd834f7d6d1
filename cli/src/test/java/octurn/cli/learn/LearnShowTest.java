package octurn.cli.learn;

import static octurn.cli.learn.Learners.pressing;
import static octurn.cli.learn.Learners.screen;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import octurn.cli.learn.Learners.Drawer;
import octurn.cli.learn.Learners.Room;
import octurn.cli.stepper.Show.Next;
import octurn.cli.view.Frame;
import octurn.cli.view.Glyphs;
import octurn.run.Progress;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Lessons on a whole screen: what keys do, and whole screens, compared with those kept in {@code octurn/cli/screens}.
 * After a change that is meant, write them anew with {@code mvn -pl cli test -Dtest=LearnShowTest -Docturn.screens=write}
 * and look at the difference.
 */
class LearnShowTest {

    private static final Path KEPT = Path.of("src", "test", "resources", "octurn", "cli", "screens");
    private static final String FILE = "desk/count.turn";

    private final Room room = new Room();

    private LearnShow show() {
        return show(room);
    }

    private static LearnShow show(Room room) {
        return new LearnShow(room.learner(), room.glyphs);
    }

    /** A screen with a name. */
    record Shown(String name, Frame frame) {
        @Override
        public String toString() {
            return name;
        }
    }

    private static Shown shown(String name, LearnShow show, int columns, int rows) {
        // Twice, for paging depends on the size that was drawn before.
        show.frame(rows, columns);
        return new Shown("learn-" + name, show.frame(rows, columns));
    }

    static Stream<Shown> screens() {
        Room ascii = new Room();
        ascii.glyphs = Learners.ASCII;
        Room named = new Room();
        named.student = "Ada";
        Room pass = new Room();
        LearnShow passing = pressing(show(pass), "down", "enter", "enter");
        pass.desk.save(FILE, Drawer.model());
        pressing(passing, "c");
        Room done = new Room();
        LearnShow doing = answered(done);
        return Stream.of(
                shown("list-80x24", pressing(show(named), "down"), 80, 24),
                shown("list-120x40", show(new Room()), 120, 40),
                shown("list-80x24-ascii", show(ascii), 80, 24),
                shown("tell-80x24", pressing(show(new Room()), "enter"), 80, 24),
                shown("tell-80x24-ascii", pressing(show(ascii), "enter"), 80, 24),
                shown("walk-80x24", pressing(show(new Room()), "enter", "enter", "enter"), 80, 24),
                shown("walk-120x40", pressing(show(new Room()), "enter", "enter", "enter", "enter"), 120, 40),
                shown("question-80x24", pressing(asking(new Room()), "1", "2"), 80, 24),
                shown("wrong-80x24", pressing(asking(new Room()), "1", "2", "enter"), 80, 24),
                shown("wrong-120x40", pressing(asking(new Room()), "1", "2", "enter"), 120, 40),
                shown("right-80x24", pressing(asking(new Room()), "9", "enter"), 80, 24),
                shown("choice-80x24", pressing(asking(new Room()), "right", "7", "enter"), 80, 24),
                shown("task-80x24", pressing(show(new Room()), "down", "enter"), 80, 24),
                shown("checked-80x24", pressing(show(new Room()), "down", "enter", "enter", "h"), 80, 24),
                shown("checked-120x40", pressing(show(new Room()), "down", "enter", "enter", "h"), 120, 40),
                shown("passed-80x24", passing, 80, 24),
                shown("end-80x24", doing, 80, 24),
                shown("help-80x24", pressing(show(new Room()), "?"), 80, 24),
                shown("too-small-30x8", show(new Room()), 30, 8));
    }

    private static LearnShow asking(Room room) {
        return pressing(show(room), "enter", "enter", "right");
    }

    private static LearnShow answered(Room room) {
        return pressing(asking(room), "9", "enter", "enter", "1", "enter", "enter");
    }

    @ParameterizedTest
    @MethodSource("screens")
    void frame_knownPlace_isTheScreenKept(Shown shown) throws IOException {
        Path file = KEPT.resolve(shown.name() + ".txt");
        String text = shown.frame().lines().stream()
                .map(line ->
                        line.onScreen(false).replaceAll("\u001b\\[[0-9;]*m", "").stripTrailing())
                .collect(Collectors.joining("\n", "", "\n"));
        if (System.getProperty("octurn.screens", "").equals("write")) {
            Files.writeString(file, text);
        }

        assertThat(text).isEqualTo(Files.readString(file));
    }

    @ParameterizedTest
    @MethodSource("screens")
    void frame_knownPlace_fitsItsSize(Shown shown) {
        assertThat(shown.frame().lines())
                .allSatisfy(line -> assertThat(Glyphs.width(line.onScreen(false).replaceAll("\u001b\\[[0-9;]*m", "")))
                        .isEqualTo(shown.frame().columns()));
    }

    @Test
    void frame_withoutUnicode_isAscii() {
        room.glyphs = Learners.ASCII;
        LearnShow show = show();

        for (String key : List.of("up", "enter", "right", "right", "5", "enter", "right", "right", "enter", "enter")) {
            assertThat(screen(show, 120, 40)).matches("[\\n -~]+").doesNotContain("\\u");
            show.press(key, Progress.NONE);
        }
    }

    /** The screens in the manual are those of the program. */
    @ParameterizedTest
    @CsvSource({"learn-walk-80x24", "learn-wrong-80x24", "learn-checked-80x24"})
    void manual_screens_areThoseKept(String screen) throws IOException {
        assertThat(Files.readString(Path.of("..", "docs", "learn.md")))
                .contains("```text\n" + Files.readString(KEPT.resolve(screen + ".txt")) + "```");
    }

    private static String table(Room room) {
        StringBuilder text = new StringBuilder("\n| keys | command | what it does |\n|---|---|---|\n");
        for (List<String> row : room.learner().table().rows()) {
            String keys = row.get(0).isEmpty() ? "" : "`" + row.get(0).replace(" ", "` `") + "`";
            text.append("| %s | `%s` | %s |\n".formatted(keys, row.get(1).replace("|", "\\|"), row.get(2)));
        }
        return text.append('\n').toString();
    }

    @Test
    void manual_tableOfCommands_isThatOfTheProgram() throws IOException {
        Path manual = Path.of("..", "docs", "learn.md");
        String begin = "<!-- commands -->\n";
        String end = "<!-- end of commands -->";
        String text = Files.readString(manual);
        if (System.getProperty("octurn.screens", "").equals("write")) {
            String before = text.substring(0, text.indexOf(begin) + begin.length());
            Files.writeString(manual, before + table(room) + text.substring(text.indexOf(end)));
            text = Files.readString(manual);
        }

        assertThat(text.substring(text.indexOf(begin) + begin.length(), text.indexOf(end)))
                .isEqualTo(table(room));
    }

    // ---- keys ----

    @Test
    void press_answer_isTypedAndGiven() {
        LearnShow show = asking(room);

        assertThat(screen(pressing(show, "1", "x", "backspace", "2", "left", "delete"), 80, 24))
                .contains("how many cycles: 1\n");
        assertThat(screen(pressing(show, "esc"), 80, 24)).contains("0 of 2 done");
        show = pressing(show, "enter", "x", "enter");
        assertThat(screen(show, 80, 24)).contains("number");
        assertThat(screen(pressing(show, "backspace", "9", "enter"), 80, 24)).contains("Right: 9 cycles.");
    }

    @Test
    void press_emptyAnswer_keysMoveAbout() {
        LearnShow show = asking(room);

        assertThat(screen(pressing(show, "enter"), 80, 24)).contains("the question is still open");
        assertThat(screen(pressing(show, "left"), 80, 24)).contains("step 2 of 4");
        assertThat(screen(pressing(show, "right", "?"), 80, 24)).contains("A lesson is a row of steps");
        assertThat(screen(pressing(show, "esc"), 80, 24)).contains("step 3 of 4");
    }

    @Test
    void press_enterOnALongPage_turnsItBeforeGoingOn() {
        room.lessons
                .get("drip")
                .put(
                        "drip.md",
                        IntStream.rangeClosed(1, 60)
                                .mapToObj(i -> "Line " + i + "\n\n")
                                .collect(Collectors.joining()));
        LearnShow show = pressing(show(), "enter");

        assertThat(screen(show, 80, 24)).contains("Line 1\n").doesNotContain("Line 60");
        int pages = 0;
        while (screen(show, 80, 24).contains("step 1 of 4") && pages < 20) {
            pressing(show, "enter");
            pages++;
        }
        // 119 lines, of which 20 are in sight, turned by 19 so that one stays: 6 turns, and one more key to go on.
        assertThat(pages).isEqualTo(7);
        assertThat(screen(pressing(show, "left", "pagedown", "down", "pageup"), 80, 24))
                .contains("Line 2\n");
    }

    @Test
    void press_enterInAWalk_goesThroughItAndOn() {
        LearnShow show = pressing(show(), "enter", "enter", "enter");

        assertThat(screen(show, 80, 24)).contains("Bed 4 asks for the shared word here.", "Enter goes on");
        assertThat(screen(pressing(show, "right"), 80, 24)).contains("cycle 4 ");
        assertThat(screen(pressing(show, "enter"), 80, 24)).contains("cycle 12 ", "Enter back to the lesson");
        assertThat(screen(pressing(show, "backspace"), 80, 24)).contains("cycle 3 ");
        assertThat(screen(pressing(show, ":", "g", "o", "space", "7", "enter"), 80, 24))
                .contains("cycle 7 ");
        assertThat(screen(pressing(show, "enter", "enter"), 80, 24)).contains("step 3 of 4");
    }

    @Test
    void press_quitInAWalk_leavesTheWalkOnly() {
        LearnShow show = pressing(show(), "enter", "enter", "enter");

        assertThat(show.press("q", Progress.NONE)).isEqualTo(Next.GO_ON);
        assertThat(screen(show, 80, 24)).contains("step 2 of 4");
        assertThat(show.press("q", Progress.NONE)).isEqualTo(Next.LEAVE);
    }

    @Test
    void press_edit_asksForTheTerminalAndChecksAfterwards() {
        room.desk.editor.add("ed");
        LearnShow show = pressing(show(), "down", "enter");

        assertThat(show.press("e", Progress.NONE)).isEqualTo(Next.ERRAND);
        show.errand();
        assertThat(screen(show, 80, 24)).contains("passed, all 4.");
    }

    @Test
    void idle_savedFile_isCheckedByItself() {
        LearnShow show = pressing(show(), "down", "enter", "enter");
        assertThat(show.idle(Progress.NONE)).isFalse();

        room.desk.save(FILE, Drawer.model());
        assertThat(show.idle(Progress.NONE)).isFalse();
        assertThat(show.idle(Progress.NONE)).isTrue();
        assertThat(screen(show, 80, 24)).contains("Check 2: passed, all 4.");
    }

    @Test
    void trouble_withTheProgress_isToldOnce() {
        room.memory.trouble = "what is learnt cannot be noted: permission denied";
        LearnShow show = show();

        assertThat(screen(show, 80, 24)).contains("what is learnt cannot be noted");
        assertThat(screen(pressing(show, "down"), 80, 24)).doesNotContain("cannot be noted");
    }

    @Test
    void mouse_rowOfTheList_choosesIt() {
        LearnShow show = show();
        Frame frame = show.frame(24, 80);

        String command = frame.command(3, 10, Frame.Zone::click);
        assertThat(command).isEqualTo("choose 2");
        show.command(command, Progress.NONE);
        assertThat(screen(show, 80, 24)).contains("Enter opens lesson 2");
        show.command(frame.command(3, 10, Frame.Zone::wheelUp), Progress.NONE);
        assertThat(screen(show, 80, 24)).contains("Enter opens lesson 1");
    }

    @ParameterizedTest
    @ValueSource(strings = {"1x1", "39x9", "40x10", "60x15", "119x30", "120x30", "200x60"})
    void frame_anySize_fitsIt(String size) {
        int columns = Integer.parseInt(size.substring(0, size.indexOf('x')));
        int rows = Integer.parseInt(size.substring(size.indexOf('x') + 1));
        for (LearnShow show : List.of(show(), asking(new Room()), answered(new Room()))) {
            Frame frame = show.frame(rows, columns);
            assertThat(frame.lines()).hasSize(rows);
            assertThat(frame.lines())
                    .allSatisfy(line -> assertThat(Glyphs.width(line.plain())).isLessThanOrEqualTo(columns));
        }
    }

    /** Whatever is pressed, there is a screen. */
    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4})
    void press_anyKeys_alwaysLeaveAScreen(long seed) {
        List<String> keys = new ArrayList<>(room.learner().table().keyNames());
        keys.addAll(List.of("9", "1", "pageup", "pagedown", ":", "x", "unknown", "enter", "enter", "right"));
        keys.removeAll(List.of("ctrl-c"));
        Collections.sort(keys);
        Random random = new Random(seed);
        LearnShow show = show();
        for (int i = 0; i < 300; i++) {
            String key = keys.get(random.nextInt(keys.size()));
            show.press(key, Progress.NONE);
            show.idle(Progress.NONE);
            assertThat(show.frame(24, 80).lines())
                    .as("seed %d, key %d, %s", seed, i, key)
                    .hasSize(24);
        }
    }
}
