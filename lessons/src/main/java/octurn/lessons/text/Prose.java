package octurn.lessons.text;

import java.util.List;
import java.util.stream.Collectors;

/**
 * A text, ready to be drawn.
 *
 * @param blocks from top to bottom
 */
public record Prose(List<Block> blocks) {

    /** A text without anything in it. */
    public static final Prose EMPTY = new Prose(List.of());

    public Prose {
        blocks = List.copyOf(blocks);
    }

    /** One paragraph of plain text. */
    public static Prose of(String text) {
        return new Prose(List.of(new Paragraph(List.of(new Text(text)))));
    }

    /** A part of a text that has lines of its own. */
    public sealed interface Block {}

    /**
     * A heading.
     *
     * @param level 1..6
     */
    public record Heading(int level, List<Inline> inlines) implements Block {}

    /** A paragraph. */
    public record Paragraph(List<Inline> inlines) implements Block {}

    /**
     * A list.
     *
     * @param first the number of the first item; -1 for a list with bullets
     */
    public record Items(int first, List<List<Block>> items) implements Block {}

    /**
     * Lines to be shown as they are.
     *
     * @param language what they are written in, as the author named it; empty if not at all
     */
    public record CodeBlock(String language, List<String> lines) implements Block {}

    /** Somebody else's words. */
    public record Quote(List<Block> blocks) implements Block {}

    /** A line across. */
    public record Rule() implements Block {}

    /** A part of a line. */
    public sealed interface Inline {}

    /** Words. */
    public record Text(String text) implements Inline {}

    /** Something that is to be typed or is printed, as it is. */
    public record Code(String text) implements Inline {}

    /** Words with stress. */
    public record Emphasis(List<Inline> inlines) implements Inline {}

    /** Words with much stress. */
    public record Strong(List<Inline> inlines) implements Inline {}

    /**
     * Words that lead elsewhere.
     *
     * @param target an http or https address, or a page of the documentation, as in {@code chip.md#time}
     */
    public record Link(String target, List<Inline> inlines) implements Inline {}

    /** The end of a line that the author wanted there. */
    public record Break() implements Inline {}

    /** All its words in one line, without any markup. */
    public String plain() {
        return blocks.stream().map(Prose::plain).collect(Collectors.joining(" "));
    }

    private static String plain(Block block) {
        if (block instanceof Heading heading) {
            return plain(heading.inlines());
        } else if (block instanceof Paragraph paragraph) {
            return plain(paragraph.inlines());
        } else if (block instanceof Items items) {
            return items.items().stream().map(item -> new Prose(item).plain()).collect(Collectors.joining(" "));
        } else if (block instanceof CodeBlock code) {
            return String.join(" ", code.lines());
        } else if (block instanceof Quote quote) {
            return new Prose(quote.blocks()).plain();
        } else {
            return "";
        }
    }

    /** The words of these inlines, without any markup. */
    public static String plain(List<Inline> inlines) {
        return inlines.stream().map(Prose::plain).collect(Collectors.joining());
    }

    private static String plain(Inline inline) {
        if (inline instanceof Text text) {
            return text.text();
        } else if (inline instanceof Code code) {
            return code.text();
        } else if (inline instanceof Emphasis emphasis) {
            return plain(emphasis.inlines());
        } else if (inline instanceof Strong strong) {
            return plain(strong.inlines());
        } else if (inline instanceof Link link) {
            return plain(link.inlines());
        } else {
            return " ";
        }
    }
}
