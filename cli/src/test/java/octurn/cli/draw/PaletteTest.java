package octurn.cli.draw;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Set;
import octurn.machine.State;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

/** Contrast after WCAG 2.x (W3C), "contrast ratio" and "relative luminance". */
class PaletteTest {

    /** Okabe and Ito, Color Universal Design, 2008. */
    private static final Set<Integer> OKABE_ITO =
            Set.of(0x000000, 0xE69F00, 0x56B4E9, 0x009E73, 0xF0E442, 0x0072B2, 0xD55E00, 0xCC79A7);

    private static final double TEXT = 4.5;
    private static final double SIGN = 3;

    private static double contrast(int one, int other) {
        double a = luminance(one);
        double b = luminance(other);
        return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
    }

    private static double luminance(int rgb) {
        return 0.2126 * linear(rgb >> 16 & 255) + 0.7152 * linear(rgb >> 8 & 255) + 0.0722 * linear(rgb & 255);
    }

    private static double linear(int channel) {
        double c = channel / 255.0;
        return c <= 0.04045 ? c / 12.92 : Math.pow((c + 0.055) / 1.055, 2.4);
    }

    /** The first two are well-known borderline greys; the others the palette's own, computed again from the definition. */
    @ParameterizedTest
    @CsvSource({
        "777777, FFFFFF, 4.48", "767676, FFFFFF, 4.54", "009E73, FFFFFF, 3.42", "0072B2, FFFFFF, 5.19",
        "D55E00, FFFFFF, 3.87", "CC79A7, FFFFFF, 3.06", "56B4E9, 000000, 9.10", "E69F00, 000000, 9.32",
        "F0E442, 000000, 15.88"
    })
    void contrast_ofKnownPairs_isAsPublished(String one, String other, double expected) {
        assertThat(contrast(Integer.parseInt(one, 16), Integer.parseInt(other, 16)))
                .isCloseTo(expected, within(0.01));
    }

    @ParameterizedTest
    @EnumSource
    void words_onTheirGround_reachTheContrastOfText(Palette palette) {
        assertThat(contrast(palette.ink(), palette.ground())).isGreaterThanOrEqualTo(TEXT);
        assertThat(contrast(palette.weak(), palette.ground())).isGreaterThanOrEqualTo(TEXT);
        for (State state : State.values()) {
            Texture texture = palette.texture(state);
            assertThat(contrast(texture.text(), texture.ground()))
                    .as("%s %s", palette, state)
                    .isGreaterThanOrEqualTo(TEXT);
        }
    }

    @ParameterizedTest
    @EnumSource
    void signs_onThePicture_reachTheContrastOfSigns(Palette palette) {
        assertThat(contrast(palette.turn(), palette.ground())).isGreaterThanOrEqualTo(SIGN);
        for (State state : State.values()) {
            Texture texture = palette.texture(state);
            double ground = contrast(texture.ground(), palette.ground());
            double lines = contrast(texture.lines(), palette.ground());
            assertThat(Math.max(ground, lines)).as("%s %s", palette, state).isGreaterThanOrEqualTo(SIGN);
            if (texture.hatch() != Texture.Hatch.PLAIN) {
                assertThat(contrast(texture.lines(), texture.ground()))
                        .as("lines of %s %s", palette, state)
                        .isGreaterThanOrEqualTo(SIGN);
            }
        }
    }

    /** Printed in grey, or seen without colours: another hatching, or a ground that is clearly lighter. */
    @ParameterizedTest
    @EnumSource
    void states_withoutColour_areToldApart(Palette palette) {
        for (State one : State.values()) {
            for (State other : State.values()) {
                Texture a = palette.texture(one);
                Texture b = palette.texture(other);
                if (one != other && a.hatch() == b.hatch()) {
                    assertThat(contrast(a.ground(), b.ground()))
                            .as("%s: %s and %s", palette, one, other)
                            .isGreaterThanOrEqualTo(2);
                }
            }
        }
    }

    @ParameterizedTest
    @EnumSource
    void colours_areOfTheColourBlindSafePaletteOrGrey(Palette palette) {
        for (State state : State.values()) {
            assertThat(palette.texture(state).ground()).satisfies(PaletteTest::isAllowed);
            assertThat(palette.texture(state).lines()).satisfies(PaletteTest::isAllowed);
        }
        assertThat(palette.turn()).satisfies(PaletteTest::isAllowed);
    }

    private static void isAllowed(int colour) {
        assertThat(OKABE_ITO.contains(colour) || isGrey(colour))
                .as("%06x", colour)
                .isTrue();
    }

    private static boolean isGrey(int colour) {
        return (colour >> 16 & 255) == (colour & 255) && (colour >> 8 & 255) == (colour & 255);
    }

    @Test
    void grey_hasNoColours() {
        for (State state : State.values()) {
            assertThat(isGrey(Palette.GREY.texture(state).ground())).isTrue();
            assertThat(isGrey(Palette.GREY.texture(state).lines())).isTrue();
        }
    }
}
