package octurn.lessons.text;

import java.util.ArrayList;
import java.util.List;
import java.util.function.UnaryOperator;
import org.commonmark.node.BlockQuote;
import org.commonmark.node.BulletList;
import org.commonmark.node.Code;
import org.commonmark.node.Emphasis;
import org.commonmark.node.FencedCodeBlock;
import org.commonmark.node.HardLineBreak;
import org.commonmark.node.Heading;
import org.commonmark.node.HtmlBlock;
import org.commonmark.node.HtmlInline;
import org.commonmark.node.Image;
import org.commonmark.node.IndentedCodeBlock;
import org.commonmark.node.Link;
import org.commonmark.node.ListItem;
import org.commonmark.node.Node;
import org.commonmark.node.OrderedList;
import org.commonmark.node.Paragraph;
import org.commonmark.node.SoftLineBreak;
import org.commonmark.node.StrongEmphasis;
import org.commonmark.node.Text;
import org.commonmark.node.ThematicBreak;
import org.commonmark.parser.Parser;
import org.jspecify.annotations.Nullable;

/** CommonMark to {@link Prose}. Of images the words are shown, of raw HTML the text, and of other links the words. */
final class Markdown {

    /** More than anybody writes, and few enough for recursion; what lies deeper is shown as plain words. */
    private static final int DEEPEST = 12;

    private static final Parser PARSER =
            Parser.builder().maxOpenBlockParsers(DEEPEST).build();

    private final UnaryOperator<String> put;

    private Markdown(UnaryOperator<String> put) {
        this.put = put;
    }

    /** Reads a text; {@code put} is given each piece of text, to put values into it. */
    static Prose read(String text, UnaryOperator<String> put) {
        return new Prose(new Markdown(put).blocks(PARSER.parse(text), 0));
    }

    /** Where the links of a text lead, the forbidden ones included. */
    static List<String> targets(String text) {
        Node root = PARSER.parse(text);
        List<String> targets = new ArrayList<>();
        for (Node node = root; node != null; node = next(node, root)) {
            if (node instanceof Link link) {
                targets.add(link.getDestination());
            }
        }
        return targets;
    }

    private static List<Node> children(Node parent) {
        List<Node> children = new ArrayList<>();
        for (Node child = parent.getFirstChild(); child != null; child = child.getNext()) {
            children.add(child);
        }
        return children;
    }

    private List<Prose.Block> blocks(Node parent, int depth) {
        List<Prose.Block> blocks = new ArrayList<>();
        for (Node node : children(parent)) {
            block(node, depth + 1, blocks);
        }
        return blocks;
    }

    private void block(Node node, int depth, List<Prose.Block> blocks) {
        if (node instanceof Heading heading) {
            blocks.add(new Prose.Heading(heading.getLevel(), inlines(node, depth)));
        } else if (node instanceof Paragraph) {
            blocks.add(new Prose.Paragraph(inlines(node, depth)));
        } else if (node instanceof BulletList) {
            blocks.add(new Prose.Items(-1, items(node, depth)));
        } else if (node instanceof OrderedList list) {
            Integer first = list.getMarkerStartNumber();
            blocks.add(new Prose.Items(first == null ? 1 : first, items(node, depth)));
        } else if (node instanceof FencedCodeBlock code) {
            blocks.add(new Prose.CodeBlock(put(code.getInfo()), lines(code.getLiteral())));
        } else if (node instanceof IndentedCodeBlock code) {
            blocks.add(new Prose.CodeBlock("", lines(code.getLiteral())));
        } else if (node instanceof HtmlBlock html) {
            blocks.add(new Prose.Paragraph(
                    List.of(new Prose.Text(put(html.getLiteral()).replace('\n', ' ')))));
        } else if (node instanceof BlockQuote) {
            blocks.add(new Prose.Quote(blocks(node, depth)));
        } else if (node instanceof ThematicBreak) {
            blocks.add(new Prose.Rule());
        }
    }

    private List<List<Prose.Block>> items(Node list, int depth) {
        List<List<Prose.Block>> items = new ArrayList<>();
        for (Node item : children(list)) {
            if (item instanceof ListItem) {
                items.add(blocks(item, depth));
            }
        }
        return items;
    }

    private List<String> lines(String literal) {
        String text = put(literal);
        return List.of((text.endsWith("\n") ? text.substring(0, text.length() - 1) : text).split("\n", -1));
    }

    private List<Prose.Inline> inlines(Node parent, int depth) {
        List<Prose.Inline> inlines = new ArrayList<>();
        for (Node node : children(parent)) {
            inline(node, depth + 1, inlines);
        }
        return inlines;
    }

    private void inline(Node node, int depth, List<Prose.Inline> inlines) {
        if (node instanceof Text text) {
            if (!text.getLiteral().isEmpty()) {
                inlines.add(new Prose.Text(put(text.getLiteral())));
            }
        } else if (node instanceof Code code) {
            inlines.add(new Prose.Code(put(code.getLiteral())));
        } else if (node instanceof HtmlInline html) {
            inlines.add(new Prose.Text(put(html.getLiteral())));
        } else if (node instanceof SoftLineBreak) {
            inlines.add(new Prose.Text(" "));
        } else if (node instanceof HardLineBreak) {
            inlines.add(new Prose.Break());
        } else if (depth > DEEPEST) {
            inlines.add(new Prose.Text(put(words(node))));
        } else if (node instanceof Emphasis) {
            inlines.add(new Prose.Emphasis(inlines(node, depth)));
        } else if (node instanceof StrongEmphasis) {
            inlines.add(new Prose.Strong(inlines(node, depth)));
        } else if (node instanceof Link link && Links.isAllowed(link.getDestination())) {
            inlines.add(new Prose.Link(link.getDestination(), inlines(node, depth)));
        } else if (node instanceof Link || node instanceof Image) {
            inlines.addAll(inlines(node, depth));
        }
    }

    /** All words below a node, without recursion. */
    private static String words(Node root) {
        StringBuilder words = new StringBuilder();
        Node node = root;
        while (node != null) {
            if (node instanceof Text text) {
                words.append(text.getLiteral());
            } else if (node instanceof Code code) {
                words.append(code.getLiteral());
            } else if (node instanceof HtmlInline html) {
                words.append(html.getLiteral());
            } else if (node instanceof SoftLineBreak || node instanceof HardLineBreak) {
                words.append(' ');
            }
            node = next(node, root);
        }
        return words.toString();
    }

    /** The node that comes after this one in the text, or null at the end of the root. */
    private static @Nullable Node next(Node node, Node root) {
        if (node.getFirstChild() != null) {
            return node.getFirstChild();
        }
        Node up = node;
        while (up != root && up.getNext() == null) {
            up = up.getParent();
        }
        return up == root ? null : up.getNext();
    }

    private String put(@Nullable String text) {
        return text == null ? "" : put.apply(text);
    }
}
