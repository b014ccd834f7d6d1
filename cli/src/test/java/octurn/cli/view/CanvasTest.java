package octurn.cli.view;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Test;

class CanvasTest {

    private final Canvas canvas = new Canvas(3, 10, new Glyphs(StandardCharsets.UTF_8));

    private String row(int row) {
        return canvas.frame().lines().get(row).onScreen(false);
    }

    @Test
    void put_longText_isCutAtTheEdgeOfItsArea() {
        canvas.all().part(0, 2, 1, 4).put(0, 0, "abcdefgh", Ink.PLAIN);

        assertThat(row(0)).isEqualTo("  abcd    ");
    }

    @Test
    void put_outside_isNothing() {
        canvas.all().put(3, 0, "below", Ink.PLAIN);
        canvas.all().put(-1, 0, "above", Ink.PLAIN);
        canvas.all().put(0, -3, "left", Ink.PLAIN);

        assertThat(row(0)).isEqualTo("t         ");
        assertThat(row(2)).isBlank();
    }

    @Test
    void put_wideCharacter_isNotCutInHalf() {
        canvas.all().part(0, 0, 1, 3).put(0, 0, "a\u6f22\u5b57", Ink.PLAIN);

        assertThat(row(0)).isEqualTo("a\u6f22       ");
        assertThat(Glyphs.width(row(0))).isEqualTo(10);
    }

    @Test
    void put_overHalfAWideCharacter_blanksTheOtherHalf() {
        canvas.all().put(0, 0, "\u6f22\u5b57", Ink.PLAIN);
        canvas.all().put(0, 1, "x", Ink.PLAIN);

        assertThat(row(0)).isEqualTo(" x\u5b57      ");

        canvas.all().put(0, 2, "y", Ink.PLAIN);
        assertThat(row(0)).isEqualTo(" xy       ");
    }

    @Test
    void put_combiningMark_staysWithItsLetter() {
        canvas.all().put(0, 0, "e\u0301x\u0301", Ink.PLAIN);
        canvas.all().put(1, 0, "\u0301alone", Ink.PLAIN);

        assertThat(row(0)).isEqualTo("e\u0301x\u0301        ");
        assertThat(row(1)).isEqualTo("alone     ");
    }

    @Test
    void put_controlCharacter_isRefused() {
        assertThatThrownBy(() -> canvas.all().put(0, 0, "a\u001b[2J", Ink.PLAIN))
                .isInstanceOf(IllegalArgumentException.class);
    }

    @Test
    void put_twoInks_makesTwoPieces() {
        canvas.all().put(0, 0, "ab", Ink.STRONG);
        canvas.all().put(0, 2, "cd", Ink.ON_RED);

        assertThat(canvas.frame().lines().get(0).onScreen(true))
                .isEqualTo("\u001b[1mab\u001b[0m\u001b[38;5;16;48;5;166mcd\u001b[0m      ");
        assertThat(canvas.frame().lines().get(0).onScreen(false)).isEqualTo("\u001b[1mab\u001b[0mcd      ");
    }
}
