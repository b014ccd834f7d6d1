package octurn.cli.view;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.jline.utils.WCWidth;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class GlyphsTest {

    private static final Glyphs UNICODE = new Glyphs(StandardCharsets.UTF_8);
    private static final Glyphs ASCII = new Glyphs(StandardCharsets.US_ASCII);
    private static final Glyphs LATIN = new Glyphs(StandardCharsets.ISO_8859_1);

    @Test
    void visible_plainText_isKept() {
        assertThat(UNICODE.visible("fetch r1, [count]")).isEqualTo("fetch r1, [count]");
    }

    @ParameterizedTest
    @CsvSource({
        "001b, control",
        "0007, control",
        "0000, control",
        "0085, control",
        "009b, control",
        "007f, control",
        "202e, bidi",
        "2066, bidi",
        "200f, bidi",
        "061c, bidi",
        "200b, zero width",
        "200d, zero width",
        "feff, zero width",
        "00ad, soft hyphen",
        "2060, zero width",
        "2028, line end",
        "2029, line end",
        "000a, line end",
        "000d, line end",
        "e000, private",
        "fe0f, selector",
        "034f, joiner",
        "3164, filler",
        "115f, filler",
        "ffa0, filler"
    })
    void visible_harmfulCharacter_isAnEscape(String hex, String why) {
        String character = Character.toString(Integer.parseInt(hex, 16));
        assertThat(UNICODE.visible("a" + character + "b")).as(why).isEqualTo("a\\u%sb".formatted(hex));
    }

    @Test
    void visible_harmfulCharacterBeyond16Bits_isAnEscapeInBraces() {
        assertThat(UNICODE.visible(Character.toString(0xE0001))).isEqualTo("\\u{e0001}");
        assertThat(UNICODE.visible(Character.toString(0xE0100))).isEqualTo("\\u{e0100}");
    }

    @Test
    void visible_halfACharacter_isAnEscape() {
        assertThat(UNICODE.visible("a\ud83cb")).isEqualTo("a\\ud83cb");
        assertThat(UNICODE.visible("\ud83c\udf31")).isEqualTo("\ud83c\udf31");
    }

    @Test
    void visible_whatTheTerminalLacks_isAnEscape() {
        assertThat(ASCII.visible("T\u00f6pfe \ud83c\udf31")).isEqualTo("T\\u00f6pfe \\u{1f331}");
        assertThat(LATIN.visible("T\u00f6pfe \u6c34")).isEqualTo("T\u00f6pfe \\u6c34");
    }

    @Test
    void visible_tabs_goToTheNextEighthColumn() {
        assertThat(UNICODE.visible("\ta\tb")).isEqualTo("        a       b");
        assertThat(UNICODE.visible("\u6c34\tb")).isEqualTo("\u6c34      b");
    }

    @Test
    void visible_combiningMarks_areKeptUpToThree() {
        assertThat(UNICODE.visible("e\u0301")).isEqualTo("e\u0301");
        assertThat(UNICODE.visible("e" + "\u0301".repeat(5))).isEqualTo("e\u0301\u0301\u0301\\u0301\\u0301");
    }

    /** The widths of another library, made from the Unicode data independently of this one. */
    @Test
    void width_everyVisibleCharacter_isThatOfJline() {
        List<String> different = new ArrayList<>();
        for (int c = 0x20; c <= Character.MAX_CODE_POINT; c++) {
            String text = Character.toString(c);
            boolean shown = UNICODE.visible(text).equals(text);
            if (shown && Glyphs.width(c) != WCWidth.wcwidth(c)) {
                different.add("U+%04X %s: %d, not %d"
                        .formatted(c, Character.getName(c), Glyphs.width(c), WCWidth.wcwidth(c)));
            }
        }
        assertThat(different).isEmpty();
    }

    @Test
    void cut_atTheColumn_saysThatSomethingIsMissing() {
        assertThat(UNICODE.cut("greenhouse", 10)).isEqualTo("greenhouse");
        assertThat(UNICODE.cut("greenhouse", 9)).isEqualTo("greenhou\u2026");
        assertThat(ASCII.cut("greenhouse", 9)).isEqualTo("greenho..");
        assertThat(ASCII.cut("greenhouse", 1)).isEqualTo(".");
        assertThat(ASCII.cut("greenhouse", 0)).isEmpty();
    }

    @Test
    void cut_wideCharacter_isNotSplit() {
        assertThat(UNICODE.cut("\u6c34\u6c34\u6c34", 6)).isEqualTo("\u6c34\u6c34\u6c34");
        assertThat(UNICODE.cut("\u6c34\u6c34\u6c34", 5)).isEqualTo("\u6c34\u6c34\u2026");
        assertThat(UNICODE.cut("\u6c34\u6c34\u6c34", 4)).isEqualTo("\u6c34\u2026");
    }

    @Test
    void wrapped_words_stayWholeAndPercentSignsWithTheirNumbers() {
        assertThat(UNICODE.wrapped("one two three", 7)).containsExactly("one two", "three");
        assertThat(UNICODE.wrapped("up to 73 % of", 8)).containsExactly("up to", "73 % of");
        assertThat(UNICODE.wrapped("abcdefghij", 4)).containsExactly("abcd", "efgh", "ij");
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4})
    void anyText_visibleCutAndWrapped_fitsAndIsHarmless(long seed) {
        Random random = new Random(seed);
        for (int round = 0; round < 2000; round++) {
            StringBuilder text = new StringBuilder();
            for (int i = random.nextInt(40); i > 0; i--) {
                int kind = random.nextInt(4);
                text.appendCodePoint(
                        kind == 0
                                ? random.nextInt(0x20)
                                : kind == 1
                                        ? 0x20 + random.nextInt(0x5f)
                                        : random.nextInt(kind == 2 ? 0x3100 : 0x20000));
            }
            for (Charset charset : List.of(StandardCharsets.UTF_8, StandardCharsets.US_ASCII)) {
                Glyphs glyphs = new Glyphs(charset);
                int columns = 2 + random.nextInt(40);
                String visible = glyphs.visible(text.toString());
                assertThat(visible.codePoints()).as("seed %d", seed).allSatisfy(c -> {
                    assertThat(Character.getType(c))
                            .isNotIn(
                                    (int) Character.CONTROL,
                                    (int) Character.FORMAT,
                                    (int) Character.SURROGATE,
                                    (int) Character.LINE_SEPARATOR,
                                    (int) Character.PARAGRAPH_SEPARATOR);
                    assertThat(charset.newEncoder().canEncode(Character.toString(c)))
                            .isTrue();
                });
                assertThat(Glyphs.width(glyphs.cut(visible, columns))).isLessThanOrEqualTo(columns);
                assertThat(glyphs.wrapped(visible, columns))
                        .allSatisfy(line -> assertThat(Glyphs.width(line)).isLessThanOrEqualTo(columns));
            }
        }
    }
}
