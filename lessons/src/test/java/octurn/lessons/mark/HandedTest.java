package octurn.lessons.mark;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.util.Arrays;
import octurn.lessons.mark.Handed.Chosen;
import octurn.lessons.mark.Handed.Unfit;
import octurn.lessons.mark.Handed.Wanted;
import octurn.lessons.mark.Item.Kind;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class HandedTest {

    private static final Wanted COUNT = new Wanted(3, "count.turn", ".turn");

    private static Item item(String path, Kind kind) {
        return new Item(path, kind, 10, Instant.EPOCH);
    }

    private static Handed file(String name, Kind kind) {
        return new Handed(name, kind, java.util.List.of(item(name, kind)));
    }

    private static Handed folder(String... paths) {
        return new Handed(
                "anna",
                Kind.FOLDER,
                Arrays.stream(paths)
                        .map(path -> item("anna/" + path, Kind.FILE))
                        .toList());
    }

    private static String path(Handed.Choice choice) {
        return choice instanceof Chosen chosen
                ? chosen.item().path()
                : ((Unfit) choice).status().text();
    }

    @ParameterizedTest
    @CsvSource({
        "anna.turn, anna",
        "ANNA.TURN, ANNA",
        "anna.design.json, anna",
        "anna b.docx, anna b",
        "J. Smith.turn, J. Smith",
        "anna, anna",
        ".turn, .turn",
        // An o and a diaeresis on their own become one letter.
        "Jo\u0308rg.turn, J\u00f6rg"
    })
    void student_ofAFile_isItsNameWithoutEnding(String entry, String student) {
        assertThat(file(entry, Kind.FILE).student()).isEqualTo(student);
    }

    @Test
    void student_ofAFolder_isItsWholeName() {
        assertThat(new Handed("v1.turn", Kind.FOLDER, java.util.List.of()).student())
                .isEqualTo("v1.turn");
    }

    @ParameterizedTest
    @CsvSource({
        "count.turn, anna/count.turn",
        "COUNT.Turn, anna/COUNT.Turn",
        "step-3.turn, anna/step-3.turn",
        "Step 03.turn, anna/Step 03.turn",
        "anything.turn, anna/anything.turn",
        "work/anything.turn, anna/work/anything.turn",
        "count.turn old/count.turn other.turn, anna/count.turn",
        "a.turn b.turn, wrong-name",
        "a/count.turn b/count.turn, wrong-name",
        "notes.txt, wrong-name"
    })
    void choose_theOnlyTask_takesTheFileThatFits(String files, String chosen) {
        assertThat(path(folder(files.split(" (?!0)", -1)).choose(COUNT, true))).isEqualTo(chosen);
    }

    @ParameterizedTest
    @CsvSource({
        "count.turn other.turn, anna/count.turn",
        "step-3.turn step-5.turn, anna/step-3.turn",
        "step-5.turn, missing",
        "notes.txt, wrong-name"
    })
    void choose_oneOfSeveralTasks_goesByTheName(String files, String chosen) {
        assertThat(path(folder(files.split(" ", -1)).choose(COUNT, false))).isEqualTo(chosen);
    }

    @Test
    void choose_nothingThere_isMissing() {
        assertThat(path(folder().choose(COUNT, true))).isEqualTo("missing");
    }

    @ParameterizedTest
    @CsvSource({"LINK, no-file", "OTHER, no-file", "UNREADABLE, unreadable", "FILE, anna.turn"})
    void choose_whatIsNoFile_isTold(Kind kind, String chosen) {
        assertThat(path(file("anna.turn", kind).choose(COUNT, true))).isEqualTo(chosen);
    }

    @Test
    void choose_oneFileForSeveralTasks_saysWhatToDo() {
        assertThat(((Unfit) file("anna.turn", Kind.FILE).choose(COUNT, false)).message())
                .contains("--step");
    }

    @Test
    void choose_aLinkInAFolder_isNotFollowed() {
        Handed handed = new Handed("anna", Kind.FOLDER, java.util.List.of(item("anna/count.turn", Kind.LINK)));
        assertThat(((Unfit) handed.choose(COUNT, true)).message()).contains("links are not followed");
    }
}
