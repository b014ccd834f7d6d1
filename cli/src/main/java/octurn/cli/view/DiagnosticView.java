package octurn.cli.view;

import java.util.ArrayList;
import java.util.List;
import octurn.diag.Diagnostic;
import octurn.diag.Span;

/**
 * Diagnostics as people read them:
 *
 * <pre>
 * count.turn:9:9: error: there is no instruction "fecth"
 *         fecth r3, [count]
 *         ^^^^^
 *   hint: did you mean "fetch"?
 * </pre>
 */
public final class DiagnosticView {

    private DiagnosticView() {}

    /** The lines for one diagnostic; the line of the file is cut around the place if it is wider than this. */
    public static List<Line> lines(Diagnostic diagnostic, Glyphs glyphs, int columns) {
        List<Line> lines = new ArrayList<>();
        Span span = diagnostic.span();
        boolean error = diagnostic.isError();
        lines.add(Line.of(Ink.STRONG, glyphs.visible(place(span)) + ": ")
                .and(error ? Ink.ALARM : Ink.PINK, error ? "error:" : "warning:")
                .and(" " + glyphs.visible(diagnostic.message())));
        String source = diagnostic.sourceLine();
        if (source != null && span.column() > 0) {
            lines.addAll(excerpt(source, span, error, glyphs, columns));
        }
        String hint = diagnostic.hint();
        if (hint != null) {
            lines.add(Line.of(Ink.WEAK, "  hint:").and(" " + glyphs.visible(hint)));
        }
        return lines;
    }

    private static String place(Span span) {
        if (span.line() == 0) {
            return span.file();
        }
        return span.column() == 0
                ? "%s:%d".formatted(span.file(), span.line())
                : "%s:%d:%d".formatted(span.file(), span.line(), span.column());
    }

    /** The line, and below it the carets under the characters at fault. */
    private static List<Line> excerpt(String source, Span span, boolean error, Glyphs glyphs, int columns) {
        int characters = source.codePointCount(0, source.length());
        int start = Math.min(span.column() - 1, characters);
        int end = Math.min(start + Math.max(1, span.length()), characters);
        int startAt = source.offsetByCodePoints(0, start);
        int endAt = source.offsetByCodePoints(startAt, end - start);
        // A line can be a million characters long; what is far away is not even looked at.
        int from = source.offsetByCodePoints(startAt, -Math.min(start, columns));
        int to = source.offsetByCodePoints(endAt, Math.min(characters - end, columns));
        String before = glyphs.visible(source.substring(from, startAt));
        String fault = glyphs.visible(source.substring(startAt, endAt), from == 0 ? Glyphs.width(before) : 0);
        int faultAt = Glyphs.width(before);
        String after = glyphs.visible(source.substring(endAt, to), from == 0 ? faultAt + Glyphs.width(fault) : 0);
        int caretWidth = Math.max(1, Glyphs.width(fault));
        String text = before + fault + after;

        boolean cutLeft = from > 0;
        if (faultAt + Math.min(caretWidth, columns / 2) > columns - 1 || cutLeft) {
            int drop = Math.max(0, faultAt - columns / 2);
            String dropped = Glyphs.head(text, drop);
            String ellipsis = glyphs.sign("\u2026", "..");
            text = ellipsis + text.substring(dropped.length());
            faultAt = faultAt - Glyphs.width(dropped) + ellipsis.length();
        }
        text = glyphs.cut(text, columns);
        int carets = Math.max(1, Math.min(caretWidth, columns - faultAt));
        return List.of(
                Line.of(text), Line.of(" ".repeat(faultAt)).and(error ? Ink.ALARM : Ink.PINK, "^".repeat(carets)));
    }
}
