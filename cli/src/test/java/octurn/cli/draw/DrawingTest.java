package octurn.cli.draw;

import static org.assertj.core.api.Assertions.assertThat;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Random;
import java.util.TreeMap;
import java.util.stream.IntStream;
import java.util.stream.LongStream;
import javax.imageio.ImageIO;
import javax.xml.XMLConstants;
import javax.xml.parsers.DocumentBuilderFactory;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.asm.Program;
import octurn.cli.view.ExcerptWords;
import octurn.design.Design;
import octurn.design.Field;
import octurn.design.NamedDesigns;
import octurn.design.Scenario;
import octurn.excerpt.Excerpt;
import octurn.excerpt.Recorder;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.w3c.dom.Node;
import org.w3c.dom.NodeList;

class DrawingTest {

    private static final String BOX = """
            core 0
              set r1, 42
              post r1, [box]
              halt
            core 1
              pause 5
            look: fetch r2, [box]
              halt
            shared
            box: word 7
            """;

    private static Program assemble(String name, String text, Design design) {
        Assembly assembly = Assembler.assemble(name, text.getBytes(StandardCharsets.UTF_8), design, Map.of());
        if (assembly instanceof Assembly.Assembled assembled) {
            return assembled.program();
        }
        throw new AssertionError(((Assembly.Rejected) assembly).errors());
    }

    private static Excerpt take(Program program, long from, long to, long cyclesAColumn) {
        return Recorder.take(program, Scenario.QUIET, 1_000_000, from, to, cyclesAColumn, Recorder.Mover.PLAIN);
    }

    private static byte[] draw(Excerpt excerpt, Size size, Palette palette, Drawing.Format format) throws IOException {
        Drawing.Wish wish =
                new Drawing.Wish(ExcerptWords.busyCores(excerpt), ExcerptWords.busyPins(excerpt), true, size, palette);
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        Drawing.write(excerpt, wish, format, out);
        return out.toByteArray();
    }

    private static byte[] svg(Excerpt excerpt) throws IOException {
        return draw(excerpt, Size.SLIDE, Palette.LIGHT, Drawing.Format.SVG);
    }

    /** Parsed by a parser that refuses whatever a file could do to its reader. */
    private static Document parse(byte[] svg) throws Exception {
        DocumentBuilderFactory factory = DocumentBuilderFactory.newDefaultInstance();
        factory.setFeature(XMLConstants.FEATURE_SECURE_PROCESSING, true);
        factory.setFeature("http://apache.org/xml/features/disallow-doctype-decl", true);
        factory.setNamespaceAware(true);
        return factory.newDocumentBuilder().parse(new ByteArrayInputStream(svg));
    }

    private static List<Element> elements(Document document, String name) {
        List<Element> elements = new ArrayList<>();
        NodeList nodes = document.getElementsByTagName(name);
        for (int i = 0; i < nodes.getLength(); i++) {
            elements.add((Element) nodes.item(i));
        }
        return elements;
    }

    private static List<String> texts(Document document) {
        return elements(document, "text").stream().map(Node::getTextContent).toList();
    }

    @Test
    void svg_ofAHandover_saysAllInText() throws Exception {
        Document document = parse(svg(take(assemble("box.turn", BOX, Design.DEFAULT), 0, 72, 1)));

        assertThat(texts(document))
                .contains("box.turn", "core 0", "core 1", "wait 22", "slot", "post r1, [box]", "look: fetch r2, [box]")
                .contains("Arrows: box = 42: core 0, cycle 27 \u2192 core 1, cycle 30.")
                .contains("Idle all the time and not drawn: cores 2 to 7.");
    }

    @Test
    void svg_forScreenReaders_hasRoleTitleAndDescription() throws Exception {
        Document document = parse(svg(take(assemble("box.turn", BOX, Design.DEFAULT), 0, 72, 1)));
        Element root = document.getDocumentElement();
        Element title = elements(document, "title").get(0);
        Element description = elements(document, "desc").get(0);

        assertThat(root.getAttribute("role")).isEqualTo("img");
        assertThat(root.getAttribute("aria-labelledby"))
                .isEqualTo(title.getAttribute("id") + " " + description.getAttribute("id"));
        assertThat(title.getTextContent()).isEqualTo("box.turn, cycles 0 to 31, 645.8 ns");
        // Core 0: set, the work of post, halt; its request is up from 2 and admitted at 24.
        assertThat(description.getTextContent())
                .contains("Core 0: work 3, wait 22, slot 3, idle 3 cycles.")
                .contains("Words handed over: box = 42: core 0, cycle 27 \u2192 core 1, cycle 30.");
    }

    @Test
    void svg_twice_isTheSameToTheByte() throws IOException {
        Program program = assemble("box.turn", BOX, Design.DEFAULT);

        assertThat(svg(take(program, 3, 72, 1))).isEqualTo(svg(take(program, 3, 72, 1)));
    }

    @Test
    void png_twice_isTheSameToTheByte() throws IOException {
        Excerpt excerpt = take(assemble("box.turn", BOX, Design.DEFAULT), 0, 72, 1);

        assertThat(draw(excerpt, Size.SLIDE, Palette.DARK, Drawing.Format.PNG))
                .isEqualTo(draw(excerpt, Size.SLIDE, Palette.DARK, Drawing.Format.PNG));
    }

    @Test
    void png_forASlide_hasItsSizeAndGround() throws IOException {
        Excerpt excerpt = take(assemble("box.turn", BOX, Design.DEFAULT), 0, 72, 1);
        BufferedImage image = Objects.requireNonNull(
                ImageIO.read(new ByteArrayInputStream(draw(excerpt, Size.SLIDE, Palette.DARK, Drawing.Format.PNG))));

        assertThat(image.getWidth()).isEqualTo(1920);
        assertThat(image.getHeight()).isLessThanOrEqualTo(1080);
        assertThat(image.getRGB(2, 2) & 0xFFFFFF).isEqualTo(0x111111);
    }

    @Test
    void svg_forAPage_hasItsSizeInMillimetres() throws Exception {
        Excerpt excerpt = take(assemble("box.turn", BOX, Design.DEFAULT), 0, 72, 1);
        Document document = parse(draw(excerpt, Size.PAGE, Palette.GREY, Drawing.Format.SVG));

        // 680 pixels of 1/96 inch.
        assertThat(document.getDocumentElement().getAttribute("width")).isEqualTo("179.92mm");
    }

    // ---- hostile names and texts

    private static final String HOSTILE_NAME =
            "<script>alert(1)<b>&\"'--><![CDATA[\u001b[31m\u202ebad\u0000\uD800\u2066 " + "x".repeat(5000);

    @ParameterizedTest
    @EnumSource(Drawing.Format.class)
    void drawing_ofHostileNames_isHarmless(Drawing.Format format) throws Exception {
        Design design = Design.DEFAULT.withName("<a href='x'>&\"" + "n".repeat(40));
        String text = "core 0\n" + "l".repeat(64) + ": set r1, '<'\n set r2, '\u05d0'\n post r1, ['&']\n halt\n";
        byte[] bytes = draw(take(assemble(HOSTILE_NAME, text, design), 0, 20, 1), Size.SLIDE, Palette.LIGHT, format);
        if (format == Drawing.Format.PNG) {
            assertThat(ImageIO.read(new ByteArrayInputStream(bytes))).isNotNull();
            return;
        }
        Document document = parse(bytes);

        assertThat(elements(document, "script")).isEmpty();
        assertThat(elements(document, "a")).isEmpty();
        assertThat(new String(bytes, StandardCharsets.UTF_8)).satisfies(DrawingTest::hasNothingHidden);
        assertThat(document.getDocumentElement().getAttribute("unicode-bidi")).isEqualTo("bidi-override");
        assertThat(texts(document)).anyMatch(one -> one.startsWith("<script>alert(1)"));
    }

    private static void hasNothingHidden(String svg) {
        svg.codePoints()
                .forEach(c -> assertThat(c == '\n'
                                || (Character.getType(c) != Character.CONTROL
                                        && Character.getType(c) != Character.FORMAT
                                        && Character.getType(c) != Character.SURROGATE))
                        .as("U+%04X", c)
                        .isTrue());
    }

    @Test
    void svg_all_fetchesAndRunsNothing() throws Exception {
        Document document = parse(svg(take(assemble("box.turn", BOX, Design.DEFAULT), 0, 72, 1)));
        NodeList all = document.getElementsByTagName("*");
        for (int i = 0; i < all.getLength(); i++) {
            Element element = (Element) all.item(i);
            assertThat(element.getTagName()).isIn("svg", "title", "desc", "defs", "pattern", "rect", "path", "text");
            for (int j = 0; j < element.getAttributes().getLength(); j++) {
                Node attribute = element.getAttributes().item(j);
                assertThat(attribute.getNodeName()).doesNotStartWith("on").doesNotContain("href");
                if (attribute.getNodeValue().contains("url(")) {
                    assertThat(attribute.getNodeValue()).matches("url\\(#fill[0-9]+-0-[0-9]+-light\\)");
                }
            }
        }
    }

    // ---- any program, any size

    static LongStream seeds() {
        return LongStream.rangeClosed(1, 40);
    }

    /** A few cores that think, access and change pins at random. */
    private static String random(Random random, int cores) {
        StringBuilder text = new StringBuilder();
        for (int core = 0; core < cores; core++) {
            text.append("core ").append(core).append("\nmore").append(core).append(":\n");
            for (int i = 0; i < 6; i++) {
                String line = switch (random.nextInt(7)) {
                    case 0 -> "fetch r1, [word%d]".formatted(random.nextInt(3));
                    case 1 -> "post r1, [word%d]".formatted(random.nextInt(3));
                    case 2 -> "bump r1, [word%d]".formatted(random.nextInt(3));
                    case 3 -> "pause %d".formatted(random.nextInt(40));
                    case 4 -> "mul r1, r1, %d".formatted(random.nextInt(100));
                    case 5 -> "write out, r1";
                    default -> "write drive, r1";
                };
                text.append("  ").append(line).append('\n');
            }
            text.append("  add r1, r1, 1\n  jump more").append(core).append('\n');
        }
        return text.append("shared\nword0: word 1\nword1: word 2\nword2: word 3\n")
                .toString();
    }

    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void texts_ofRandomPrograms_stayInsideAndApart(long seed) throws Exception {
        Random random = new Random(seed);
        List<Design> designs = NamedDesigns.all().stream()
                .map(NamedDesigns.Named::design)
                .filter(design -> design.cores() >= 4)
                .toList();
        Design design = Field.SLOT_CYCLES.with(designs.get(random.nextInt(designs.size())), 1 + random.nextInt(8));
        Program program = assemble("random.turn", random(random, 1 + random.nextInt(design.cores())), design);
        Size size = Size.values()[random.nextInt(2)];
        long from = random.nextInt(3) == 0 ? 0 : random.nextInt(100_000);
        boolean exact = random.nextInt(4) > 0;
        long cycles = exact ? 1 + random.nextLong(Drawing.exactCycles(size)) : 50L * Drawing.mergedColumns(size);
        Excerpt excerpt = take(program, from, from + cycles, exact ? 1 : 50);
        Document document = parse(draw(excerpt, size, Palette.LIGHT, Drawing.Format.SVG));

        Element root = document.getDocumentElement();
        double height = Double.parseDouble(root.getAttribute("viewBox").split(" ", -1)[3]);
        Map<Double, TreeMap<Double, Double>> rows = new TreeMap<>();
        for (Element text : elements(document, "text")) {
            double fontSize = Double.parseDouble(text.getAttribute("font-size"));
            boolean bold = text.getAttribute("font-weight").equals("bold");
            double width = TextWidth.of(text.getTextContent(), new Sheet.Letters(fontSize, bold, 0));
            double x = Double.parseDouble(text.getAttribute("x"));
            double y = Double.parseDouble(text.getAttribute("y"));
            double left = switch (text.getAttribute("text-anchor")) {
                case "middle" -> x - width / 2;
                case "end" -> x - width;
                default -> x;
            };
            String what = "seed %d: %s".formatted(seed, text.getTextContent());
            assertThat(left).as(what).isGreaterThanOrEqualTo(0);
            assertThat(left + width).as(what).isLessThanOrEqualTo(size.width() + 0.5);
            assertThat(y).as(what).isBetween(fontSize * 0.7, height - 1);
            TreeMap<Double, Double> row = rows.computeIfAbsent(y, key -> new TreeMap<>());
            Map.Entry<Double, Double> before = row.floorEntry(left);
            Map.Entry<Double, Double> after = row.ceilingEntry(left);
            assertThat(before == null || before.getValue() <= left + 0.5)
                    .as(what)
                    .isTrue();
            assertThat(after == null || left + width <= after.getKey() + 0.5)
                    .as(what)
                    .isTrue();
            row.put(left, left + width);
        }
    }

    @Test
    void svg_of32Cores_hasALaneForEach() throws Exception {
        Design design = Field.CORES.with(Design.DEFAULT, 32);
        Document document = parse(svg(take(
                assemble("many.turn", "core all\n set r1, 1\nmore: bump r1, [0]\n jump more\n", design), 0, 120, 1)));

        assertThat(texts(document))
                .containsAll(
                        IntStream.range(0, 32).mapToObj(core -> "core " + core).toList());
    }
}
