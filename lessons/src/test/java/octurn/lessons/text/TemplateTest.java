package octurn.lessons.text;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Random;
import java.util.stream.IntStream;
import java.util.stream.LongStream;
import octurn.diag.Diagnostic;
import octurn.json.Passage;
import octurn.json.Reading;
import octurn.lessons.value.Unresolved;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

class TemplateTest {

    private static @Nullable Template parse(String text, List<Diagnostic> problems) {
        Reading<Passage> reading = Passage.file("x.md", text.getBytes(StandardCharsets.UTF_8));
        return Template.parse(((Reading.Accepted<Passage>) reading).value(), problems::add);
    }

    private static Template template(String text) {
        List<Diagnostic> problems = new ArrayList<>();
        Template template = parse(text, problems);
        assertThat(problems).isEmpty();
        return Objects.requireNonNull(template);
    }

    /** The text with 1234.5 for every value. */
    private static Prose prose(String text) {
        try {
            return template(text).fill(hole -> hole.format().show(1234.5, 48_000_000));
        } catch (Unresolved e) {
            throw new AssertionError(e);
        }
    }

    private static String html(String text) {
        return Html.of(prose(text)).strip();
    }

    @Test
    void prose_ofMarkdown_hasItsBlocksAndInlines() {
        assertThat(prose("# A\n\nb *c* **d** `e`  \nf\n\n- g\n- h\n\n3. i\n\n> j\n\n```turn\nk\n  l\n```\n\n---\n")
                        .blocks())
                .containsExactly(
                        new Prose.Heading(1, List.of(new Prose.Text("A"))),
                        new Prose.Paragraph(List.of(
                                new Prose.Text("b "),
                                new Prose.Emphasis(List.of(new Prose.Text("c"))),
                                new Prose.Text(" "),
                                new Prose.Strong(List.of(new Prose.Text("d"))),
                                new Prose.Text(" "),
                                new Prose.Code("e"),
                                new Prose.Break(),
                                new Prose.Text("f"))),
                        new Prose.Items(-1, List.of(List.of(paragraph("g")), List.of(paragraph("h")))),
                        new Prose.Items(3, List.of(List.of(paragraph("i")))),
                        new Prose.Quote(List.of(paragraph("j"))),
                        new Prose.CodeBlock("turn", List.of("k", "  l")),
                        new Prose.Rule());
    }

    private static Prose.Block paragraph(String text) {
        return new Prose.Paragraph(List.of(new Prose.Text(text)));
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "It waits {x} cycles. | It waits 1,234.5 cycles.",
                "{x:%} | 123,450 %",
                "{x:us} | 25.719 \u00b5s",
                "{x:ms} | 0.026 ms",
                "{x:d} | 1234.5",
                "{x:hex} {x:bin} | 0x4D2 0b10011010010",
                "{x:1} {x:2} {x:3} | 1,234.5 1,234.50 1,234.500",
                "{{x} | {x}",
                "{x + 1 : %} | {x + 1 : %}",
                "a } b | a } b"
            })
    void value_inBraces_isPutIn(String text, String shown) {
        if (text.equals(shown) && text.contains(" : ")) {
            List<Diagnostic> problems = new ArrayList<>();
            parse(text, problems);
            assertThat(problems).hasSize(1);
        } else {
            assertThat(prose(text).plain()).isEqualTo(shown);
        }
    }

    @Test
    void value_atTheBeginningOfALine_isNoMarkup() {
        // "1,234.5. x" would begin a list if values were put in first, and "-1" .. be part of one.
        assertThat(prose("{x:d}. Next\n\n*{x}*").blocks())
                .containsExactly(
                        paragraph("1234.5. Next"),
                        new Prose.Paragraph(List.of(new Prose.Emphasis(List.of(new Prose.Text("1,234.5"))))));
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "a {x | 1:3 no } follows on this line",
                "a {x:y} | 1:6 there is no format \"y\"",
                "a {} | 1:4 an empty expression",
                "a {1 +} b | 1:7 the expression ends too early"
            })
    void mistake_inAText_hasItsPlace(String text, String problem) {
        List<Diagnostic> problems = new ArrayList<>();
        assertThat(parse(text, problems)).isNull();
        assertThat(problems)
                .extracting(one ->
                        "%d:%d %s".formatted(one.span().line(), one.span().column(), one.message()))
                .containsExactly(problem);
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "<b>x</b> | <p>&lt;b&gt;x&lt;/b&gt;</p>",
                "<script>alert(1)</script> | <p>&lt;script&gt;alert(1)&lt;/script&gt;</p>",
                "![x](y.png) | <p>x</p>",
                "[x](javascript:alert(1)) | <p>x</p>",
                "[x](data:text/html,y) | <p>x</p>",
                "[x](file:///etc/passwd) | <p>x</p>",
                "[x](../../y) | <p>x</p>",
                "[x](chip.md#time) | <p>x</p>",
                "[x](https://example.org/a?b=c) | <p><a href=\"https://example.org/a?b=c\" rel=\"noopener noreferrer\">x</a></p>",
                "[x](<https://example.org/\" onclick=\"y>) | <p>x</p>",
                "`<i>` | <p><code>&lt;i&gt;</code></p>",
                "a & 'b' | <p>a &amp; &#39;b&#39;</p>"
            })
    void html_ofHostileText_isText(String text, String html) {
        assertThat(html(text)).isEqualTo(html);
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "a\u001b[2Jb",
                "a&#27;[2Jb",
                "a\u202eb",
                "a&#x202e;b",
                "a\u0007b",
                "`a\u009bb`",
                "a\ue123b",
                "```a&#27;\nb\u001b\n```"
            })
    void text_withControlCharacters_isHarmless(String text) {
        String shown = prose(text).plain() + html(text);
        assertThat(shown.codePoints().allMatch(c -> c == '\n' || octurn.design.Design.isPrintable(c)))
                .isTrue();
        assertThat(shown).contains("\ufffd");
    }

    @ParameterizedTest
    @ValueSource(strings = {">", "- ", "*a ", "**a ", "[", "![", "`", "<", "&#", "(", "1. ", "\\", "# ", "[a](", "_a*"})
    void text_ofOneThingOverAndOver_isReadInReasonableTime(String piece) {
        String text = piece.repeat(60_000 / piece.length());
        assertThat(prose(text).blocks()).isNotEmpty();
        assertThat(html(text)).isNotEmpty();
    }

    static LongStream seeds() {
        return LongStream.range(0, 300);
    }

    /** Whatever the text: no markup of its own, and no control characters. */
    @ParameterizedTest
    @MethodSource("seeds")
    void html_ofRandomText_hasOnlyOurTags(long seed) {
        Random random = new Random(seed);
        String letters = "ab <>&\"'`*_[]()!#>-+1.\n\\&#27;\u001b\u202ehttps://";
        String text = IntStream.range(0, 200)
                .mapToObj(i -> String.valueOf(letters.charAt(random.nextInt(letters.length()))))
                .reduce("", String::concat);
        String html = html(text);
        String rest = html.replaceAll(
                "</?(p|h[1-6]|ul|ol|li|blockquote|pre|code|em|strong|hr|br|a)( start=\"\\d+\"| href=\"https?://[!#-;=?-~]*\" rel=\"noopener noreferrer\")?>",
                "");
        assertThat(rest).doesNotContain("<", ">");
        assertThat(html.codePoints().allMatch(c -> c == '\n' || octurn.design.Design.isPrintable(c)))
                .isTrue();
    }

    @Test
    void text_tooLong_isRefused() {
        List<Diagnostic> problems = new ArrayList<>();
        assertThat(parse("x".repeat(Template.LONGEST + 1), problems)).isNull();
        assertThat(problems.get(0).message()).isEqualTo("a text of 65537 characters");
    }
}
