package octurn.cli.view;

import java.util.ArrayList;
import java.util.List;
import octurn.cli.view.Line.Piece;
import octurn.lessons.text.Prose;
import octurn.lessons.text.Prose.Block;
import octurn.lessons.text.Prose.Inline;

/** The text of a lesson in lines, or in paragraphs to be read out. */
public final class ProseView {

    private static final int CODE_INDENT = 2;

    private final Glyphs glyphs;
    private final List<Line> lines = new ArrayList<>();

    private ProseView(Glyphs glyphs) {
        this.glyphs = glyphs;
    }

    /** The text in lines of at most so many columns; lines of code that are longer are cut. */
    public static List<Line> lines(Prose prose, Glyphs glyphs, int columns) {
        ProseView view = new ProseView(glyphs);
        view.blocks(prose.blocks(), columns, Line.EMPTY, Line.EMPTY);
        return view.lines;
    }

    /** The text as paragraphs, each in one line however long; lines of code are lines of their own. */
    public static List<String> paragraphs(Prose prose) {
        List<String> paragraphs = new ArrayList<>();
        paragraphs(prose.blocks(), "", paragraphs);
        return paragraphs;
    }

    // ---- paragraphs ----

    private static void paragraphs(List<Block> blocks, String indent, List<String> paragraphs) {
        for (Block block : blocks) {
            if (block instanceof Prose.Heading heading) {
                paragraphs.add(indent + spoken(heading.inlines()));
            } else if (block instanceof Prose.Paragraph paragraph) {
                paragraphs.add(indent + spoken(paragraph.inlines()));
            } else if (block instanceof Prose.Items items) {
                int number = items.first();
                for (List<Block> item : items.items()) {
                    List<String> inner = new ArrayList<>();
                    paragraphs(item, "", inner);
                    String mark = number < 0 ? "- " : number++ + ". ";
                    for (int i = 0; i < inner.size(); i++) {
                        paragraphs.add(indent + (i == 0 ? mark : "  ") + inner.get(i));
                    }
                }
            } else if (block instanceof Prose.CodeBlock code) {
                code.lines().forEach(line -> paragraphs.add(indent + "  " + line));
            } else if (block instanceof Prose.Quote quote) {
                paragraphs(quote.blocks(), indent + "  ", paragraphs);
            }
        }
    }

    private static String spoken(List<Inline> inlines) {
        StringBuilder text = new StringBuilder();
        for (Inline inline : inlines) {
            if (inline instanceof Prose.Link link) {
                text.append(linkText(link));
            } else {
                text.append(Prose.plain(List.of(inline)));
            }
        }
        return text.toString();
    }

    /** A link's words, and where it leads if they do not say so themselves. */
    private static String linkText(Prose.Link link) {
        String words = Prose.plain(link.inlines());
        return words.equals(link.target()) ? words : "%s (%s)".formatted(words, link.target());
    }

    // ---- lines ----

    /** @param first what stands before the first line; before all others stands {@code rest}, which is as wide */
    private void blocks(List<Block> blocks, int columns, Line first, Line rest) {
        Line before = first;
        boolean isFirst = true;
        for (Block block : blocks) {
            if (!isFirst) {
                lines.add(rest);
            }
            isFirst = false;
            block(block, columns, before, rest);
            before = rest;
        }
    }

    private void block(Block block, int columns, Line first, Line rest) {
        if (block instanceof Prose.Heading heading) {
            wrap(pieces(heading.inlines(), Ink.STRONG), columns, first, rest);
        } else if (block instanceof Prose.Paragraph paragraph) {
            wrap(pieces(paragraph.inlines(), Ink.PLAIN), columns, first, rest);
        } else if (block instanceof Prose.Items items) {
            items(items, columns, first, rest);
        } else if (block instanceof Prose.CodeBlock code) {
            Line before = first;
            for (String line : code.lines()) {
                String text = glyphs.cut(glyphs.visible(line), Math.max(1, columns - width(rest) - CODE_INDENT));
                lines.add(before.and(" ".repeat(CODE_INDENT)).and(Ink.STRONG, text));
                before = rest;
            }
        } else if (block instanceof Prose.Quote quote) {
            String bar = glyphs.sign("\u258f ", "| ");
            blocks(quote.blocks(), columns, first.and(Ink.WEAK, bar), rest.and(Ink.WEAK, bar));
        } else {
            int room = Math.max(1, columns - width(rest));
            lines.add(first.and(Ink.WEAK, glyphs.sign("\u254c", "-").repeat(room)));
        }
    }

    private void items(Prose.Items items, int columns, Line first, Line rest) {
        Line before = first;
        int number = items.first();
        int marks =
                number < 0 ? 2 : Integer.toString(number + items.items().size()).length() + 2;
        for (List<Block> item : items.items()) {
            String mark = number < 0 ? glyphs.sign("\u2022 ", "- ") : number++ + ". ";
            blocks(
                    item,
                    columns,
                    before.and(" ".repeat(marks - Glyphs.width(mark)) + mark),
                    rest.and(" ".repeat(marks)));
            before = rest;
        }
    }

    /** The words with their inks. */
    private static List<Piece> pieces(List<Inline> inlines, Ink ink) {
        List<Piece> pieces = new ArrayList<>();
        for (Inline inline : inlines) {
            if (inline instanceof Prose.Text text) {
                pieces.add(new Piece(ink, text.text()));
            } else if (inline instanceof Prose.Code code) {
                pieces.add(new Piece(Ink.STRONG, code.text()));
            } else if (inline instanceof Prose.Emphasis emphasis) {
                pieces.addAll(pieces(emphasis.inlines(), ink == Ink.PLAIN ? Ink.UNDERLINED : ink));
            } else if (inline instanceof Prose.Strong strong) {
                pieces.addAll(pieces(strong.inlines(), Ink.STRONG));
            } else if (inline instanceof Prose.Link link) {
                pieces.add(new Piece(ink, linkText(link)));
            } else {
                pieces.add(new Piece(ink, "\n"));
            }
        }
        return pieces;
    }

    /** A part of a line without a blank in it, or the end of a line. */
    private record Word(List<Piece> pieces, int width) {}

    private static final Word END = new Word(List.of(), -1);

    private void wrap(List<Piece> pieces, int columns, Line first, Line rest) {
        int room = Math.max(1, columns - width(rest));
        Line line = first;
        int used = 0;
        Ink blank = Ink.PLAIN;
        for (Word word : words(pieces)) {
            boolean end = word.width() < 0;
            if (end || (used > 0 && used + 1 + word.width() > room)) {
                lines.add(line);
                line = rest;
                used = 0;
            }
            if (end) {
                continue;
            }
            if (used > 0) {
                // The blank between two words of one ink has it too, so that underlining is not interrupted.
                Ink next = word.pieces().get(0).ink();
                line = line.and(blank == next ? next : Ink.PLAIN, " ");
                used++;
            }
            for (Piece piece : word.pieces()) {
                String text = piece.text();
                while (used + Glyphs.width(text) > room) {
                    String head = Glyphs.head(text, room - used);
                    if (head.isEmpty() && used == 0) {
                        // Not even one character fits: better too wide than never ending.
                        head = Character.toString(text.codePointAt(0));
                    }
                    lines.add(line.and(piece.ink(), head));
                    text = text.substring(head.length());
                    line = rest;
                    used = 0;
                }
                line = line.and(piece.ink(), text);
                used += Glyphs.width(text);
            }
            blank = word.pieces().get(word.pieces().size() - 1).ink();
        }
        lines.add(line);
    }

    private List<Word> words(List<Piece> pieces) {
        List<Word> words = new ArrayList<>();
        List<Piece> word = new ArrayList<>();
        for (Piece piece : pieces) {
            if (piece.text().equals("\n")) {
                end(words, word);
                words.add(END);
                continue;
            }
            String[] parts = piece.text().split("[ \n](?!%)", -1);
            for (int i = 0; i < parts.length; i++) {
                if (i > 0) {
                    end(words, word);
                }
                if (!parts[i].isEmpty()) {
                    word.add(new Piece(piece.ink(), glyphs.visible(parts[i])));
                }
            }
        }
        end(words, word);
        return words;
    }

    private static void end(List<Word> words, List<Piece> word) {
        if (!word.isEmpty()) {
            int width =
                    word.stream().mapToInt(piece -> Glyphs.width(piece.text())).sum();
            words.add(new Word(List.copyOf(word), width));
            word.clear();
        }
    }

    private static int width(Line line) {
        return line.pieces().stream()
                .mapToInt(piece -> Glyphs.width(piece.text()))
                .sum();
    }
}
