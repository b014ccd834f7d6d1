package octurn.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import octurn.cli.process.Exit;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** {@code octurn lesson}: new, check, pack, unpack. */
class LessonCommandTest {

    @TempDir
    private Path root;

    private Path lesson;

    @BeforeEach
    void makeLesson() {
        lesson = root.resolve("drip");
        assertThat(run("new", lesson).exit()).isZero();
    }

    private static Shell.Outcome run(Object... words) {
        return new Shell()
                .run(Stream.concat(Stream.of("lesson"), Stream.of(words).map(Object::toString))
                        .toArray(String[]::new));
    }

    private static Map<String, String> texts(Path folder) throws IOException {
        Map<String, String> texts = new TreeMap<>();
        try (Stream<Path> files = Files.list(folder)) {
            for (Path file : files.toList()) {
                texts.put(file.getFileName().toString(), Files.readString(file));
            }
        }
        return texts;
    }

    private void change(String file, String from, String to) throws IOException {
        String text = Files.readString(lesson.resolve(file));
        assertThat(text).contains(from);
        Files.writeString(lesson.resolve(file), text.replace(from, to));
    }

    private List<String> names() throws IOException {
        try (Stream<Path> files = Files.list(root)) {
            return files.map(file -> file.getFileName().toString()).sorted().toList();
        }
    }

    // ---- new

    @Test
    void new_makesALessonThatPassesItsCheck() {
        Shell.Outcome outcome = run("check", lesson);
        assertThat(outcome.exit()).as(outcome.err()).isZero();
        assertThat(outcome.out()).isEqualTo("drip: no errors (1 text, 1 moment to watch, 1 question, 1 task)\n");
        assertThat(outcome.err()).isEmpty();
    }

    @Test
    void new_whereSomethingIs_changesNothing() throws IOException {
        Path there = Files.createDirectories(root.resolve("there"));
        Files.writeString(there.resolve("mine.txt"), "mine");
        Shell.Outcome outcome = run("new", there);
        assertThat(outcome.exit()).isEqualTo(Exit.USAGE);
        assertThat(outcome.err()).contains("is there already");
        assertThat(texts(there)).containsOnly(Map.entry("mine.txt", "mine"));
    }

    @ParameterizedTest
    @ValueSource(strings = {"Drip", "my lesson", "-x", "\u00fcbung"})
    void new_underANameThatNoLessonCanHave_saysWhatWouldBeRight(String name) throws IOException {
        Shell.Outcome outcome = run("new", root.resolve(name));
        assertThat(outcome.exit()).isEqualTo(Exit.USAGE);
        assertThat(outcome.err()).contains("right are a-z, 0-9, point and hyphen");
        assertThat(names()).containsExactly("drip");
    }

    @Test
    void new_inAFolderThatIsNotThere_saysSo() throws IOException {
        Shell.Outcome outcome = run("new", root.resolve("none").resolve("wet"));
        assertThat(outcome.exit()).isEqualTo(Exit.USAGE);
        assertThat(outcome.err()).hasLineCount(1).contains("there is no such folder to make it in");
        assertThat(names()).containsExactly("drip");
    }

    // ---- check

    @Test
    void check_aWholeCourse_saysWhatCanBeChecked() throws IOException {
        Files.writeString(root.resolve("course.json"), "{}");
        Shell.Outcome outcome = run("check", root);
        assertThat(outcome.exit()).isEqualTo(Exit.USAGE);
        assertThat(outcome.err()).contains("this is a course: name the folder of one of its lessons");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '~',
            value = {
                "model.turn ~ post  r2, [total] ~ nop ~ the model answer fails",
                "start.turn ~ halt ~ 'post  r2, [total]\n halt' ~ start.turn passes every check",
                "lesson.json ~ \"values\" ~ \"valeus\" ~ did you mean \"values\"?",
                "lesson.json ~ go {probe ~ og {probe ~ the stepper refuses \"og 31\"",
                "lesson.json ~ probe.turn ~ prob.turn ~ did you mean probe.turn?",
                "greenhouse.md ~ {probe.slot} ~ {probe.slots} ~ slots",
                "probe.turn ~ fetch ~ fecth ~ fecth",
            })
    void check_aLessonWithAMistake_tellsItsPlaceAndWhatWouldBeRight(
            String file, String from, String to, String complaint) throws IOException {
        change(file, from, to);
        Shell.Outcome outcome = run("check", lesson);
        assertThat(outcome.exit()).isEqualTo(Exit.USAGE);
        assertThat(outcome.err()).contains(": error: ", complaint);
    }

    @ParameterizedTest
    @ValueSource(strings = {"[chip](chip.md#time)", "[web](https://example.org)", "[this](authors.md)"})
    void check_linksThatLeadSomewhere_areFine(String link) throws IOException {
        change("task.md", "but nobody", link + " but nobody");
        assertThat(run("check", lesson).err()).isEmpty();
    }

    @Test
    void check_aLinkToNowhere_isTold() throws IOException {
        change("task.md", "but nobody", "[chip](chips.md) but nobody");
        assertThat(run("check", lesson).err()).contains("chips.md");
    }

    /** Lessons may link to every page of the manual, and to no other. */
    @Test
    void check_pagesOfTheManual_areAllKnown() throws IOException {
        try (Stream<Path> pages = Files.list(Path.of("..", "docs"))) {
            for (Path page : pages.filter(one -> one.toString().endsWith(".md")).toList()) {
                Files.writeString(lesson.resolve("task.md"), "Read [it](%s).".formatted(page.getFileName()));
                assertThat(run("check", lesson).err())
                        .as("%s stands in LessonCheckCommand.PAGES", page)
                        .doesNotContain("no such page", "link");
            }
        }
    }

    // ---- pack and unpack

    @Test
    void pack_thenUnpack_givesTheSameLesson() throws IOException {
        Path zip = root.resolve("drip.zip");
        assertThat(run("pack", lesson, "-o", zip).exit()).isZero();
        Path copy = root.resolve("copy");
        Shell.Outcome unpacked = run("unpack", zip, "-o", copy);
        assertThat(unpacked.exit()).isZero();
        assertThat(unpacked.out())
                .isEqualTo(
                        "%s: 6 files\nthe lesson's id is drip: in a course, and to check it, its folder has that name\n"
                                .formatted(copy));
        assertThat(texts(copy)).isEqualTo(texts(lesson));
        assertThat(run("check", zip).out()).startsWith("drip: no errors");
    }

    @Test
    void unpack_underItsOwnName_saysNoMore() throws IOException {
        Path zip = root.resolve("drip.zip");
        run("pack", lesson, "-o", zip);
        Path own = Files.createDirectory(root.resolve("x")).resolve("drip");
        assertThat(run("unpack", zip, "-o", own).out()).isEqualTo(own + ": 6 files\n");
    }

    /** Whoever gets a lesson need not unpack it to take it. */
    @Test
    void pack_thenLearn_opensTheLesson() throws IOException {
        Path zip = root.resolve("drip.zip");
        run("pack", lesson, "-o", zip);
        Shell.Outcome outcome =
                new Shell().home(root.resolve("home")).in("\n").run("learn", "--say", "--course", zip.toString());
        assertThat(outcome.err()).isEmpty();
        assertThat(outcome.out())
                .startsWith("Reading the soil probes, 0 of 1 done.")
                .contains("step 1 of 4, read.");
        Path damaged = Files.writeString(root.resolve("damaged.zip"), "x");
        assertThat(new Shell().run("learn", "--course", damaged.toString()).err())
                .contains("is no zip file, or a damaged one");
    }

    @Test
    void pack_twice_givesTheSameBytes() throws IOException {
        run("pack", lesson, "-o", root.resolve("a.zip"));
        run("pack", lesson, "-o", root.resolve("b.zip"));
        assertThat(root.resolve("a.zip")).hasSameBinaryContentAs(root.resolve("b.zip"));
    }

    @ParameterizedTest
    @ValueSource(strings = {"a.tar", "a", "a.zip.txt", "zip"})
    void pack_intoWhatIsNoZip_isRefusedAndWritesNothing(String name) {
        Path file = root.resolve(name);
        Shell.Outcome outcome = run("pack", lesson, "-o", file);

        assertThat(outcome.exit()).isEqualTo(Exit.USAGE);
        assertThat(outcome.err()).isEqualTo("octurn: --output: %s is not *.zip\n".formatted(file));
        assertThat(file).doesNotExist();
        assertThat(run("pack", lesson, "-o", root.resolve("A.ZIP")).exit()).isZero();
    }

    @Test
    void pack_aLessonWithErrors_writesNothing() throws IOException {
        change("lesson.json", "\"minutes\"", "\"minuets\"");
        assertThat(run("pack", lesson, "-o", root.resolve("a.zip")).exit()).isEqualTo(Exit.USAGE);
        assertThat(names()).containsExactly("drip");
    }

    @Test
    void pack_aFolderWithALink_isRefused() throws IOException {
        Files.createSymbolicLink(lesson.resolve("secret.md"), root.resolve("secret"));
        Shell.Outcome outcome = run("pack", lesson, "-o", root.resolve("a.zip"));
        assertThat(outcome.exit()).isEqualTo(Exit.USAGE);
        assertThat(outcome.err()).contains("\"secret.md\" cannot be part of a lesson");
    }

    private Path zip(String... pathsAndTexts) throws IOException {
        Path file = root.resolve("made.zip");
        try (OutputStream out = Files.newOutputStream(file);
                ZipOutputStream zip = new ZipOutputStream(out)) {
            for (int i = 0; i < pathsAndTexts.length; i += 2) {
                zip.putNextEntry(new ZipEntry(pathsAndTexts[i]));
                zip.write(pathsAndTexts[i + 1].getBytes(StandardCharsets.UTF_8));
            }
        }
        return file;
    }

    @ParameterizedTest
    @ValueSource(strings = {"../evil.md", "x/../../evil.md", "/tmp/evil.md", "x/\u001b[2J.md", "x/CON:.md"})
    void unpack_whatWouldLeaveTheFolder_writesNothing(String path) throws IOException {
        Shell.Outcome outcome = run("unpack", zip("x/lesson.json", "{}", path, "evil"), "-o", root.resolve("x"));
        assertThat(outcome.exit()).isEqualTo(Exit.USAGE);
        assertThat(outcome.err()).hasLineCount(1).doesNotContain("\u001b");
        assertThat(names()).containsExactly("drip", "made.zip");
    }

    @Test
    void unpack_aBomb_writesNothing() throws IOException {
        Path zip = zip("x/lesson.json", "{}", "x/a.md", "0".repeat(2_000_000));
        assertThat(run("unpack", zip, "-o", root.resolve("x")).err()).contains("would unpack to 2,000,000 bytes");
        assertThat(names()).containsExactly("drip", "made.zip");
    }

    @Test
    void unpack_whatIsNoLesson_isTold() throws IOException {
        assertThat(run("unpack", zip("x/a.md", "x"), "-o", root.resolve("x")).err())
                .contains("it is no lesson");
        assertThat(run("unpack", lesson.resolve("task.md")).err()).contains("is no zip file, or a damaged one");
        assertThat(run("unpack", root.resolve("none.zip")).err()).contains("there is no such file");
    }

    @Test
    void unpack_whereSomethingIs_changesNothing() throws IOException {
        Map<String, String> before = texts(lesson);
        assertThat(run("unpack", zip("x/lesson.json", "{}"), "-o", lesson).err())
                .contains("is there already");
        assertThat(texts(lesson)).isEqualTo(before);
    }

    @Test
    void lesson_withoutACommand_saysWhichThereAre() {
        assertThat(new Shell().run("lesson").err()).contains("new, check, pack or unpack");
        assertThat(new Shell().run("help", "lesson", "pack").out()).startsWith("Usage: octurn lesson pack FOLDER");
        assertThat(new Shell().run("lesson", "chekc", "x").err()).contains("did you mean check?");
    }
}
