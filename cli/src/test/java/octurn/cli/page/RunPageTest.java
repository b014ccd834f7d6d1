package octurn.cli.page;

import static octurn.cli.Resources.program;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.util.Base64;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import octurn.cli.Shell;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The command, its limits, and what can be seen of a page without a browser. */
class RunPageTest {

    /** Eight cores that go through numbers which nobody can pack (Marsaglia 2003, xorshift32). */
    private static final String CHANCE = """
            core all
                    read  r1, core
                    add   r1, r1, 99
            more:   shl   r2, r1, 13
                    xor   r1, r1, r2
                    shr   r2, r1, 17
                    xor   r1, r1, r2
                    shl   r2, r1, 5
                    xor   r1, r1, r2
                    jump  more
            """;

    private static final String LOOP = """
            core all
                    big   r1, 100000000
            more:   fetch r5, [40]
                    mul   r5, r5, 100
                    add   r5, r5, r1
                    post  r5, [50]
                    again r1, more
                    halt
            """;

    @TempDir
    Path folder;

    private Path write(String name, String text) throws IOException {
        return Files.writeString(folder.resolve(name), text);
    }

    private String page() {
        return folder.resolve("page.html").toString();
    }

    private String made(String... options) throws IOException {
        String[] line = Stream.concat(Stream.of("page", "-o", page()), Stream.of(options))
                .toArray(String[]::new);
        Shell.Outcome outcome = new Shell().run(line);
        assertThat(outcome.err()).isEmpty();
        assertThat(outcome.exit()).isZero();
        return Files.readString(Path.of(page()));
    }

    @Test
    void page_ofARun_saysWhatItHolds() {
        Shell.Outcome outcome = new Shell().run("page", program("drips.turn"), "-o", page());
        assertThat(outcome.out()).matches(Pattern.quote(page()) + ": the whole run, [0-9]+ cycles\\R");
        outcome = new Shell().run("page", program("drips.turn"), "-o", page(), "--from", "10", "--to", "90");
        assertThat(outcome.out()).matches(Pattern.quote(page()) + ": cycles 10 to 90, the run goes on\\R");
    }

    @Test
    void page_twice_isTheSame() throws IOException {
        assertThat(made(program("drips.turn"))).isEqualTo(made(program("drips.turn")));
    }

    @Test
    void page_ofAMillionCycles_isBelowFiveMegabytes() throws IOException {
        made(write("loop.turn", LOOP).toString(), "--cycles", "1000000");
        assertThat(Files.size(Path.of(page()))).isBetween(50_000L, 1_000_000L);
    }

    @Test
    void page_ofMoreThanFits_isRefusedWithTheCycleThatFits() throws IOException {
        String chance = write("chance.turn", CHANCE).toString();
        Shell.Outcome outcome = new Shell().run("page", chance, "-o", page());
        assertThat(outcome.exit()).isEqualTo(2);
        assertThat(outcome.out()).isEmpty();
        assertThat(Path.of(page())).doesNotExist();
        Matcher advice = Pattern.compile(
                        "octurn: the run is too long for a page of 5,000,000 bytes: from cycle 0 on it holds the cycles"
                                + " up to ([0-9]+); give --to \\1, or record another part with --from and --to")
                .matcher(outcome.err().strip());
        assertThat(advice.matches()).as(outcome.err()).isTrue();

        made(chance, "--to", advice.group(1));
        assertThat(Files.size(Path.of(page()))).isBetween(3_000_000L, 5_000_000L);
    }

    static Stream<Arguments> mistakes() {
        return Stream.of(
                Arguments.of(List.of("-o", "x.html", "--from", "9", "--to", "9"), "--to 9 is not behind --from 9"),
                Arguments.of(List.of("-o", "x.txt"), "--output: x.txt is not *.html"),
                Arguments.of(List.of("-o", "x.html", "--from", "99999999"), "--from 99999999: the run ends at cycle"),
                Arguments.of(List.of("-o", "x.html", "--from", "-1"), "-1 is not a cycle in 0..9007199254740991"),
                Arguments.of(List.of(), "--output needs a value, FILE"),
                Arguments.of(List.of("-o", "no/such/x.html"), "no/such/x.html: there is no such folder"));
    }

    @ParameterizedTest
    @MethodSource("mistakes")
    void page_askedForWrongly_saysWhatIsWrong(List<String> options, String message) {
        String[] line = Stream.concat(Stream.of("page", program("drips.turn")), options.stream())
                .toArray(String[]::new);
        Shell.Outcome outcome = new Shell().run(line);
        assertThat(outcome.exit()).isEqualTo(2);
        assertThat(outcome.err()).contains(message);
        assertThat(Path.of("x.html")).doesNotExist();
    }

    @Test
    void page_policy_allowsItsOwnScriptAndStyleAlone() throws Exception {
        String html = made(program("drips.turn"));
        Matcher policy = Pattern.compile("http-equiv=\"Content-Security-Policy\" content=\"([^\"]*)\"")
                .matcher(html);
        assertThat(policy.find()).isTrue();
        Matcher style = Pattern.compile("<style>(.*?)</style>", Pattern.DOTALL).matcher(html);
        Matcher script =
                Pattern.compile("<script>(.*?)</script>", Pattern.DOTALL).matcher(html);
        assertThat(style.find()).isTrue();
        assertThat(script.find()).isTrue();
        assertThat(policy.group(1))
                .isEqualTo("default-src 'none'; script-src '" + hash(script.group(1)) + "'; style-src '"
                        + hash(style.group(1)) + "'; base-uri 'none'; form-action 'none'");
        assertThat(html)
                .doesNotContain("http://www.example")
                .doesNotContain(" style=")
                .doesNotContain(" onclick=");
        assertThat(html.replace("http://www.w3.org/2000/svg", "")).doesNotContain("http:", "https:", "src=", "url(");
    }

    private static String hash(String text) throws Exception {
        byte[] digest = MessageDigest.getInstance("SHA-256").digest(text.getBytes(StandardCharsets.UTF_8));
        return "sha256-" + Base64.getEncoder().encodeToString(digest);
    }

    @Test
    void page_ofAHostileProgram_holdsNoMarkupOfIts() throws IOException {
        Path file =
                write("evil.turn", "; </script><script>alert(1)</script><!-- \n; \" ' & <img src=x>\ncore 0\n halt\n");
        String html = made(file.toString());
        String facts = html.substring(html.indexOf("id=\"facts\">"), html.indexOf("<script type=\"application/octet"));
        assertThat(facts.replace("</script>\n", "").substring(11)).doesNotContain("<");
        assertThat(facts).contains("\\u003c/script>\\u003cscript>alert(1)\\u003c/script>\\u003c!--");
    }

    // ---- colours ----

    private static Map<String, String> colours(String css, String from) {
        Map<String, String> colours = new TreeMap<>();
        int at = css.indexOf("{", css.indexOf(":root", css.indexOf(from)));
        Matcher colour = Pattern.compile("--([a-z-]+): (#[0-9a-f]+);").matcher(css.substring(at, css.indexOf("}", at)));
        while (colour.find()) {
            colours.put(colour.group(1), colour.group(2));
        }
        return colours;
    }

    /** WCAG 2.x, contrast ratio of two colours. */
    private static double contrast(String one, String other) {
        double a = luminance(one);
        double b = luminance(other);
        return (Math.max(a, b) + .05) / (Math.min(a, b) + .05);
    }

    private static double luminance(String colour) {
        String hex = colour.length() == 4 ? colour.replaceAll("([0-9a-f])", "$1$1") : colour;
        double[] weights = {.2126, .7152, .0722};
        double sum = 0;
        for (int i = 0; i < 3; i++) {
            double c = Integer.parseInt(hex.substring(1 + 2 * i, 3 + 2 * i), 16) / 255.0;
            sum += weights[i] * (c <= .04045 ? c / 12.92 : Math.pow((c + .055) / 1.055, 2.4));
        }
        return sum;
    }

    @Test
    void contrast_ofKnownPairs_isThePublishedOne() {
        assertThat(contrast("#777777", "#ffffff")).isBetween(4.475, 4.485);
        assertThat(contrast("#767676", "#fff")).isBetween(4.535, 4.545);
    }

    @ParameterizedTest
    @ValueSource(strings = {":root", "prefers-color-scheme: dark", "@media print"})
    void colours_everywhere_haveEnoughContrast(String where) throws IOException {
        String css =
                new String(RunPageTest.class.getResourceAsStream("page.css").readAllBytes(), StandardCharsets.UTF_8);
        Map<String, String> colours = colours(css, where);
        assertThat(colours).hasSizeGreaterThan(20);
        for (String ground : List.of("ground", "card", "past", "chosen", "work", "wait", "fetch", "sleep")) {
            assertContrast(colours, "ink", ground, 4.5);
        }
        for (String ground : List.of("ground", "card", "past", "chosen")) {
            assertContrast(colours, "weak", ground, 4.5);
        }
        assertContrast(colours, "mark", "card", 4.5);
        assertContrast(colours, "mark", "chosen", 4.5);
        assertContrast(colours, "on-mark", "mark", 4.5);
        assertContrast(colours, "slot-ink", "slot", 4.5);
        assertContrast(colours, "fault-ink", "fault", 4.5);
        for (String edge : List.of("edge", "work-edge", "wait-edge", "slot", "fetch-edge", "sleep-edge", "mark")) {
            assertContrast(colours, edge, "card", 3);
            assertContrast(colours, edge, "past", 3);
        }
    }

    private static void assertContrast(Map<String, String> colours, String ink, String ground, double least) {
        assertThat(contrast(colours.getOrDefault(ink, ""), colours.getOrDefault(ground, "")))
                .as("%s on %s", ink, ground)
                .isGreaterThanOrEqualTo(least);
    }
}
