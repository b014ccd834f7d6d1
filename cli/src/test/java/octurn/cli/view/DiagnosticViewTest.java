package octurn.cli.view;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.util.List;
import octurn.diag.Diagnostic;
import octurn.diag.Span;
import org.junit.jupiter.api.Test;

class DiagnosticViewTest {

    private static final Glyphs UNICODE = new Glyphs(StandardCharsets.UTF_8);
    private static final Glyphs ASCII = new Glyphs(StandardCharsets.US_ASCII);

    private static List<String> lines(Diagnostic diagnostic, Glyphs glyphs) {
        return DiagnosticView.lines(diagnostic, glyphs, 80).stream()
                .map(Line::plain)
                .toList();
    }

    private static Diagnostic at(int column, int length, String sourceLine) {
        return Diagnostic.error(new Span("a.turn", 7, column, length), "no", null, sourceLine);
    }

    @Test
    void error_withHint_hasPlaceCaretAndHint() {
        Diagnostic diagnostic = Diagnostic.error(
                new Span("a.turn", 7, 9, 5),
                "unknown instruction \"fecth\"",
                "did you mean fetch?",
                "        fecth r1");
        assertThat(lines(diagnostic, UNICODE))
                .containsExactly(
                        "a.turn:7:9: error: unknown instruction \"fecth\"",
                        "        fecth r1",
                        "        ^^^^^",
                        "  hint: did you mean fetch?");
    }

    @Test
    void warning_isCalledOne() {
        Diagnostic diagnostic = Diagnostic.warning(new Span("a.turn", 7, 1, 1), "odd", null, "x");
        assertThat(lines(diagnostic, UNICODE)).containsExactly("a.turn:7:1: warning: odd", "x", "^");
    }

    @Test
    void wholeLineOrFile_hasNoExcerpt() {
        assertThat(lines(Diagnostic.error(new Span("a.turn", 7, 0, 0), "odd", null, null), UNICODE))
                .containsExactly("a.turn:7: error: odd");
        assertThat(lines(Diagnostic.error(Span.file("a.turn"), "empty", null, null), UNICODE))
                .containsExactly("a.turn: error: empty");
    }

    @Test
    void caret_afterTabs_standsUnderTheText() {
        assertThat(lines(at(6, 2, "\tset\tr1"), UNICODE)).endsWith("        set     r1", "                ^^");
    }

    @Test
    void caret_underATab_isAsWideAsTheTab() {
        assertThat(lines(at(2, 1, "a\tb"), UNICODE)).endsWith("a       b", " ^^^^^^^");
    }

    @Test
    void caret_wideCharacters_countTwo() {
        assertThat(lines(at(3, 1, "\u6c34\u6c34\u6c34!"), UNICODE)).endsWith("\u6c34\u6c34\u6c34!", "    ^^");
    }

    @Test
    void caret_escapes_countAsShown() {
        assertThat(lines(at(3, 1, "\u001b[\u202e!"), UNICODE)).endsWith("\\u001b[\\u202e!", "       ^^^^^^");
    }

    @Test
    void caret_onAsciiTerminal_countsTheEscapes() {
        assertThat(lines(at(2, 1, "\u00e4x"), ASCII)).endsWith("\\u00e4x", "      ^");
    }

    @Test
    void caret_behindTheLine_standsAtItsEnd() {
        assertThat(lines(at(4, 1, "abc"), UNICODE)).endsWith("abc", "   ^");
        assertThat(lines(at(9, 4, "abc"), UNICODE)).endsWith("abc", "   ^");
    }

    @Test
    void longLine_isCutAroundTheCaret() {
        String line = "x".repeat(200) + "fault" + "y".repeat(200);
        List<String> lines = lines(at(201, 5, line), UNICODE);
        assertThat(lines.get(1))
                .hasSizeLessThanOrEqualTo(80)
                .startsWith("\u2026x")
                .contains("xfaulty")
                .endsWith("y\u2026");
        assertThat(lines.get(2)).isEqualTo(" ".repeat(lines.get(1).indexOf("fault")) + "^^^^^");
        assertThat(lines(at(201, 5, line), ASCII).get(1)).startsWith("..x").endsWith("y..");
    }

    @Test
    void longLine_faultAtItsBeginning_isCutBehind() {
        assertThat(lines(at(1, 300, "z".repeat(300)), UNICODE)).endsWith("z".repeat(79) + "\u2026", "^".repeat(80));
    }

    @Test
    void lineOfAMillion_isShownAroundTheCaret() {
        List<String> lines = lines(at(1_000_000, 1, "\u6c34".repeat(1_000_000)), UNICODE);
        assertThat(Glyphs.width(lines.get(1))).isLessThanOrEqualTo(80);
        assertThat(lines.get(2)).endsWith("^^");
    }

    @Test
    void messageHintAndFile_cannotHarmTheTerminal() {
        Diagnostic diagnostic = Diagnostic.error(new Span("a\u001b.turn", 1, 1, 1), "b\u0007", "c\u202e", "d\u009b");
        assertThat(lines(diagnostic, UNICODE))
                .containsExactly("a\\u001b.turn:1:1: error: b\\u0007", "d\\u009b", "^", "  hint: c\\u202e");
    }
}
