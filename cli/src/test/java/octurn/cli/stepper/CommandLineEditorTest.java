package octurn.cli.stepper;

import static octurn.cli.stepper.Steppers.lesson;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

class CommandLineEditorTest {

    private final CommandLineEditor editor = new CommandLineEditor(lesson("eight-cores.turn"));

    @BeforeEach
    void open() {
        editor.open("");
    }

    private @Nullable String type(String... keys) {
        String line = null;
        for (String key : keys) {
            line = editor.press(key);
        }
        return line;
    }

    private void text(String text) {
        text.codePoints().forEach(c -> editor.press(c == ' ' ? "space" : Character.toString(c)));
    }

    private String shown() {
        String text = editor.prompt().text();
        return text.substring(0, editor.prompt().cursor()) + "|"
                + text.substring(editor.prompt().cursor());
    }

    @Test
    void press_letters_areInsertedAtTheCursor() {
        text("go 12");
        type("left", "left");
        text("3");
        assertThat(shown()).isEqualTo("go 3|12");
        type("home");
        assertThat(shown()).isEqualTo("|go 312");
        type("right", "delete");
        assertThat(shown()).isEqualTo("g| 312");
        type("end", "backspace", "ctrl-a", "ctrl-e");
        assertThat(shown()).isEqualTo("g 31|");
    }

    @Test
    void press_killKeys_takePartsAway() {
        text("stop when r1");
        type("ctrl-w");
        assertThat(shown()).isEqualTo("stop when |");
        type("left", "left", "ctrl-k");
        assertThat(shown()).isEqualTo("stop whe|");
        type("ctrl-u");
        assertThat(shown()).isEqualTo("|");
        type("ctrl-w", "ctrl-k", "backspace", "delete", "left", "right");
        assertThat(shown()).isEqualTo("|");
    }

    @Test
    void press_wideAndPairedCharacters_moveAsOne() {
        text("a\ud83d\ude00b");
        type("left", "left");
        assertThat(shown()).isEqualTo("a|\ud83d\ude00b");
        type("delete");
        assertThat(shown()).isEqualTo("a|b");
    }

    @Test
    void press_enter_givesTheLineAndKeepsIt() {
        text(" go 5 ");
        assertThat(type("enter")).isEqualTo("go 5");
        assertThat(editor.isOpen()).isFalse();
        editor.open("");
        text("step");
        type("enter");
        editor.open("");
        text("x");
        type("up");
        assertThat(shown()).isEqualTo("step|");
        type("up", "up");
        assertThat(shown()).isEqualTo("go 5|");
        type("down", "down", "down");
        assertThat(shown()).isEqualTo("x|");
    }

    @Test
    void press_escape_closesWithoutALine() {
        text("go 5");
        assertThat(type("esc")).isNull();
        assertThat(editor.isOpen()).isFalse();
    }

    @Test
    void press_tab_completesAsFarAsItIsClear() {
        text("inst");
        type("tab");
        assertThat(shown()).isEqualTo("instruction |");
        editor.open("stop when sha");
        type("tab");
        assertThat(shown()).isEqualTo("stop when shared[|");
        text("p");
        type("tab");
        assertThat(shown()).isEqualTo("stop when shared[percent] |");
        editor.open("xyz");
        type("tab");
        assertThat(shown()).isEqualTo("xyz|");
    }

    @Test
    void prompt_beginning_offersWhatMayCome() {
        text("show t");
        assertThat(editor.prompt().offers()).isEqualTo("tallies turns");
        editor.open("go");
        assertThat(editor.prompt().offers()).contains("CYCLE");
        editor.open("fly");
        assertThat(editor.prompt().firstBad()).isZero();
        editor.open("r");
        assertThat(List.of(editor.prompt().offers().split(" ", -1)))
                .contains("run", "rotation", "restore", "record", "redo");
    }

    @Test
    void press_tooMuch_isCut() {
        text("x".repeat(500));
        assertThat(editor.prompt().text()).hasSize(200);
    }
}
