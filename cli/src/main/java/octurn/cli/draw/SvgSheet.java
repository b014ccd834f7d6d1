package octurn.cli.draw;

import java.io.IOException;
import java.io.OutputStream;
import java.io.StringWriter;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.nio.charset.StandardCharsets;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import javax.xml.stream.XMLOutputFactory;
import javax.xml.stream.XMLStreamException;
import javax.xml.stream.XMLStreamWriter;

/** A picture as SVG 1.1: text as text, hatching as patterns, nothing that is fetched or run. */
final class SvgSheet implements Sheet {

    private static final String NAMESPACE = "http://www.w3.org/2000/svg";
    private static final String FONTS = "DejaVu Sans, Verdana, Helvetica, Arial, sans-serif";

    private final StringWriter body = new StringWriter();
    private final XMLStreamWriter xml;
    /** The patterns used so far, with their names. */
    private final Map<Texture, String> patterns = new LinkedHashMap<>();

    private final String id;

    /**
     * @param id makes names within the file differ from those of another one on the same page
     */
    SvgSheet(String id) {
        this.id = id;
        this.xml = writer(body);
    }

    private static XMLStreamWriter writer(StringWriter out) {
        try {
            return XMLOutputFactory.newDefaultFactory().createXMLStreamWriter(out);
        } catch (XMLStreamException e) {
            throw new IllegalStateException(e);
        }
    }

    /** A length with at most two decimals. */
    static String number(double length) {
        BigDecimal rounded = BigDecimal.valueOf(length).setScale(2, RoundingMode.HALF_UP);
        return rounded.signum() == 0 ? "0" : rounded.stripTrailingZeros().toPlainString();
    }

    private static String colour(int rgb) {
        return String.format(Locale.ROOT, "#%06x", rgb);
    }

    // ---- drawing

    @Override
    public void fill(double x, double y, double width, double height, Texture texture) {
        rectangle(
                x, y, width, height, texture.hatch() == Texture.Hatch.PLAIN ? colour(texture.ground()) : url(texture));
    }

    private String url(Texture texture) {
        String name = patterns.computeIfAbsent(texture, key -> "fill" + (patterns.size() + 1) + "-" + id);
        return "url(#" + name + ")";
    }

    @Override
    public void fill(double x, double y, double width, double height, int colour) {
        rectangle(x, y, width, height, colour(colour));
    }

    private void rectangle(double x, double y, double width, double height, String fill) {
        empty(
                xml,
                "rect",
                "x",
                number(x),
                "y",
                number(y),
                "width",
                number(width),
                "height",
                number(height),
                "fill",
                fill);
    }

    @Override
    public void line(List<Point> points, double width, int colour) {
        empty(xml, "path", "d", path(points), "fill", "none", "stroke", colour(colour), "stroke-width", number(width));
    }

    private static String path(List<Point> points) {
        StringBuilder path = new StringBuilder();
        for (Point point : points) {
            path.append(path.isEmpty() ? "M" : "L")
                    .append(number(point.x()))
                    .append(' ')
                    .append(number(point.y()));
        }
        return path.toString();
    }

    @Override
    public void polygon(List<Point> points, int colour) {
        empty(xml, "path", "d", path(points) + "Z", "fill", colour(colour));
    }

    @Override
    public void text(double x, double y, String text, Anchor anchor, Letters letters) {
        try {
            xml.writeStartElement("text");
            xml.writeAttribute("x", number(x));
            xml.writeAttribute("y", number(y));
            xml.writeAttribute("font-size", number(letters.size()));
            if (letters.bold()) {
                xml.writeAttribute("font-weight", "bold");
            }
            if (anchor != Anchor.START) {
                xml.writeAttribute("text-anchor", anchor.name().toLowerCase(Locale.ROOT));
            }
            xml.writeAttribute("fill", colour(letters.colour()));
            xml.writeCharacters(text);
            xml.writeEndElement();
            xml.writeCharacters("\n");
        } catch (XMLStreamException e) {
            throw new IllegalStateException(e);
        }
    }

    private static void empty(XMLStreamWriter out, String element, String... attributes) {
        try {
            out.writeEmptyElement(element);
            for (int i = 0; i < attributes.length; i += 2) {
                out.writeAttribute(attributes[i], attributes[i + 1]);
            }
            out.writeCharacters("\n");
        } catch (XMLStreamException e) {
            throw new IllegalStateException(e);
        }
    }

    // ---- the file

    /** Writes all that was drawn. */
    void write(OutputStream out, Size size, double height, String title, String description) throws IOException {
        StringWriter text = new StringWriter();
        try {
            xml.flush();
            XMLStreamWriter file = writer(text);
            file.writeStartElement("svg");
            file.writeDefaultNamespace(NAMESPACE);
            attributes(
                    file,
                    "width",
                    size.svgLength(size.width()),
                    "height",
                    size.svgLength(height),
                    "viewBox",
                    "0 0 %d %s".formatted(size.width(), number(height)),
                    "role",
                    "img",
                    "aria-labelledby",
                    "title-%s desc-%s".formatted(id, id),
                    "font-family",
                    FONTS,
                    // Whatever letters are in a name, they stand in the order in which they were written.
                    "direction",
                    "ltr",
                    "unicode-bidi",
                    "bidi-override");
            element(file, "title", title);
            element(file, "desc", description);
            file.writeStartElement("defs");
            file.writeCharacters("\n");
            patterns.forEach((texture, name) -> pattern(file, texture, name));
            file.writeEndElement();
            file.writeCharacters("\n");
            file.flush();
            text.write(body.toString());
            file.writeEndElement();
            file.writeCharacters("\n");
            file.flush();
        } catch (XMLStreamException e) {
            throw new IllegalStateException(e);
        }
        out.write("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n".getBytes(StandardCharsets.UTF_8));
        out.write(text.toString().getBytes(StandardCharsets.UTF_8));
    }

    private static void attributes(XMLStreamWriter out, String... attributes) throws XMLStreamException {
        for (int i = 0; i < attributes.length; i += 2) {
            out.writeAttribute(attributes[i], attributes[i + 1]);
        }
        out.writeCharacters("\n");
    }

    private void element(XMLStreamWriter out, String name, String text) throws XMLStreamException {
        out.writeStartElement(name);
        out.writeAttribute("id", name + "-" + id);
        out.writeCharacters(text);
        out.writeEndElement();
        out.writeCharacters("\n");
    }

    private static void pattern(XMLStreamWriter out, Texture texture, String name) {
        String pitch = Integer.toString(Texture.Hatch.PITCH);
        try {
            out.writeStartElement("pattern");
            attributes(out, "id", name, "width", pitch, "height", pitch, "patternUnits", "userSpaceOnUse");
            empty(out, "rect", "width", pitch, "height", pitch, "fill", colour(texture.ground()));
            if (texture.hatch() == Texture.Hatch.DOTTED) {
                empty(
                        out,
                        "rect",
                        "x",
                        "1",
                        "y",
                        "1",
                        "width",
                        "1.5",
                        "height",
                        "1.5",
                        "fill",
                        colour(texture.lines()));
                empty(
                        out,
                        "rect",
                        "x",
                        "4",
                        "y",
                        "4",
                        "width",
                        "1.5",
                        "height",
                        "1.5",
                        "fill",
                        colour(texture.lines()));
            } else {
                String path = switch (texture.hatch()) {
                    case RISING -> "M-1.5 1.5L1.5 -1.5M-1.5 7.5L7.5 -1.5M4.5 7.5L7.5 4.5";
                    case CROSSED ->
                        "M-1.5 1.5L1.5 -1.5M-1.5 7.5L7.5 -1.5M4.5 7.5L7.5 4.5"
                                + "M4.5 -1.5L7.5 1.5M-1.5 -1.5L7.5 7.5M-1.5 4.5L1.5 7.5";
                    case UPRIGHT -> "M3 0L3 6";
                    case LEVEL -> "M0 3L6 3";
                    default -> throw new IllegalStateException(texture.toString());
                };
                empty(
                        out,
                        "path",
                        "d",
                        path,
                        "fill",
                        "none",
                        "stroke",
                        colour(texture.lines()),
                        "stroke-width",
                        number(lineWidth(texture.hatch())));
            }
            out.writeEndElement();
            out.writeCharacters("\n");
        } catch (XMLStreamException e) {
            throw new IllegalStateException(e);
        }
    }

    /** How thick the lines of a hatching are. */
    static double lineWidth(Texture.Hatch hatch) {
        return hatch == Texture.Hatch.CROSSED ? 0.7 : 1.3;
    }
}
