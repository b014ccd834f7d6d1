package octurn.docs;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;
import org.commonmark.node.AbstractVisitor;
import org.commonmark.node.Code;
import org.commonmark.node.FencedCodeBlock;
import org.commonmark.node.Heading;
import org.commonmark.node.Link;
import org.commonmark.node.Node;
import org.commonmark.node.Text;
import org.commonmark.parser.IncludeSourceSpans;
import org.commonmark.parser.Parser;

/**
 * One page of the documentation.
 *
 * @param file where it is
 * @param blocks its fenced blocks, in order
 * @param anchors the places in it that a link can name
 * @param links where its links go
 */
record Page(Path file, List<Block> blocks, List<String> anchors, List<String> links) {

    static final Path FOLDER = Path.of("..", "docs");

    /**
     * A fenced block.
     *
     * @param line of its fence in the file, from 1
     * @param info what stands after the fence
     * @param text what is in it
     */
    record Block(int line, String info, String text) {
        List<String> lines() {
            return text.lines().toList();
        }
    }

    static List<Page> all() throws IOException {
        try (Stream<Path> files = Files.list(FOLDER)) {
            List<Page> pages = new ArrayList<>();
            for (Path file :
                    files.filter(f -> f.toString().endsWith(".md")).sorted().toList()) {
                pages.add(read(file));
            }
            return pages;
        }
    }

    static Page read(Path file) throws IOException {
        Node root = Parser.builder()
                .includeSourceSpans(IncludeSourceSpans.BLOCKS)
                .build()
                .parse(Files.readString(file));
        Page page = new Page(file, new ArrayList<>(), new ArrayList<>(), new ArrayList<>());
        root.accept(new AbstractVisitor() {
            @Override
            public void visit(FencedCodeBlock block) {
                page.blocks.add(new Block(
                        block.getSourceSpans().get(0).getLineIndex() + 1, block.getInfo(), block.getLiteral()));
            }

            @Override
            public void visit(Heading heading) {
                page.anchors.add(anchor(plain(heading)));
                visitChildren(heading);
            }

            @Override
            public void visit(Link link) {
                page.links.add(link.getDestination());
                visitChildren(link);
            }
        });
        return page;
    }

    /** Common practice of pages that show Markdown: small letters and hyphens, all else left out. */
    private static String anchor(String heading) {
        return heading.toLowerCase(Locale.ROOT).replaceAll("[^a-z0-9 _-]", "").replace(' ', '-');
    }

    private static String plain(Node node) {
        StringBuilder text = new StringBuilder();
        node.accept(new AbstractVisitor() {
            @Override
            public void visit(Text part) {
                text.append(part.getLiteral());
            }

            @Override
            public void visit(Code part) {
                text.append(part.getLiteral());
            }
        });
        return text.toString();
    }
}
