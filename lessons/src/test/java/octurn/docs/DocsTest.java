package octurn.docs;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.junit.jupiter.api.DynamicContainer.dynamicContainer;
import static org.junit.jupiter.api.DynamicTest.dynamicTest;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.diag.Diagnostic;
import octurn.docs.Page.Block;
import octurn.json.DesignReader;
import octurn.json.DesignWriter;
import octurn.json.ScenarioReader;
import octurn.lessons.CourseReader;
import octurn.lessons.Folder;
import octurn.lessons.check.LessonReview;
import octurn.run.Run;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.DynamicContainer;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.TestFactory;
import org.junit.jupiter.api.function.Executable;

/** Every example, drawing, sum and link in {@code docs}. */
class DocsTest {

    private static final Path LIBRARY_EXAMPLE =
            Path.of("..", "core", "src", "test", "java", "octurn", "LibraryExampleTest.java");

    @TestFactory
    List<DynamicContainer> page_blocks_areAsWritten() throws IOException {
        return Page.all().stream()
                .map(page -> dynamicContainer(page.file().getFileName().toString(), new Reader(page).tests()))
                .toList();
    }

    @TestFactory
    List<DynamicTest> page_links_leadSomewhere() throws IOException {
        List<DynamicTest> tests = new ArrayList<>();
        for (Page page : Page.all()) {
            for (String link : page.links()) {
                tests.add(dynamicTest(page.file().getFileName() + " -> " + link, () -> checkLink(page, link)));
            }
        }
        return tests;
    }

    private static void checkLink(Page page, String link) throws IOException {
        int hash = link.indexOf('#');
        String path = hash < 0 ? link : link.substring(0, hash);
        Path target = path.isEmpty() ? page.file() : page.file().resolveSibling(path);
        assertThat(target).exists();
        if (hash >= 0) {
            assertThat(Page.read(target).anchors()).contains(link.substring(hash + 1));
        }
    }

    /** Goes through a page from top to bottom and makes a test of each block that says something. */
    private static final class Reader {

        private final Page page;
        private final List<DynamicTest> tests = new ArrayList<>();
        private @Nullable Example example;
        /** For the next program; unless a page gives others, it starts from the standard ones again. */
        private Design design = Design.DEFAULT;

        private Scenario scenario = Scenario.QUIET;
        private boolean used;

        Reader(Page page) {
            this.page = page;
        }

        List<DynamicTest> tests() {
            for (Block block : page.blocks()) {
                String[] words = block.info().split(" ", 2);
                String rest = words.length == 2 ? words[1] : "";
                switch (words[0]) {
                    case "turn" -> program(block, rest);
                    case "json" -> json(block, rest);
                    case "result" -> add(block, result(block, theExample()));
                    case "lanes" -> add(block, lanes(block, theExample()));
                    case "sums" -> add(block, () -> checkSums(block));
                    case "java" -> add(block, () -> checkJava(block));
                    case "text", "sh" -> {}
                    default ->
                        add(block, () -> {
                            throw new AssertionError("no block of this kind is known: " + block.info());
                        });
                }
            }
            return tests;
        }

        private void add(Block block, Executable check) {
            tests.add(dynamicTest("line %d: %s".formatted(block.line(), block.info()), check));
        }

        private Example theExample() {
            used = true;
            if (example == null) {
                throw new IllegalStateException("nothing has been run yet");
            }
            return example;
        }

        private void program(Block block, String rest) {
            forgetWhatWasUsed();
            long limit = rest.startsWith("limit ") ? Long.parseLong(rest.substring(6)) : Run.DEFAULT_LIMIT;
            boolean isFile = rest.endsWith(".turn");
            String name = isFile ? rest : "example.turn";
            example = new Example(name, block.text(), design, scenario, limit);
            if (isFile) {
                add(block, () -> assertThat(block.text()).isEqualTo(Files.readString(Example.PROGRAMS.resolve(rest))));
            }
        }

        private void json(Block block, String rest) {
            byte[] utf8 = block.text().getBytes(StandardCharsets.UTF_8);
            switch (rest) {
                case "design standard" -> add(block, () -> checkStandard(utf8));
                case "design" -> {
                    forgetWhatWasUsed();
                    design = Example.accepted(DesignReader.read("design", utf8));
                    example = example == null ? null : example.with(design);
                }
                case "scenario" -> {
                    forgetWhatWasUsed();
                    scenario = Example.accepted(ScenarioReader.read("scenario", utf8, design));
                }
                case "lesson" -> add(block, () -> checkLesson(block.text()));
                case "course" -> add(block, () -> Example.accepted(CourseReader.read("course.json", utf8)));
                case "report" -> add(block, report(block, theExample()));
                default ->
                    add(block, () -> assertThat(Example.leaves(block.text())).isNotEmpty());
            }
        }

        private void forgetWhatWasUsed() {
            if (used) {
                design = Design.DEFAULT;
                scenario = Scenario.QUIET;
                used = false;
            }
        }

        private static void checkStandard(byte[] utf8) throws IOException {
            ByteArrayOutputStream out = new ByteArrayOutputStream();
            DesignWriter.write(Design.DEFAULT, out);
            Map<String, String> written = Example.leaves(out.toString(StandardCharsets.UTF_8));
            // The page leaves out the plain order, which it explains further down.
            written.keySet().removeIf(path -> path.startsWith("admission.order"));
            assertThat(Example.leaves(new String(utf8, StandardCharsets.UTF_8))).isEqualTo(written);
            assertThat(Example.accepted(DesignReader.read("design", utf8))).isEqualTo(Design.DEFAULT);
        }

        /** A lesson whose program reads one word. */
        private static void checkLesson(String json) {
            Folder folder = Folder.lesson(json).with("read.turn", "core 0\n fetch r1, [0]\n halt\n");
            assertThat(LessonReview.review(folder.accepted(), folder, LessonReview.Around.NOTHING).stream()
                            .filter(Diagnostic::isError))
                    .isEmpty();
        }

        private static Executable result(Block block, Example example) {
            return () -> {
                boolean wrong = block.text().startsWith("errors");
                Map<String, String> fields = wrong ? example.mistakes() : example.fields();
                for (String line : block.lines()) {
                    String[] sides = line.split(" = ", 2);
                    assertThat(fields.get(sides[0].strip())).as(line).isEqualTo(sides[1].strip());
                }
            };
        }

        private static Executable report(Block block, Example example) {
            return () -> {
                Map<String, String> shown = Example.leaves(block.text());
                shown.keySet().removeIf(path -> path.endsWith("..."));
                Map<String, String> fields = example.fields();
                fields.keySet().retainAll(shown.keySet());
                assertThat(fields).containsExactlyInAnyOrderEntriesOf(shown);
            };
        }

        private static Executable lanes(Block block, Example example) {
            return () -> assertThat(String.join("\n", block.lines()))
                    .isEqualTo(String.join("\n", Lanes.redraw(block.lines(), example)));
        }

        private static void checkSums(Block block) {
            for (String line : block.lines()) {
                String[] sides = line.split(" = ", 2);
                String value = sides[1].strip();
                int point = value.indexOf('.');
                double precision = point < 0 ? 1e-9 : 0.5001 * Math.pow(10, point + 1 - value.length());
                assertThat(Sum.value(sides[0])).as(line).isCloseTo(Double.parseDouble(value), within(precision));
            }
        }

        private static void checkJava(Block block) throws IOException {
            // Formatters may break lines otherwise than the page does.
            String code = Files.readString(LIBRARY_EXAMPLE).replaceAll("\\s", "");
            assertThat(code).contains(block.text().replaceAll("\\s", ""));
        }
    }
}
