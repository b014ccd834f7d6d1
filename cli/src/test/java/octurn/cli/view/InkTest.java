package octurn.cli.view;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import java.util.OptionalInt;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Contrast after the Web Content Accessibility Guidelines 2.x: (L1 + .05) / (L2 + .05) with L = .2126 R + .7152 G + .0722 B
 * of linear values; text needs 4.5, what is no text 3.
 */
class InkTest {

    private static final int BLACK = 0x000000;
    private static final int WHITE = 0xFFFFFF;

    private static double linear(int channel) {
        double c = channel / 255.0;
        return c <= .04045 ? c / 12.92 : Math.pow((c + .055) / 1.055, 2.4);
    }

    private static double luminance(int rgb) {
        return .2126 * linear(rgb >> 16) + .7152 * linear(rgb >> 8 & 255) + .0722 * linear(rgb & 255);
    }

    static double contrast(int a, int b) {
        double one = luminance(a);
        double other = luminance(b);
        return (Math.max(one, other) + .05) / (Math.min(one, other) + .05);
    }

    /** The colours that terminals of 256 have in common: a cube of 6 x 6 x 6, and 24 greys. */
    static int rgb(int index) {
        if (index >= 232) {
            int grey = 8 + 10 * (index - 232);
            return grey << 16 | grey << 8 | grey;
        }
        int[] steps = {0, 95, 135, 175, 215, 255};
        int i = index - 16;
        return steps[i / 36] << 16 | steps[i / 6 % 6] << 8 | steps[i % 6];
    }

    /** The colour that follows this parameter, 38 for the letter or 48 for the ground. */
    private static OptionalInt colour(Ink ink, String parameter) {
        List<String> codes = Arrays.asList(ink.codes().split(";", -1));
        int at = codes.indexOf(parameter);
        return at < 0 ? OptionalInt.empty() : OptionalInt.of(rgb(Integer.parseInt(codes.get(at + 2))));
    }

    /** The guidelines' own worked values: #777777 on white 4.48, #767676 4.54. */
    @Test
    void contrast_greysOfTheGuidelines_isAsPrintedThere() {
        assertThat(contrast(0x777777, WHITE)).isCloseTo(4.48, within(.005));
        assertThat(contrast(0x767676, WHITE)).isCloseTo(4.54, within(.005));
        assertThat(contrast(BLACK, WHITE)).isCloseTo(21, within(1e-9));
    }

    /** Okabe and Ito's palette (Color Universal Design, 2008); contrasts computed from the formula above. */
    @ParameterizedTest
    @CsvSource({
        "E69F00, 2.25, 9.32",
        "56B4E9, 2.31, 9.10",
        "009E73, 3.42, 6.14",
        "F0E442, 1.32, 15.88",
        "0072B2, 5.19, 4.05",
        "D55E00, 3.87, 5.43",
        "CC79A7, 3.06, 6.86"
    })
    void contrast_palette_isAsComputedElsewhere(String colour, double onWhite, double onBlack) {
        int rgb = Integer.parseInt(colour, 16);

        assertThat(contrast(rgb, WHITE)).isCloseTo(onWhite, within(.006));
        assertThat(contrast(rgb, BLACK)).isCloseTo(onBlack, within(.006));
    }

    static Stream<Ink> withGround() {
        return Arrays.stream(Ink.values()).filter(ink -> colour(ink, "48").isPresent());
    }

    static Stream<Ink> withoutGround() {
        return Arrays.stream(Ink.values())
                .filter(ink ->
                        colour(ink, "38").isPresent() && colour(ink, "48").isEmpty());
    }

    @ParameterizedTest
    @MethodSource("withGround")
    void ink_withItsOwnGround_hasTheContrastOfText(Ink ink) {
        assertThat(contrast(colour(ink, "38").orElseThrow(), colour(ink, "48").orElseThrow()))
                .isGreaterThanOrEqualTo(4.5);
    }

    /** On any terminal: what is told is told by letters and signs too, so the limit is that of graphics. */
    @ParameterizedTest
    @MethodSource("withoutGround")
    void ink_onTheTerminalsGround_showsOnDarkAndOnLight(Ink ink) {
        int rgb = colour(ink, "38").orElseThrow();

        assertThat(contrast(rgb, BLACK)).isGreaterThanOrEqualTo(2.9);
        assertThat(contrast(rgb, WHITE)).isGreaterThanOrEqualTo(2.6);
    }

    @Test
    void codesWithoutColour_anyInk_hasAttributesAlone() {
        assertThat(Ink.ON_YELLOW.codesWithoutColour()).isEqualTo("1");
        assertThat(Ink.ON_GREEN.codesWithoutColour()).isEmpty();
        assertThat(Ink.STRONG_REVERSED.codesWithoutColour()).isEqualTo("1;7");
        assertThat(Ink.ALARM.codesWithoutColour()).isEqualTo("1");
    }
}
