package octurn.cli.command;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.List;
import octurn.cli.Shell;
import octurn.cli.Shell.Outcome;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.DisabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The whole command, in lines of words. */
class LearnCommandTest {

    private static final Path COURSE = Path.of("src", "test", "resources", "octurn", "cli", "course");

    @TempDir
    Path home;

    private Outcome learn(String in, String... arguments) {
        return learn(new Shell(), in, arguments);
    }

    private Outcome learn(Shell shell, String in, String... arguments) {
        List<String> line = new ArrayList<>(List.of("learn", "--course", COURSE.toString()));
        line.addAll(List.of(arguments));
        return shell.home(home).in(in).run(line.toArray(String[]::new));
    }

    @Test
    void learn_inAPipe_goesThroughALesson() {
        Outcome outcome = learn("\n\n\n\n\n12\n9\n\n1\n\n");

        assertThat(outcome.err()).isEmpty();
        assertThat(outcome.exit()).isZero();
        assertThat(outcome.out().lines())
                .containsSubsequence(
                        "Drips, 0 of 2 done.",
                        "1. One drip (drip): next",
                        "Enter opens lesson 1; open N another one; help, quit.",
                        "One drip, step 1 of 4, read.",
                        "- It asks for the shared word soil.",
                        "Bed 4 asks for the shared word here.",
                        "Cycle 12, 0.250 \u00b5s.",
                        "One drip, step 3 of 4, a question.",
                        "Not 12. You counted the slot itself as well.",
                        "Right: 9 cycles. It asks, and its slot opens 9 cycles later.",
                        "This lesson is done. You can say how long the core of a bed waits for its first slot.");
    }

    @Test
    void learn_again_goesOnWhereItStopped() {
        learn("open drip\nskip\n");

        assertThat(learn("").out()).contains("1. One drip (drip): begun, step 2 of 4");
        assertThat(learn("\n").out()).contains("One drip, step 2 of 4, watch.");
    }

    @Test
    void learn_lessonNamed_beginsThere() {
        assertThat(learn("", "count").out()).startsWith("Count all drips, step 1 of 1, a task.");
        assertThat(learn("", "2").out()).startsWith("Count all drips");
        assertThat(learn("", "cuont").err()).isEqualTo("octurn: there is no lesson \"cuont\"; did you mean count?\n");
        assertThat(learn("", "cuont").exit()).isEqualTo(2);
    }

    @Test
    void learn_task_isWrittenCheckedAndPassed() throws IOException {
        assertThat(learn("\n", "count").out()).contains("Your file is " + home.resolve("octurn"), "2 of 4 passed");

        Path file = home.resolve("octurn").resolve("count.turn");
        Files.copy(COURSE.resolve("count").resolve("count-model.turn"), file, StandardCopyOption.REPLACE_EXISTING);
        assertThat(learn("check\n\n", "count").out()).contains("passed, all 4", "This lesson is done.");
        assertThat(home.resolve(".local/share/octurn/progress.json")).exists();
    }

    @Test
    void learn_withAName_keepsItApartAndRemembersIt() {
        learn("\n\n", "count", "--name", "Ada");
        assertThat(home.resolve("octurn/Ada/count.turn")).exists();

        assertThat(learn("").out()).contains("Drips, Ada");
        assertThat(learn("", "--name", "").out()).doesNotContain("Ada");
        assertThat(learn("", "--name", "x".repeat(81)).exit()).isEqualTo(2);
    }

    @Test
    void learn_foldersGiven_areUsed() {
        Path data = home.resolve("data");
        Path work = home.resolve("work");
        learn("\n", "count", "--data", data.toString(), "--work", work.toString());
        assertThat(data.resolve("progress.json")).exists();
        assertThat(work.resolve("count.turn")).exists();

        learn(
                new Shell()
                        .variable("OCTURN_DATA", home.resolve("d2").toString())
                        .variable("OCTURN_WORK", home.resolve("w2").toString()),
                "\n",
                "count");
        assertThat(home.resolve("d2/progress.json")).exists();
        assertThat(home.resolve("w2/count.turn")).exists();
    }

    @Test
    void learn_mistakes_areToldAndCounted() {
        Outcome outcome = learn("fly\nhint\nopen 9\nquit\n");

        assertThat(outcome.exit()).isEqualTo(2);
        assertThat(outcome.out().lines())
                .contains(
                        "Not done: there is no command \"fly\"; help lists all.",
                        "Not done: this is the list of lessons; open one first.",
                        "Not done: there is no lesson 9: 1..2.");
        assertThat(outcome.err()).isEmpty();
    }

    @Test
    void learn_endOfInputAnywhere_isClean() {
        String all = "\n\n\n\n9\nwatch\nwhy\n";
        for (int i = 0; i <= all.length(); i++) {
            Outcome outcome = learn(all.substring(0, i));
            assertThat(outcome.err()).isEmpty();
            assertThat(outcome.exit()).isIn(0, 2);
        }
    }

    @Test
    void learn_withoutUnicode_isAscii() {
        Outcome outcome = learn(
                new Shell().charset(StandardCharsets.US_ASCII), "\n\n\n\n\n9\n\n1\n\n", "--name", "\u00c5sa \u202e");

        assertThat(outcome.out()).matches("[\\n -~]+").doesNotContain("?sa").contains("\\u00c5sa \\u202e");
    }

    @Test
    void learn_brokenProgress_isSetAsideAndToldOnce() throws IOException {
        Path file = home.resolve(".local/share/octurn/progress.json");
        Files.createDirectories(file.getParent());
        Files.writeString(file, "\u001b[2J");

        assertThat(learn("").out().lines().filter(line -> line.startsWith("Note: ")))
                .singleElement()
                .asString()
                .contains("is no file of progress", "progress.json.broken-1");
        assertThat(learn("").out()).doesNotContain("Note: ");
    }

    // ---- courses ----

    @Test
    void learn_singleLesson_isACourseOfOne() {
        String folder = COURSE.resolve("drip").toString();
        Outcome outcome = new Shell().home(home).run("learn", "--say", "--course", folder);

        assertThat(outcome.out()).contains("One drip, 0 of 1 done.");
        assertThat(outcome.exit()).isZero();
    }

    @ParameterizedTest
    @CsvSource({"nowhere, there is no such folder", "course.json, is no folder"})
    void learn_noCourse_isToldInOneLine(String name, String message) {
        Outcome outcome = new Shell()
                .home(home)
                .run("learn", "--course", COURSE.resolve(name).toString());

        assertThat(outcome.exit()).isEqualTo(2);
        assertThat(outcome.err()).contains(message).hasLineCount(1);
    }

    @Test
    void learn_emptyFolder_isToldInOneLine() {
        Outcome outcome = new Shell().home(home).run("learn", "--course", home.toString());

        assertThat(outcome.exit()).isEqualTo(2);
        assertThat(outcome.err()).contains("there is no course.json in it, and no lesson.json");
    }

    @Test
    void learn_outsideTheDistribution_saysHowToNameACourse() {
        assertThat(new Shell().home(home).run("learn").err()).contains("name its folder with --course");
    }

    @Test
    void learn_courseWithMistakes_tellsWhere() throws IOException {
        Files.writeString(home.resolve("course.json"), "{\"octurn\": \"course 1\", \"lessons\": [5]}");
        Outcome outcome = new Shell().home(home).run("learn", "--course", home.toString());

        assertThat(outcome.exit()).isEqualTo(2);
        assertThat(outcome.err()).contains("course.json:1:").contains("error:");
    }

    /** Neither a lesson's name nor a link in its folder leads out of it. */
    @Test
    @DisabledOnOs(OS.WINDOWS)
    void learn_courseThatLeadsElsewhere_readsNothingThere() throws IOException {
        Path secret = Files.writeString(home.resolve("secret.md"), "the secret");
        Path course = Files.createDirectory(home.resolve("course"));
        Path lesson = Files.createDirectory(course.resolve("drip"));
        Files.writeString(
                course.resolve("course.json"),
                Files.readString(COURSE.resolve("course.json")).replace(", \"count\"", ""));
        for (String file : List.of("lesson.json", "drip.turn")) {
            Files.copy(COURSE.resolve("drip").resolve(file), lesson.resolve(file));
        }
        Files.createSymbolicLink(lesson.resolve("drip.md"), secret);

        Outcome outcome = new Shell().home(home).in("\n").run("learn", "--course", course.toString());
        assertThat(outcome.out()).doesNotContain("the secret").contains("has mistakes");
    }

    @ParameterizedTest
    @ValueSource(strings = {"../drip", "/etc", "a b", "drip/../drip"})
    void learn_lessonWithAPathForAName_isRefused(String name) throws IOException {
        Files.writeString(
                home.resolve("course.json"),
                "{\"octurn\": \"course 1\", \"title\": \"x\", \"concepts\": {}, \"lessons\": [\"%s\"]}"
                        .formatted(name));
        Outcome outcome = new Shell().home(home).run("learn", "--course", home.toString());

        assertThat(outcome.exit()).isEqualTo(2);
        assertThat(outcome.err()).doesNotContain("internal error");
    }
}
