package octurn.lessons.text;

import java.util.List;

/** Writes a {@link Prose} as HTML. All text is escaped; of links only those into the web become links. */
public final class Html {

    private final StringBuilder out = new StringBuilder();

    private Html() {}

    /** The blocks of a text, one after the other. */
    public static String of(Prose prose) {
        Html html = new Html();
        html.blocks(prose.blocks());
        return html.out.toString();
    }

    /** The text with the five characters escaped that mean something in HTML. */
    public static String escaped(String text) {
        StringBuilder escaped = new StringBuilder();
        for (int i = 0; i < text.length(); i++) {
            char c = text.charAt(i);
            switch (c) {
                case '&' -> escaped.append("&amp;");
                case '<' -> escaped.append("&lt;");
                case '>' -> escaped.append("&gt;");
                case '"' -> escaped.append("&quot;");
                case '\'' -> escaped.append("&#39;");
                default -> escaped.append(c);
            }
        }
        return escaped.toString();
    }

    private void blocks(List<Prose.Block> blocks) {
        blocks.forEach(this::block);
    }

    private void block(Prose.Block block) {
        if (block instanceof Prose.Heading heading) {
            element("h" + heading.level(), heading.inlines());
        } else if (block instanceof Prose.Paragraph paragraph) {
            element("p", paragraph.inlines());
        } else if (block instanceof Prose.Items list) {
            items(list);
        } else if (block instanceof Prose.CodeBlock code) {
            out.append("<pre><code>")
                    .append(escaped(String.join("\n", code.lines())))
                    .append("</code></pre>\n");
        } else if (block instanceof Prose.Quote quote) {
            out.append("<blockquote>\n");
            blocks(quote.blocks());
            out.append("</blockquote>\n");
        } else {
            out.append("<hr>\n");
        }
    }

    private void items(Prose.Items list) {
        String name = list.first() < 0 ? "ul" : "ol";
        String start = list.first() < 0 || list.first() == 1 ? "" : " start=\"%d\"".formatted(list.first());
        out.append('<').append(name).append(start).append(">\n");
        for (List<Prose.Block> item : list.items()) {
            out.append("<li>");
            blocks(item);
            out.append("</li>\n");
        }
        out.append("</").append(name).append(">\n");
    }

    private void element(String name, List<Prose.Inline> inlines) {
        out.append('<').append(name).append('>');
        inlines(inlines);
        out.append("</").append(name).append(">\n");
    }

    private void inlines(List<Prose.Inline> inlines) {
        inlines.forEach(this::inline);
    }

    private void inline(Prose.Inline inline) {
        if (inline instanceof Prose.Text text) {
            out.append(escaped(text.text()));
        } else if (inline instanceof Prose.Code code) {
            out.append("<code>").append(escaped(code.text())).append("</code>");
        } else if (inline instanceof Prose.Emphasis emphasis) {
            within("em", emphasis.inlines());
        } else if (inline instanceof Prose.Strong strong) {
            within("strong", strong.inlines());
        } else if (inline instanceof Prose.Link link) {
            link(link);
        } else {
            out.append("<br>\n");
        }
    }

    private void within(String name, List<Prose.Inline> inlines) {
        out.append('<').append(name).append('>');
        inlines(inlines);
        out.append("</").append(name).append('>');
    }

    private void link(Prose.Link link) {
        if (!Links.isWeb(link.target())) {
            inlines(link.inlines());
            return;
        }
        out.append("<a href=\"").append(escaped(link.target())).append("\" rel=\"noopener noreferrer\">");
        inlines(link.inlines());
        out.append("</a>");
    }
}
