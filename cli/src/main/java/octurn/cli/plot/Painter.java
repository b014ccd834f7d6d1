package octurn.cli.plot;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Dimension;
import java.awt.Font;
import java.awt.FontMetrics;
import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.font.FontRenderContext;
import java.awt.image.BufferedImage;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.function.ToIntFunction;
import javax.imageio.ImageIO;
import javax.xml.parsers.DocumentBuilderFactory;
import javax.xml.parsers.ParserConfigurationException;
import javax.xml.transform.OutputKeys;
import javax.xml.transform.Transformer;
import javax.xml.transform.TransformerException;
import javax.xml.transform.TransformerFactory;
import javax.xml.transform.dom.DOMSource;
import javax.xml.transform.stream.StreamResult;
import octurn.cli.view.Glyphs;
import org.apache.batik.svggen.SVGGeneratorContext;
import org.apache.batik.svggen.SVGGeneratorContext.GraphicContextDefaults;
import org.apache.batik.svggen.SVGGraphics2D;
import org.w3c.dom.Document;
import org.w3c.dom.Element;

/**
 * Draws pictures, the same to the byte for the same picture. Each has its title above and its caption below. Text is
 * drawn as text, so in SVG it can be read, searched and translated.
 */
public final class Painter {

    static {
        // No picture needs a screen.
        System.setProperty("java.awt.headless", "true");
    }

    /** What kind of file. */
    public enum Format {
        SVG,
        PNG
    }

    /**
     * Okabe and Ito's palette for colour-blind readers (Color Universal Design, 2008), those that show on white, dark and
     * light ones taking turns.
     */
    static final List<Color> COLOURS = List.of(
            new Color(0x0072B2),
            new Color(0xE69F00),
            new Color(0x009E73),
            new Color(0xCC79A7),
            new Color(0x000000),
            new Color(0x56B4E9),
            new Color(0xD55E00));

    static final Color INK = Color.BLACK;
    static final Color FAINT = new Color(0xD9D9D9);

    private static final String SVG_NAMESPACE = "http://www.w3.org/2000/svg";
    static final int WIDTH = 800;
    static final int MARGIN = 16;
    private static final int PNG_SCALE = 2;

    private static final Font TITLE = new Font(Font.SANS_SERIF, Font.BOLD, 16);
    private static final Font CAPTION = new Font(Font.SANS_SERIF, Font.PLAIN, 11);
    static final Font TEXT = new Font(Font.SANS_SERIF, Font.PLAIN, 12);

    private static final FontRenderContext CONTEXT = new FontRenderContext(null, true, true);
    private static final Glyphs GLYPHS = new Glyphs(StandardCharsets.UTF_8);

    private Painter() {}

    /** The body of a picture, between title and caption. */
    interface Body {
        int height();

        void paint(Graphics2D g, int width);
    }

    /**
     * Draws a picture.
     *
     * @throws IOException if the stream does, or if there are no fonts to draw with
     */
    public static void paint(Picture picture, Format format, OutputStream out) throws IOException {
        requireFonts();
        Body body = body(picture);
        List<String> title = wrapped(picture.title(), TITLE);
        List<String> caption = wrapped(picture.caption(), CAPTION);
        int titleHeight = MARGIN + 22 * title.size();
        int height = titleHeight + body.height() + 8 + 15 * caption.size() + MARGIN;
        if (format == Format.SVG) {
            svg(picture, body, title, caption, titleHeight, height, out);
        } else {
            png(body, title, caption, titleHeight, height, out);
        }
    }

    private static Body body(Picture picture) {
        if (picture instanceof Picture.Bars bars) {
            return new BarsBody(bars);
        }
        if (picture instanceof Picture.Curves curves) {
            return new CurvesBody(curves);
        }
        return new ColumnsBody((Picture.Columns) picture);
    }

    /**
     * A Java without a font can load these classes and then fails in the midst of drawing.
     *
     * @throws IOException if there are no fonts to draw with
     */
    public static void requireFonts() throws IOException {
        try {
            TEXT.getStringBounds("x", CONTEXT);
        } catch (LinkageError | RuntimeException | InternalError e) {
            throw new IOException(
                    "cannot be drawn: this Java finds no fonts (on Debian: apt install fontconfig fonts-dejavu-core)",
                    e);
        }
    }

    /** Text as it may be drawn: no control character gets through. */
    static String visible(String text) {
        return GLYPHS.visible(text);
    }

    /** How wide a text is in the plain font. */
    static double width(String text) {
        return TEXT.getStringBounds(text, CONTEXT).getWidth();
    }

    /** Lets something be measured that needs a place to draw on. */
    static int measuring(ToIntFunction<Graphics2D> measure) {
        Graphics2D g = new BufferedImage(1, 1, BufferedImage.TYPE_INT_RGB).createGraphics();
        g.setFont(TEXT);
        int result = measure.applyAsInt(g);
        g.dispose();
        return result;
    }

    private static List<String> wrapped(String text, Font font) {
        int room = WIDTH - 2 * MARGIN;
        List<String> lines = new ArrayList<>();
        for (String paragraph : text.split("\n", -1)) {
            StringBuilder line = new StringBuilder();
            for (String word : visible(paragraph).split(" ", -1)) {
                String longer = line.isEmpty() ? word : line + " " + word;
                if (!line.isEmpty() && font.getStringBounds(longer, CONTEXT).getWidth() > room) {
                    lines.add(line.toString());
                    line.setLength(0);
                    line.append(word);
                } else {
                    line.setLength(0);
                    line.append(longer);
                }
            }
            lines.add(line.toString());
        }
        return lines;
    }

    private static void paint(
            Graphics2D g, Body body, List<String> title, List<String> caption, int titleHeight, int height) {
        g.setColor(Color.WHITE);
        g.fillRect(0, 0, WIDTH, height);
        g.setColor(INK);
        g.setFont(TITLE);
        for (int i = 0; i < title.size(); i++) {
            g.drawString(title.get(i), MARGIN, MARGIN + 14 + 22 * i);
        }
        g.translate(0, titleHeight);
        body.paint(g, WIDTH);
        g.translate(0, -titleHeight);
        g.setColor(INK);
        g.setFont(CAPTION);
        int top = titleHeight + body.height() + 8;
        for (int i = 0; i < caption.size(); i++) {
            g.drawString(caption.get(i), MARGIN, top + 12 + 15 * i);
        }
    }

    private static void png(
            Body body, List<String> title, List<String> caption, int titleHeight, int height, OutputStream out)
            throws IOException {
        BufferedImage image = new BufferedImage(PNG_SCALE * WIDTH, PNG_SCALE * height, BufferedImage.TYPE_INT_RGB);
        Graphics2D g = image.createGraphics();
        g.setRenderingHint(RenderingHints.KEY_ANTIALIASING, RenderingHints.VALUE_ANTIALIAS_ON);
        g.setRenderingHint(RenderingHints.KEY_TEXT_ANTIALIASING, RenderingHints.VALUE_TEXT_ANTIALIAS_ON);
        g.scale(PNG_SCALE, PNG_SCALE);
        paint(g, body, title, caption, titleHeight, height);
        g.dispose();
        ImageIO.setUseCache(false);
        ImageIO.write(image, "png", out);
    }

    private static void svg(
            Picture picture,
            Body body,
            List<String> title,
            List<String> caption,
            int titleHeight,
            int height,
            OutputStream out)
            throws IOException {
        SVGGeneratorContext context = SVGGeneratorContext.createDefault(document());
        context.setComment(null);
        context.setPrecision(2);
        GraphicContextDefaults defaults = new GraphicContextDefaults();
        defaults.setFont(TEXT);
        context.setGraphicContextDefaults(defaults);
        SVGGraphics2D g = new SVGGraphics2D(context, false);
        g.setSVGCanvasSize(new Dimension(WIDTH, height));
        paint(g, body, title, caption, titleHeight, height);
        Element root = g.getRoot();
        root.setAttribute("viewBox", "0 0 %d %d".formatted(WIDTH, height));
        root.setAttribute("role", "img");
        root.setAttribute("aria-labelledby", "title description");
        describe(root, "desc", "description", picture.caption() + "\n" + picture.words());
        describe(root, "title", "title", picture.title());
        write(root, out);
    }

    /** Without a document type, whose address some readers would look up. */
    private static void write(Element root, OutputStream out) throws IOException {
        try {
            Transformer transformer = TransformerFactory.newInstance().newTransformer();
            transformer.setOutputProperty(OutputKeys.ENCODING, "UTF-8");
            transformer.setOutputProperty(OutputKeys.STANDALONE, "yes");
            transformer.transform(new DOMSource(root), new StreamResult(out));
            out.write('\n');
        } catch (TransformerException e) {
            throw new IOException("cannot be written as SVG", e);
        }
    }

    private static void describe(Element root, String tag, String id, String text) {
        Element element = root.getOwnerDocument().createElementNS(SVG_NAMESPACE, tag);
        element.setAttribute("id", id);
        StringBuilder safe = new StringBuilder();
        for (String line : text.split("\n", -1)) {
            safe.append(safe.isEmpty() ? "" : " ").append(visible(line));
        }
        element.setTextContent(safe.toString());
        root.insertBefore(element, root.getFirstChild());
    }

    private static Document document() {
        try {
            return DocumentBuilderFactory.newInstance()
                    .newDocumentBuilder()
                    .getDOMImplementation()
                    .createDocument(SVG_NAMESPACE, "svg", null);
        } catch (ParserConfigurationException e) {
            throw new IllegalStateException(e);
        }
    }

    // ---- bars

    /** Bars cut into hatched parts. */
    private static final class BarsBody implements Body {

        private static final int ROW = 26;
        private static final int BAR = 18;
        private static final int LEGEND = 34;
        private static final int WIDEST_LABEL = 240;
        private static final int TICKS = 40;

        private final Picture.Bars bars;
        /** Room for the names, left of the bars. */
        private final int labels;

        BarsBody(Picture.Bars bars) {
            this.bars = bars;
            double widest = 0;
            for (Picture.Bar bar : bars.bars()) {
                widest = Math.max(widest, Painter.width(name(bar)));
            }
            this.labels = (int) Math.ceil(widest) + 8;
        }

        /** The name, cut where it would leave no room for the bars. */
        private static String name(Picture.Bar bar) {
            String name = visible(bar.name());
            int length = name.length();
            while (length > 1 && Painter.width(name.substring(0, length)) > WIDEST_LABEL) {
                length = name.offsetByCodePoints(length, -1);
            }
            return length < name.length() ? name.substring(0, length) + "\u2026" : name;
        }

        @Override
        public int height() {
            return LEGEND + ROW * bars.bars().size() + TICKS;
        }

        @Override
        public void paint(Graphics2D g, int width) {
            g.setFont(TEXT);
            legend(g);
            long most = 1;
            for (Picture.Bar bar : bars.bars()) {
                most = Math.max(
                        most, bar.lengths().stream().mapToLong(Long::longValue).sum());
            }
            int room = width - labels - 2 * MARGIN;
            ticks(g, most, room);
            for (int i = 0; i < bars.bars().size(); i++) {
                bar(g, bars.bars().get(i), LEGEND + ROW * i, most, room);
            }
        }

        private void legend(Graphics2D g) {
            int x = MARGIN;
            FontMetrics metrics = g.getFontMetrics();
            for (Picture.Part part : bars.parts()) {
                Hatching.fill(g, part.fill(), x, 6, 22, 14);
                g.setColor(INK);
                g.drawString(part.name(), x + 27, 18);
                x += 27 + metrics.stringWidth(part.name()) + 18;
            }
        }

        private void ticks(Graphics2D g, long most, int room) {
            int bottom = LEGEND + ROW * bars.bars().size();
            FontMetrics metrics = g.getFontMetrics();
            long step = step(most);
            for (long tick = 0; tick <= most; tick += step) {
                int x = labels + MARGIN + (int) Math.round((double) tick / most * room);
                g.setColor(FAINT);
                g.drawLine(x, LEGEND - 4, x, bottom);
                String text = "%,d".formatted(tick);
                g.setColor(INK);
                g.drawString(
                        text,
                        Math.min(x - metrics.stringWidth(text) / 2, WIDTH - MARGIN - metrics.stringWidth(text)),
                        bottom + 15);
            }
            String unit = bars.unit();
            g.drawString(unit, labels + MARGIN + room / 2 - metrics.stringWidth(unit) / 2, bottom + 33);
        }

        /** 1, 2 or 5 times a power of ten, so that there are at most seven ticks. */
        private static long step(long most) {
            long power = 1;
            while (true) {
                for (long factor : new long[] {1, 2, 5}) {
                    if (most / (factor * power) <= 7) {
                        return factor * power;
                    }
                }
                power *= 10;
            }
        }

        private void bar(Graphics2D g, Picture.Bar bar, int y, long most, int room) {
            FontMetrics metrics = g.getFontMetrics();
            String name = name(bar);
            g.setColor(INK);
            g.drawString(name, labels + MARGIN - 8 - metrics.stringWidth(name), y + 14);
            long before = 0;
            for (int i = 0; i < bars.parts().size(); i++) {
                long length = bar.lengths().get(i);
                if (length > 0) {
                    int from = (int) Math.round((double) before / most * room);
                    int to = (int) Math.round((double) (before + length) / most * room);
                    Hatching.fill(
                            g, bars.parts().get(i).fill(), labels + MARGIN + from, y, Math.max(1, to - from), BAR);
                    before += length;
                }
            }
        }
    }

    /** Solid lines, one pixel. */
    static final BasicStroke THIN = new BasicStroke(1);
}
