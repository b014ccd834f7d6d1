package octurn.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The colours of the pages against WCAG 2.2: text has a contrast of 4.5 to its ground, bars one of 3 to the page. */
class PageColoursTest {

    private static final Path STYLES = Path.of("src", "main", "resources", "octurn", "cli");
    private static final Path STYLE = STYLES.resolve(Path.of("export", "marks.css"));
    private static final Path STYLE_OF_A_RUN = STYLES.resolve(Path.of("page", "page.css"));
    private static final Pattern ROOT = Pattern.compile(":root \\{([^}]*)}");
    private static final Pattern COLOUR = Pattern.compile("--([a-z-]+): (#[0-9a-f]{6})");

    /** The colours of the light, dark and printed page; each begins with those of the light one. */
    private static List<Map<String, Integer>> themes(Path style) throws IOException {
        Matcher roots = ROOT.matcher(Files.readString(style));
        Map<String, Integer> light = new HashMap<>();
        List<Map<String, Integer>> themes = new ArrayList<>();
        while (roots.find()) {
            Map<String, Integer> theme = new HashMap<>(light);
            Matcher colours = COLOUR.matcher(roots.group(1));
            while (colours.find()) {
                theme.put(colours.group(1), Integer.decode(colours.group(2)));
            }
            light = themes.isEmpty() ? theme : light;
            themes.add(theme);
        }
        return themes;
    }

    /** Relative luminance as WCAG 2.2 defines it. */
    private static double luminance(int colour) {
        double[] weights = {0.2126, 0.7152, 0.0722};
        double sum = 0;
        for (int i = 0; i < weights.length; i++) {
            double part = (colour >> (16 - 8 * i) & 0xFF) / 255.0;
            sum += weights[i] * (part <= 0.04045 ? part / 12.92 : Math.pow((part + 0.055) / 1.055, 2.4));
        }
        return sum;
    }

    private static double contrast(int one, int other) {
        double a = luminance(one);
        double b = luminance(other);
        return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
    }

    @ParameterizedTest
    @CsvSource({
        "ink, ground, 4.5",
        "ink, card, 4.5",
        "ink, past, 4.5",
        "ink, fail-tint, 4.5",
        "ink, wary-tint, 4.5",
        "weak, ground, 4.5",
        "weak, card, 4.5",
        "weak, past, 4.5",
        "weak, fail-tint, 4.5",
        "weak, wary-tint, 4.5",
        "mark, ground, 4.5",
        "mark, card, 4.5",
        "pass, pass-tint, 4.5",
        "fail, fail-tint, 4.5",
        "wary, wary-tint, 4.5",
        "bar-pass, ground, 3",
        "bar-fail, ground, 3",
        "bar-none, ground, 3"
    })
    void colours_onTheirGround_haveEnoughContrast(String colour, String ground, double least) throws IOException {
        assertThat(themes(STYLE)).hasSize(3);
        for (Map<String, Integer> theme : themes(STYLE)) {
            assertThat(contrast(theme.get(colour), theme.get(ground)))
                    .as("%s on %s in %s", colour, ground, theme)
                    .isGreaterThanOrEqualTo(least);
        }
    }

    @Test
    void colours_thatThePageOfARunHasAsWell_areTheSame() throws IOException {
        for (int theme = 0; theme < 2; theme++) {
            Map<String, Integer> ours = themes(STYLE).get(theme);
            Map<String, Integer> theirs = themes(STYLE_OF_A_RUN).get(theme);
            assertThat(ours.keySet()).contains("ground", "card", "past", "ink", "weak", "rule", "mark");
            ours.forEach((name, colour) ->
                    assertThat(theirs.getOrDefault(name, colour)).as(name).isEqualTo(colour));
        }
    }
}
