package octurn.cli.stepper;

import static octurn.cli.stepper.Steppers.UNICODE;
import static octurn.cli.stepper.Steppers.doing;
import static octurn.cli.stepper.Steppers.goldenCase;
import static octurn.cli.stepper.Steppers.lesson;
import static octurn.cli.stepper.Steppers.screen;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import octurn.cli.view.Frame;
import octurn.cli.view.Glyphs;
import octurn.cli.view.Line;
import octurn.cli.view.StepScreen;
import octurn.run.Progress;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Keys and commands by chance, on the golden cases: nothing crashes, and every screen stays within its bounds. */
class RandomKeysTest {

    private static final int CASES = 58;
    private static final int KEYS = 120;
    private static final int[][] SIZES = {{80, 24}, {100, 30}, {160, 50}, {81, 27}, {40, 10}, {200, 61}};
    private static final List<String> TYPED = List.of(
            "set r3 7",
            "set shared[3] -1",
            "set private[0] 0",
            "set pin 0 1",
            "set pin 0 free",
            "restore all",
            "restore 1",
            "stop when r1 == 1",
            "stop change shared[0]",
            "stop pin 0",
            "stop fault",
            "drop all",
            "go 0",
            "go +100",
            "go 1000",
            "look 5",
            "find r1",
            "mark",
            "go m1",
            "tell shared",
            "tell screen",
            "wave 10000",
            "core 31",
            "nonsense",
            "next admission any");

    static IntStream cases() {
        return IntStream.rangeClosed(1, CASES);
    }

    @ParameterizedTest
    @MethodSource("cases")
    void press_anything_drawsAScreenOfTheRightSize(int number) {
        Stepper stepper = goldenCase(number);
        CommandLineEditor editor = new CommandLineEditor(stepper);
        Random random = new Random(number);
        List<String> keys = new ArrayList<>(stepper.table().keyNames());
        keys.removeAll(List.of("q", "ctrl-c"));
        for (int i = 0; i < KEYS; i++) {
            String key = keys.get(random.nextInt(keys.size()));
            if (editor.isOpen()) {
                String line = editor.press(random.nextInt(3) == 0 ? "enter" : key);
                if (line != null) {
                    stepper.run(line, Progress.NONE);
                }
            } else if (random.nextInt(5) == 0) {
                stepper.run(TYPED.get(random.nextInt(TYPED.size())), Progress.NONE);
            } else {
                String line = stepper.table().line(key);
                if (line.endsWith(" ")) {
                    editor.open(line);
                } else {
                    stepper.run(line, Progress.NONE);
                }
            }
            if (stepper.playingSpeed() > 0) {
                stepper.playOn(random.nextInt(50));
            }
            int[] size = SIZES[random.nextInt(SIZES.length)];
            Frame frame = StepScreen.render(
                    stepper.scene(size[1], size[0], editor.isOpen() ? editor.prompt() : null),
                    size[1],
                    size[0],
                    UNICODE);
            assertFits(frame, size, "case %d, key %d: %s".formatted(number, i, key));
        }
    }

    private static void assertFits(Frame frame, int[] size, String what) {
        assertThat(frame.lines()).as(what).hasSize(size[1]);
        for (Line line : frame.lines()) {
            String text = line.onScreen(true).replaceAll("\u001b\\[[0-9;]*m", "");
            if (Glyphs.width(text) != size[0] || text.chars().anyMatch(Character::isISOControl)) {
                assertThat(text).as(what).hasSize(size[0]);
            }
        }
        assertThat(frame.cursorColumn()).as(what).isLessThan(size[0]);
    }

    @ParameterizedTest
    @MethodSource("cases")
    void back_thenForward_showsTheSameScreen(int number) {
        Stepper stepper = goldenCase(number);
        Random random = new Random(number);
        doing(stepper, "show shared");
        for (int i = 0; i < 4; i++) {
            int cycle = 5 + random.nextInt(300);
            doing(stepper, "go " + cycle, "step");
            long here = stepper.cycle();
            String before = screen(stepper, 100, 30, UNICODE).plain();
            int steps = 1 + random.nextInt(4);
            for (int k = 0; k < steps; k++) {
                doing(stepper, "back");
            }
            doing(stepper, "step " + (here - stepper.cycle()));
            assertThat(screen(stepper, 100, 30, UNICODE).plain()).isEqualTo(before);
            doing(stepper, "rotation back", "go " + here, "step");
            assertThat(stepper.cycle()).isGreaterThanOrEqualTo(here);
        }
    }

    @Test
    void back_everyStepOfARun_showsTheScreensOfTheWayThere() {
        Stepper stepper = doing(lesson("worker.turn"), "core 1", "show turns", "step", "back");
        List<String> screens = new ArrayList<>();
        for (int i = 0; i < 120; i++) {
            screens.add(screen(stepper, 80, 24, UNICODE).plain());
            doing(stepper, "step");
        }
        for (int i = 119; i >= 0; i--) {
            doing(stepper, "back");
            assertThat(screen(stepper, 80, 24, UNICODE).plain()).isEqualTo(screens.get(i));
        }
    }
}
