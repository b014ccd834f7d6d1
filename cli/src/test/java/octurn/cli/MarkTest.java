package octurn.cli;

import static org.assertj.core.api.Assertions.assertThat;

import com.networknt.schema.InputFormat;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;
import octurn.cli.MadeUpClass.Made;
import octurn.cli.json.MarksReader;
import octurn.cli.process.Exit;
import octurn.lessons.mark.Alike;
import octurn.lessons.mark.Marks;
import octurn.lessons.mark.Row;
import octurn.lessons.mark.Status;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** {@code octurn mark} from a class's folder to its pages. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class MarkTest {

    private static final String DUE = MadeUpClass.DUE.toString();

    private Path root = Path.of("");
    private String lesson = "";
    private Path folder = Path.of("");
    private Path out = Path.of("");
    private List<Made> made = List.of();
    private Shell.Outcome outcome = new Shell.Outcome(0, "", "");

    @BeforeAll
    void markAClass(@TempDir Path temporary) throws IOException {
        root = temporary;
        lesson = root.resolve("drip").toString();
        assertThat(new Shell().run("lesson", "new", lesson).exit()).isZero();
        folder = root.resolve("class");
        made = MadeUpClass.write(folder, 1);
        out = root.resolve("out");
        outcome = mark("-o", out.toString(), "--due", DUE);
    }

    private Shell.Outcome mark(String... options) {
        List<String> words = new ArrayList<>(List.of("mark", folder.toString(), "--lesson", lesson));
        words.addAll(List.of(options));
        return new Shell().run(words.toArray(String[]::new));
    }

    private static Marks marks(Path json) throws IOException {
        try (var in = Files.newInputStream(json)) {
            return MarksReader.read(in);
        } catch (MarksReader.NoMarks e) {
            throw new AssertionError(e.reason(), e);
        }
    }

    private Marks marks() throws IOException {
        return marks(out.resolve("marks.json"));
    }

    private static Map<String, byte[]> contents(Path folder) throws IOException {
        Map<String, byte[]> contents = new TreeMap<>();
        try (Stream<Path> files = Files.walk(folder)) {
            for (Path file : files.filter(Files::isRegularFile).toList()) {
                contents.put(folder.relativize(file).toString(), Files.readAllBytes(file));
            }
        }
        return contents;
    }

    private String everyPage() throws IOException {
        StringBuilder all = new StringBuilder();
        for (Map.Entry<String, byte[]> file : contents(out).entrySet()) {
            if (file.getKey().endsWith(".html")) {
                all.append(new String(file.getValue(), StandardCharsets.UTF_8));
            }
        }
        return all.toString();
    }

    // ---- every row is right

    @Test
    void mark_ofAnyClass_hasARightRowForEach() throws IOException {
        assertThat(outcome.exit()).as(outcome.err()).isEqualTo(Exit.OK);
        Map<String, Row> rows = new HashMap<>();
        marks().rows().forEach(row -> rows.put(row.entry(), row));
        assertThat(rows).hasSize(made.size());
        for (Made one : made) {
            Row row = rows.get(one.entry());
            assertThat(row).as(one.entry()).isNotNull();
            assertThat(row.student()).isEqualTo(one.student());
            assertThat(row.works().get(0).status())
                    .as("%s: %s", one.entry(), row.works())
                    .isEqualTo(one.status());
            assertThat(row.late()).as(one.entry()).isEqualTo(one.late());
            boolean fine = one.status() == Status.PASSED;
            assertThat(row.works().get(0).firstTrouble().isEmpty())
                    .as(one.entry())
                    .isEqualTo(fine);
        }
    }

    @Test
    void mark_theSameStructure_isToldOfThoseAndNobodyElse() throws IOException {
        Map<String, List<String>> expected = new TreeMap<>();
        for (Made one : made) {
            if (!one.alike().isEmpty()) {
                expected.computeIfAbsent(one.alike(), key -> new ArrayList<>()).add(one.entry());
            }
        }
        Marks marks = marks();
        List<List<String>> found = new ArrayList<>();
        for (Alike group : marks.alike()) {
            found.add(group.rows().stream()
                    .map(row -> marks.rows().get(row).entry())
                    .toList());
        }
        assertThat(found).containsExactlyInAnyOrderElementsOf(expected.values());
        assertThat(marks.alike().stream().filter(Alike::asModel)).hasSize(1);
    }

    @Test
    void mark_rows_areInTheOrderOfNames() throws IOException {
        assertThat(marks().rows()).extracting(Row::student).isSortedAccordingTo(octurn.lessons.mark.Handed.BY_NAME);
    }

    // ---- nothing of a name or program gets out

    @Test
    void pages_holdNoMarkupOfAStudents() throws IOException {
        String pages = everyPage();
        assertThat(pages).contains("&lt;script&gt;alert(1)", "&lt;/pre&gt;&lt;script&gt;", "&lt;img src=x onerror");
        assertThat(pages).doesNotContainPattern("<(script|img|b>&|/pre)").doesNotContainPattern("<[^>]*\\son[a-z]+=");
        assertThat(pages.codePoints()
                        .filter(c -> c != '\n' && Character.isISOControl(c))
                        .count())
                .isZero();
        assertThat(pages.codePoints()
                        .filter(c -> Character.getType(c) == Character.FORMAT)
                        .count())
                .isZero();
    }

    /** Content Security Policy Level 3: nothing is loaded, and of styles the one whose hash is given. */
    @Test
    void pages_allowNothingFromAnywhere() throws IOException {
        for (Map.Entry<String, byte[]> file : contents(out).entrySet()) {
            if (file.getKey().endsWith(".html")) {
                String page = new String(file.getValue(), StandardCharsets.UTF_8);
                assertThat(page).contains("content=\"default-src 'none'; style-src 'sha256-");
                assertThat(page).doesNotContain("http:", "https:", " style=", "url(", "@import");
            }
        }
    }

    @Test
    void pages_links_leadToPagesThatAreThere() throws IOException {
        Map<String, byte[]> files = contents(out);
        for (Map.Entry<String, byte[]> file : files.entrySet()) {
            if (!file.getKey().endsWith(".html")) {
                continue;
            }
            String page = new String(file.getValue(), StandardCharsets.UTF_8);
            java.util.regex.Matcher links = java.util.regex.Pattern.compile("href=\"([^\"#]*)#?([^\"]*)\"")
                    .matcher(page);
            while (links.find()) {
                String target = links.group(1).isEmpty()
                        ? file.getKey()
                        : Path.of(file.getKey())
                                .resolveSibling(links.group(1))
                                .normalize()
                                .toString();
                assertThat(files).as("%s in %s", links.group(), file.getKey()).containsKey(target);
                if (!links.group(2).isEmpty()) {
                    assertThat(new String(files.get(target), StandardCharsets.UTF_8))
                            .contains("id=\"%s\"".formatted(links.group(2)));
                }
            }
        }
    }

    /** RFC 4180, and OWASP's page on CSV injection for what a cell must not begin with. */
    @Test
    void csv_isATableWithoutFormulas() throws IOException {
        String csv = Files.readString(out.resolve("marks.csv"));
        assertThat(csv.lines()).hasSize(made.size() + 1);
        assertThat(csv)
                .endsWith("\r\n")
                .contains("\r\n'=cmd|", "\r\n'+1-1", "\r\n'-2,", "\r\n'@SUM(A1)", "\"a,b\"\"c\"");
        assertThat(csv).doesNotContainPattern("(^|[,\\n])\"?[=+@\\t]").doesNotContainPattern("(^|\\n)\"?-");
        assertThat(csv.codePoints().filter(c -> Character.isISOControl(c) && c != '\r' && c != '\n'))
                .isEmpty();
    }

    @Test
    void terminal_getsNoControlCharacterOfAName() {
        Shell.Outcome told = mark();
        assertThat(told.exit()).isZero();
        assertThat(told.out()).contains("\\u001b[31mred", "Anna Acker");
        String all = told.out() + told.err() + outcome.out() + outcome.err();
        assertThat(all.codePoints().filter(c -> c != '\n' && Character.isISOControl(c)))
                .isEmpty();
        assertThat(told.out().lines())
                .allSatisfy(line -> assertThat(line.length()).isLessThanOrEqualTo(80));
    }

    @Test
    void json_satisfiesItsSchema() throws IOException {
        String schema = Files.readString(Path.of("..", "docs", "schema", "marks.schema.json"));
        var complaints = SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
                .getSchema(schema)
                .validate(Files.readString(out.resolve("marks.json")), InputFormat.JSON);
        assertThat(complaints).isEmpty();
    }

    // ---- again, and after a break

    @Test
    void mark_twice_givesTheSameBytes() throws IOException {
        Path other = root.resolve("other");
        mark("-o", other.toString(), "--due", DUE, "--workers", "5");
        assertThat(contents(other)).containsExactlyEntriesOf(contents(out));
        mark("-o", other.toString(), "--due", DUE);
        assertThat(contents(other)).containsExactlyEntriesOf(contents(out));
    }

    /** What was kept is taken over as it is, as a mark that no marking would give shows; the rest is marked. */
    @Test
    void mark_withSomeDoneBefore_marksTheRestAndWhatHasChanged() throws IOException {
        Path copy = Files.createDirectories(root.resolve("small"));
        for (String name : List.of("Anna Acker.turn", "Gustav.turn", "Tove.turn")) {
            Files.copy(folder.resolve(name), copy.resolve(name));
        }
        Path state = root.resolve("state.json");
        Path json = root.resolve("small.json");
        String[] command = {
            "mark", copy.toString(), "--lesson", lesson, "--json", json.toString(), "--state", state.toString()
        };
        assertThat(new Shell().run(command).exit()).isZero();
        assertThat(state).doesNotExist();
        String whole = Files.readString(json);
        String sofar = whole.replace("\"status\":\"unchanged\"", "\"status\":\"failed\"")
                .replace("\"status\":\"errors\"", "\"status\":\"failed\"");
        Files.writeString(state, sofar);
        Files.writeString(copy.resolve("Tove.turn"), Files.readString(folder.resolve("Anna Acker.turn")));
        assertThat(new Shell().run(command).exit()).isZero();
        assertThat(marks(json).rows())
                .extracting(row -> row.works().get(0).status())
                .containsExactly(Status.PASSED, Status.FAILED, Status.PASSED);
        assertThat(state).doesNotExist();
    }

    @Test
    void mark_withAStateOfAnotherLesson_marksAllAnew() throws IOException {
        Path state = root.resolve("state-of-another.json");
        String json = Files.readString(out.resolve("marks.json"));
        Files.writeString(state, json.replaceAll("\"key\":\"[0-9a-f]*\"", "\"key\":\"0\""));
        Shell.Outcome told = mark("--state", state.toString(), "--json", "-");
        assertThat(told.err()).contains("all is marked anew");
        assertThat(told.out()).contains("\"status\":\"passed\"");
    }

    @ParameterizedTest
    @CsvSource({"'', is empty", "{}, holds no marks", "nonsense, is no JSON", "'[1', is no JSON"})
    void mark_withAStateThatIsNone_leavesItAlone(String text, String complaint) throws IOException {
        Path state = Files.writeString(root.resolve("no-state.json"), text);
        Shell.Outcome told = mark("--state", state.toString());
        assertThat(told.exit()).isEqualTo(Exit.USAGE);
        assertThat(told.err()).contains(complaint);
        assertThat(state).hasContent(text);
    }

    // ---- names and usage

    @Test
    void mark_withAListOfNames_usesThemAndTellsWhoIsMissing() throws IOException {
        Path copy = Files.createDirectories(root.resolve("numbered"));
        Files.copy(folder.resolve("Anna Acker.turn"), copy.resolve("s100.turn"));
        Files.copy(folder.resolve("Anna Acker.turn"), copy.resolve("s300.turn"));
        Path names = Files.writeString(
                root.resolve("names.csv"), "# who is who\r\ns100,Anna Acker\r\ns200.turn,\"Bauer, Ben\"\r\n");
        Path json = root.resolve("numbered.json");
        Shell.Outcome told = new Shell()
                .run(
                        "mark",
                        copy.toString(),
                        "--lesson",
                        lesson,
                        "--names",
                        names.toString(),
                        "--json",
                        json.toString());
        assertThat(told.exit()).as(told.err()).isZero();
        List<Row> rows = marks(json).rows();
        assertThat(rows).extracting(Row::student).containsExactly("Anna Acker", "Bauer, Ben", "s300");
        assertThat(rows.get(1).works().get(0).status()).isEqualTo(Status.MISSING);
        assertThat(rows.get(2).notes()).containsExactly("not on the list of names");
    }

    @Test
    void mark_theSameNameTwice_isToldInBothRows() throws IOException {
        Path copy = Files.createDirectories(root.resolve("twice"));
        Files.copy(folder.resolve("Anna Acker.turn"), copy.resolve("anna.turn"));
        Files.createDirectories(copy.resolve("Anna"));
        Path json = root.resolve("twice.json");
        new Shell().run("mark", copy.toString(), "--lesson", lesson, "--json", json.toString());
        assertThat(marks(json).rows())
                .allSatisfy(row -> assertThat(row.notes()).containsExactly("handed in more than once under this name"));
    }

    @ParameterizedTest
    @CsvSource({
        "--step 1, --step: 1 is no task of drip; step 4 is the only one",
        "--due tomorrow, --due: tomorrow is no time; right would be",
        "--workers 0, --workers: 0 is not in 1..256",
        "--bytes 2000000, --bytes: 2000000 is not in 1..1048576",
        "--csv - --json -, cannot both go to standard output",
        "--names nowhere.csv, there is no such file"
    })
    void mark_badUsage_isToldInOneLine(String options, String complaint) {
        Shell.Outcome told = mark(options.split(" ", -1));
        assertThat(told.exit()).isEqualTo(Exit.USAGE);
        assertThat(told.err()).hasLineCount(1).contains(complaint);
    }

    @Test
    void mark_intoTheFolderOfSubmissions_isRefused() {
        Shell.Outcome told = mark("--json", folder.resolve("marks.json").toString());
        assertThat(told.exit()).isEqualTo(Exit.USAGE);
        assertThat(told.err()).contains("lies in the folder with the submissions");
    }

    @Test
    void mark_intoAFolderWithThingsOfOthers_deletesNothing() throws IOException {
        Path mine = Files.createDirectories(root.resolve("mine").resolve("students"));
        Path letter = Files.writeString(mine.resolve("letter.txt"), "dear all");
        Shell.Outcome told = mark("-o", root.resolve("mine").toString());
        assertThat(told.exit()).isEqualTo(Exit.USAGE);
        assertThat(told.err()).contains("holds letter.txt");
        assertThat(letter).hasContent("dear all");
    }

    @Test
    void mark_lateWork_isTheOneWhoseFileIsYounger() throws IOException {
        Path copy = Files.createDirectories(root.resolve("late"));
        for (int i = -1; i <= 1; i++) {
            Path file = Files.copy(folder.resolve("Anna Acker.turn"), copy.resolve("s%d.turn".formatted(i + 1)));
            Files.setLastModifiedTime(file, FileTime.from(MadeUpClass.DUE.plusSeconds(i)));
        }
        Path json = root.resolve("late.json");
        new Shell().run("mark", copy.toString(), "--lesson", lesson, "--json", json.toString(), "--due", DUE);
        assertThat(marks(json).rows()).extracting(Row::late).containsExactly(false, false, true);
    }
}
