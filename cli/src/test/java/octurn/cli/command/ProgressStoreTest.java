package octurn.cli.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import com.networknt.schema.InputFormat;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import octurn.cli.Shell;
import octurn.cli.learn.Change;
import octurn.cli.learn.Change.Where;
import octurn.cli.learn.Standing;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.DisabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class ProgressStoreTest {

    private static final String LESSON = "0123456789abcdef".repeat(4);
    private static final String PROGRAM = "fedcba9876543210".repeat(4);

    @TempDir
    Path folder;

    private Path file;

    @BeforeEach
    void name() {
        file = folder.resolve("octurn").resolve("progress.json");
    }

    private ProgressStore store() {
        return new ProgressStore(folder.resolve("octurn"), new Shell().surroundings());
    }

    private static Where where(String lesson) {
        return new Where("Ada", "Drips", lesson, LESSON);
    }

    private static void right(ProgressStore store, String lesson, int step) {
        store.note(List.of(new Change.Answered(where(lesson), step, "12", true)));
    }

    private Standing standing(String lesson) {
        return store().book().standings("Ada", "Drips").getOrDefault(lesson, Standing.NONE);
    }

    private String text() throws IOException {
        return Files.readString(file);
    }

    private void put(String text) throws IOException {
        Files.createDirectories(file.getParent());
        Files.writeString(file, text);
    }

    @Test
    void note_allSortsOfChange_areThereTheNextTime() {
        store().note(List.of(
                new Change.Came(where("drip"), 3),
                new Change.Went(where("drip"), 1),
                new Change.Answered(where("drip"), 2, "15", false),
                new Change.Answered(where("drip"), 2, "12", true),
                new Change.Began(where("drip"), 3, "/home/ada/drip.turn"),
                new Change.Hinted(where("drip"), 3, 2),
                new Change.Checked(where("drip"), 3, PROGRAM, true)));

        Standing standing = standing("drip");
        assertThat(standing.at()).isEqualTo(3);
        assertThat(standing.step(1).done()).isTrue();
        assertThat(standing.step(2)).isEqualTo(new Standing.Step(LESSON, true, 2, "12", "", "", 0));
        assertThat(standing.step(3))
                .isEqualTo(new Standing.Step(LESSON, true, 1, "", "/home/ada/drip.turn", PROGRAM, 2));
        assertThat(store().book().lastStudent()).isEqualTo("Ada");
        assertThat(store().book().lastLesson("Ada", "Drips")).isEqualTo("drip");
    }

    @Test
    void note_anything_satisfiesThePublishedSchema() throws IOException {
        note_allSortsOfChange_areThereTheNextTime();

        String schema = Files.readString(Path.of("..", "docs", "schema", "progress.schema.json"));
        assertThat(SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
                        .getSchema(schema)
                        .validate(text(), InputFormat.JSON))
                .isEmpty();
    }

    @Test
    void note_wrongOrFailedAfterwards_takesNothingBack() {
        ProgressStore store = store();
        right(store, "drip", 2);
        store.note(List.of(
                new Change.Answered(where("drip"), 2, "99", false),
                new Change.Checked(where("drip"), 3, PROGRAM, true),
                new Change.Checked(where("drip"), 3, LESSON, false)));

        assertThat(standing("drip").step(2)).isEqualTo(new Standing.Step(LESSON, true, 2, "12", "", "", 0));
        assertThat(standing("drip").step(3).done()).isTrue();
        assertThat(standing("drip").step(3).program()).isEqualTo(PROGRAM);
    }

    @Test
    void note_lapsed_opensTheStepAgain() {
        ProgressStore store = store();
        right(store, "drip", 2);
        store.note(List.of(new Change.Lapsed(where("drip"), 2)));

        assertThat(standing("drip").step(2).done()).isFalse();
    }

    /** Both have read the file before either has written to it. */
    @Test
    void note_twoSessionsInTurn_loseNothing() {
        ProgressStore one = store();
        ProgressStore other = store();
        right(one, "drip", 1);
        right(other, "count", 1);
        right(one, "drip", 2);

        assertThat(standing("drip").steps()).containsOnlyKeys(1, 2);
        assertThat(standing("count").steps()).containsOnlyKeys(1);
        assertThat(one.book().standings("Ada", "Drips")).containsOnlyKeys("drip", "count");
    }

    @Test
    void note_manySessionsAtOnce_loseNothing() throws Exception {
        ExecutorService threads = Executors.newFixedThreadPool(4);
        List<Future<?>> all = new ArrayList<>();
        for (int session = 0; session < 4; session++) {
            String lesson = "lesson-" + session;
            all.add(threads.submit(() -> {
                ProgressStore store = store();
                for (int step = 1; step <= 10; step++) {
                    right(store, lesson, step);
                }
                assertThat(store.takeTrouble()).isEmpty();
            }));
        }
        for (Future<?> one : all) {
            one.get();
        }
        threads.shutdown();

        for (int session = 0; session < 4; session++) {
            assertThat(standing("lesson-" + session).steps()).hasSize(10);
        }
    }

    // ---- other versions ----

    @Test
    void note_fieldsOfALaterVersion_areKept() throws IOException {
        put("""
                {"octurn": "progress 1", "colour": {"of": ["any", 1.50, null, true]}, "students": [
                  {"name": "Ada", "badge": 7, "courses": [{"title": "Drips", "lessons": [
                    {"id": "drip", "at": 1, "notes": "mine", "steps": [{"step": 1, "mood": "good"}]}]}]}]}
                """);
        right(store(), "drip", 1);

        assertThat(text())
                .contains("\"colour\":{\"of\":[\"any\",1.50,null,true]}")
                .contains("\"badge\":7")
                .contains("\"notes\":\"mine\"")
                .contains("\"mood\":\"good\"");
        assertThat(standing("drip").step(1).done()).isTrue();
    }

    @Test
    void note_fileOfALaterForm_isLeftAsItIsAndTold() throws IOException {
        String later = "{\"octurn\": \"progress 2\", \"students\": {\"Ada\": {}}}";
        put(later);
        ProgressStore store = store();
        right(store, "drip", 1);

        assertThat(text()).isEqualTo(later);
        assertThat(store.takeTrouble()).contains("later version").contains("--data");
        assertThat(store.takeTrouble()).isEmpty();
        assertThat(store.book().standings("Ada", "Drips")).containsKey("drip");
    }

    @Test
    void read_fieldsLeftOut_areNothingYet() throws IOException {
        put("{\"octurn\": \"progress 1\"}");

        assertThat(store().takeTrouble()).isEmpty();
        assertThat(store().book().lastStudent()).isEmpty();
    }

    // ---- broken files ----

    @ParameterizedTest
    @ValueSource(
            strings = {
                "",
                "{\"octurn\": \"progress 1\", \"stud",
                "[]",
                "null",
                "{}",
                "{\"octurn\": 1}",
                "{\"octurn\": \"design 1\"}",
                "{\"octurn\": \"progress 1\", \"students\": 5}",
                "{\"octurn\": \"progress 1\", \"students\": [{\"name\": []}]}",
                "{\"octurn\": \"progress 1\", \"octurn\": \"progress 1\"}",
                "{\"octurn\": \"progress 1\"} and more",
                "\u0000\u0001\ufffd"
            })
    void read_brokenFile_isSetAsideWithOneMessage(String broken) throws IOException {
        put(broken);
        ProgressStore store = store();

        assertThat(store.takeTrouble()).contains("is no file of progress").contains("progress.json.broken-1");
        assertThat(store.takeTrouble()).isEmpty();
        right(store, "drip", 1);
        assertThat(standing("drip").step(1).done()).isTrue();
        assertThat(Files.readString(file.resolveSibling("progress.json.broken-1")))
                .isEqualTo(broken);
    }

    @Test
    void read_brokenTwice_keepsBoth() throws IOException {
        put("first");
        store();
        put("second");
        store();

        assertThat(Files.readString(file.resolveSibling("progress.json.broken-1")))
                .isEqualTo("first");
        assertThat(Files.readString(file.resolveSibling("progress.json.broken-2")))
                .isEqualTo("second");
    }

    @Test
    void read_deeplyNestedFile_isSetAside() throws IOException {
        put("[".repeat(100_000));

        assertThat(store().takeTrouble()).contains("is no file of progress");
    }

    // ---- what can go wrong with files ----

    /** A process that ended in the middle of writing leaves a part beside the file, never half a file. */
    @Test
    void read_afterACrashInTheMiddleOfWriting_isAsBefore() throws IOException {
        right(store(), "drip", 1);
        String before = text();
        Files.writeString(file.resolveSibling(".progress.json.4711.part"), before.substring(0, before.length() / 2));

        ProgressStore store = store();
        assertThat(store.takeTrouble()).isEmpty();
        right(store, "drip", 2);
        assertThat(standing("drip").steps()).containsOnlyKeys(1, 2);
    }

    @Test
    @DisabledOnOs(OS.WINDOWS)
    void note_folderThatCannotBeWritten_isToldOnceAndTheLessonGoesOn() throws IOException {
        right(store(), "drip", 1);
        assumeTrue(file.getParent().toFile().setWritable(false));
        try {
            assumeTrue(!Files.isWritable(file.getParent()), "this user may write anywhere");
            ProgressStore store = store();
            right(store, "drip", 2);
            assertThat(store.takeTrouble()).contains("cannot be noted").contains("permission denied");
            right(store, "drip", 3);
            assertThat(store.takeTrouble()).isEmpty();
            assertThat(store.book().standings("Ada", "Drips").get("drip").steps())
                    .containsOnlyKeys(1, 2, 3);

            // Once it can be written again, nothing is missing.
            assertThat(file.getParent().toFile().setWritable(true)).isTrue();
            right(store, "drip", 4);
            assertThat(standing("drip").steps()).containsOnlyKeys(1, 2, 3, 4);
        } finally {
            assertThat(file.getParent().toFile().setWritable(true)).isTrue();
        }
    }

    @Test
    void note_fileInTheFoldersPlace_isToldOnceAndCaughtUpLater() throws IOException {
        Files.writeString(folder.resolve("octurn"), "a file");
        ProgressStore store = store();
        right(store, "drip", 1);
        assertThat(store.takeTrouble()).contains("cannot be");

        Files.delete(folder.resolve("octurn"));
        right(store, "drip", 2);
        assertThat(standing("drip").steps()).containsOnlyKeys(1, 2);
    }
}
