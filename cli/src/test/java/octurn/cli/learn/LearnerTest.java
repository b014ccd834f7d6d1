package octurn.cli.learn;

import static octurn.cli.learn.Learners.doing;
import static octurn.cli.learn.Learners.refusal;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Set;
import octurn.cli.learn.Learners.Drawer;
import octurn.cli.learn.Learners.LessonInMemory;
import octurn.cli.learn.Learners.Room;
import octurn.cli.view.ProseView;
import octurn.cli.view.Scene.Prompt;
import octurn.cli.view.Section;
import octurn.run.Progress;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class LearnerTest {

    private final Room room = new Room();

    private static String text(List<Section> sections) {
        StringBuilder text = new StringBuilder();
        for (Section section : sections) {
            text.append(section.label()).append('\n');
            ProseView.paragraphs(section.text())
                    .forEach(line -> text.append(line).append('\n'));
        }
        return text.toString();
    }

    private static String told(Learner learner) {
        return text(learner.told());
    }

    private static Reply answer(Learner learner, String answer) {
        return learner.run("answer " + answer, Progress.NONE);
    }

    // ---- moving about ----

    @Test
    void next_fromTheList_opensTheChosenLessonAndGoesThroughIt() {
        Learner learner = room.learner();

        assertThat(told(learner))
                .contains("Drips, 0 of 2 done.", "1. One drip (drip): next", "2. Count all drips (count)");
        assertThat(told(doing(learner, "next")))
                .contains("One drip, step 1 of 4, read.")
                .contains("Each of the eight beds of the greenhouse has a core. This one is for bed 4:");
        assertThat(told(doing(learner, "next"))).contains("step 2 of 4, watch", "See how bed 4 gets its slot.");
        assertThat(told(doing(learner, "back"))).contains("step 1 of 4");
        assertThat(told(doing(learner, "back"))).contains("1. One drip (drip): begun, step 1 of 4");
    }

    @Test
    void open_byNumberOrName_opensThatLesson() {
        assertThat(told(doing(room.learner(), "open 2"))).contains("Count all drips, step 1 of 1, a task.");
        assertThat(told(doing(room.learner(), "open drip"))).contains("One drip");
        assertThat(refusal(room.learner(), "open 3")).isEqualTo("there is no lesson 3: 1..2");
        assertThat(refusal(room.learner(), "open drop")).isEqualTo("there is no lesson \"drop\"; did you mean drip?");
        assertThat(refusal(room.learner(), "open One Drip"))
                .as("by a part of the title")
                .isEqualTo("there is no lesson \"One Drip\"; did you mean drip?");
        assertThat(refusal(room.learner(), "open oun"))
                .as("by a part of the name")
                .isEqualTo("there is no lesson \"oun\"; did you mean count?");
        assertThat(refusal(room.learner(), "open nosuch"))
                .isEqualTo("there is no lesson \"nosuch\": 1..2, or a name such as drip");
    }

    @Test
    void next_openQuestion_isRefusedAndSkipGoesOn() {
        Learner learner = doing(room.learner(), "open drip", "skip", "skip");

        assertThat(refusal(learner, "next")).contains("the question is still open");
        assertThat(told(doing(learner, "skip"))).contains("step 4 of 4");
        assertThat(told(doing(learner, "skip")))
                .contains("This is the end of the lesson, but it is not done yet.")
                .contains("Still open: step 3, 4.");
    }

    @Test
    void run_nonsense_isRefusedInOneLine() {
        Learner learner = room.learner();

        assertThat(refusal(learner, "fly")).isEqualTo("there is no command \"fly\"; help lists all");
        assertThat(refusal(learner, "hnt")).isEqualTo("there is no command \"hnt\"; did you mean hint?");
        assertThat(refusal(learner, "next week")).contains("nothing follows this command");
        assertThat(refusal(learner, "x".repeat(3000))).contains("too long");
        for (String command : List.of("hint", "check", "edit", "watch", "answer 3", "use", "new", "skip", "back")) {
            assertThat(refusal(learner, command)).contains("this is the list of lessons");
        }
    }

    // ---- questions ----

    @Test
    void answer_wrong_saysWhatWouldHaveMadeItRightAndCanBeTriedAgain() {
        Learner learner = doing(room.learner(), "open drip", "skip", "skip");

        // Bed 4 asks at 3; its slot opens at 12: 9 cycles. Whoever counts the slot itself says 12.
        assertThat(text(answer(learner, "12").news())).contains("Not 12", "You counted the slot itself as well.");
        assertThat(text(answer(learner, "11").news())).contains("Not 11").doesNotContain("9");
        assertThat(text(answer(learner, "9").news())).contains("Right: 9 cycles", "its slot opens 9 cycles later");
        assertThat(told(doing(learner, "next"))).contains("step 4 of 4");
        Standing.Step standing =
                room.memory.book().standings("", "Drips").get("drip").step(3);
        assertThat(standing.tries()).isEqualTo(3);
        assertThat(standing.answer()).isEqualTo("9");
        assertThat(standing.done()).isTrue();
    }

    @Test
    void answer_noNumber_isNoTry() {
        Learner learner = doing(room.learner(), "open drip", "skip", "skip");

        assertThat(refusal(learner, "answer soon")).contains("number");
        assertThat(room.memory.book().standings("", "Drips").get("drip").step(3).tries())
                .isZero();
    }

    @Test
    void watch_beforeAnyAnswer_isRefused() {
        Learner learner = doing(room.learner(), "open drip", "skip", "skip");

        assertThat(refusal(learner, "watch")).isEqualTo("answer first: the run would tell you");
        answer(learner, "1");
        doing(learner, "watch");
        assertThat(learner.walk()).isNotNull();
        assertThat(learner.walk().isLed()).isFalse();
        doing(learner, "quit");
        assertThat(learner.walk()).isNull();
        assertThat(told(learner)).contains("step 3 of 4");
    }

    @Test
    void learner_withAName_hasNumbersOfTheirOwnThatStay() {
        room.student = "Ada";
        String first = told(doing(room.learner(), "open drip"));
        room.student = "Ben";
        String other = told(doing(room.learner(), "open drip"));
        room.student = "Ada";

        assertThat(told(doing(room.learner(), "open drip"))).isEqualTo(first);
        assertThat(List.of(first, other)).allMatch(text -> text.matches("(?s).*for bed [2-6]:.*"));
    }

    // ---- watching ----

    @Test
    void walk_ofAScript_goesFromMomentToMomentAndBackToTheLesson() {
        Learner learner = doing(room.learner(), "open drip", "skip", "next");

        Walk walk = learner.walk();
        assertThat(walk).isNotNull();
        assertThat(walk.saying()).containsExactly("Bed 4 asks for the shared word here.");
        assertThat(walk.conversation().present().get(0)).startsWith("Cycle 3,");
        doing(learner, "next");
        assertThat(walk.saying()).containsExactly("Its slot opens, and it is let in, after 9 cycles.");
        assertThat(walk.conversation().present().get(0)).startsWith("Cycle 12,");
        assertThat(walk.isAtEnd()).isTrue();
        doing(learner, "back");
        assertThat(walk.saying()).containsExactly("Bed 4 asks for the shared word here.");
        assertThat(walk.conversation().present().get(0)).startsWith("Cycle 3,");
        doing(learner, "next", "next");
        assertThat(learner.walk()).isNull();
        assertThat(told(learner)).contains("step 3 of 4");
    }

    @Test
    void walk_leftEarly_comesBackToItsStep() {
        Learner learner = doing(room.learner(), "open drip", "skip", "next", "quit");

        assertThat(told(learner)).contains("step 2 of 4");
    }

    @Test
    void walk_steppedFreely_goesOnFromItsScript() {
        Learner learner = doing(room.learner(), "open drip", "skip", "next");
        learner.walk().conversation().reply("core 1");
        learner.walk().conversation().reply("end");

        doing(learner, "back", "next");
        assertThat(learner.walk().conversation().present().get(0)).startsWith("Cycle 12,");
        assertThat(learner.walk().conversation().present().get(2)).startsWith("Core 4 ");
    }

    /** A command that the stepper refuses is the author's mistake: the student is told, and not left alone. */
    @Test
    void walk_commandThatCannotBeDone_isTold() {
        room.lessons
                .get("drip")
                .put(
                        "lesson.json",
                        room.lessons.get("drip").text("lesson.json").replace("\"next request\"", "\"fly {bed}\""));
        Learner learner = doing(room.learner(), "open drip", "skip", "next");

        assertThat(String.join(" ", learner.walk().saying()))
                .contains("the lesson says \"fly 4\", which cannot be done: there is no command");
    }

    // ---- coming back ----

    @Test
    void learner_comingBack_goesOnWhereItStopped() {
        doing(room.learner(), "open drip", "skip", "skip", "answer 9");

        Learner again = room.learner();
        assertThat(told(again)).contains("1. One drip (drip): begun, step 3 of 4");
        assertThat(told(doing(again, "next"))).contains("step 3 of 4", "You have answered this: 9 cycles.");
    }

    @Test
    void learner_lessonDone_isToldAndTheNextOneIsChosen() {
        Learner learner = doing(
                room.learner(), "open drip", "next", "next", "next", "next", "answer 9", "next", "answer 1", "next");

        assertThat(told(learner)).contains("This lesson is done.");
        assertThat(told(doing(room.learner())))
                .contains("1 of 2 done", "1. One drip (drip): done", "2. Count all drips (count): next");
        assertThat(told(doing(learner, "next"))).contains("Count all drips, step 1 of 1");
        assertThat(told(doing(room.learner(), "open drip"))).contains("step 1 of 4");
    }

    @Test
    void learner_lessonChangedSince_keepsWhatStillHolds() {
        doing(room.learner(), "open drip", "skip", "skip", "answer 9", "next", "answer 1");
        String lesson = room.lessons.get("drip").text("lesson.json");

        room.lessons.get("drip").put("lesson.json", lesson.replace("One drip", "A drip"));
        doing(room.learner(), "open drip");
        assertThat(told(room.learner())).contains("1. A drip (drip): done");

        // Now the wait of another core is asked for, and the answer that was right is no longer.
        room.lessons
                .get("drip")
                .put("lesson.json", lesson.replace("\"first.core(bed).waits.max\"", "\"first.core(5).waits.max\""));
        doing(room.learner(), "open drip");
        assertThat(told(room.learner())).contains("1. One drip (drip): begun");
        assertThat(told(doing(room.learner(), "open drip", "skip", "skip")))
                .contains("step 3 of 4, a question.")
                .doesNotContain("answered");
    }

    @Test
    void learner_lessonWithMistakes_isInTheListAndCannotBeOpened() {
        room.lessons.get("drip").put("lesson.json", "{\"octurn\": \"lesson 1\"");
        Learner learner = room.learner();

        assertThat(told(learner)).contains("1. drip: has mistakes", "2. Count all drips (count): next");
        assertThat(refusal(learner, "open 1")).contains("this lesson has mistakes: ");
        assertThat(told(doing(learner, "open 2"))).contains("Count all drips");
    }

    /** The list reads no more of a lesson than it shows; the rest is read, and its mistakes told, when it is opened. */
    @Test
    void learner_lessonWithMistakesFurtherDown_isToldWhenItIsOpened() {
        LessonInMemory drip = room.lessons.get("drip");
        drip.put("lesson.json", drip.text("lesson.json").replace("\"@drip.md\"", "\"@dirp.md\""));
        Learner learner = room.learner();

        assertThat(told(learner)).contains("1. One drip (drip): next");
        assertThat(refusal(learner, "open 1"))
                .startsWith("this lesson has mistakes: lesson.json:")
                .contains("dirp.md");
        assertThat(told(learner)).contains("1. One drip (drip): has mistakes", "2. Count all drips (count): next");
        assertThat(learner.scene("", false, 0, new Prompt("", 0, 0, "")).toString())
                .contains("This lesson has mistakes in its files.", "dirp.md");
    }

    @Test
    void learner_list_readsOnlyTheLessonsOwnFile() {
        room.lessons.values().forEach(lesson -> lesson.files.keySet().retainAll(Set.of("lesson.json")));

        assertThat(told(room.learner())).contains("1. One drip (drip): next", "2. Count all drips (count)");
    }

    @Test
    void step_programWithMistakes_isToldAndCanBeSkipped() {
        room.lessons.get("drip").put("drip.turn", "core all\n fecth r1, [0]\n halt\n");
        Learner learner = doing(room.learner(), "open drip", "skip");

        assertThat(refusal(learner, "next")).contains("only the lesson's author can mend");
        assertThat(told(learner)).contains("unknown instruction \"fecth\"");
        assertThat(told(doing(learner, "skip"))).contains("This step has a mistake in it");
        assertThat(told(doing(learner, "skip"))).contains("step 4 of 4");
    }

    // ---- tasks ----

    private static final String FILE = "desk/count.turn";

    @Test
    void begin_task_writesTheProgramWithTheStudentsNumbersAndChecksIt() {
        Learner learner = doing(room.learner(), "open count", "next");

        assertThat(room.desk.text(FILE)).contains("drips = 30", "fetch r2, [count]");
        assertThat(told(learner))
                .contains("Your file: desk/count.turn")
                .contains("Check 1: 2 of 4 passed.")
                .contains("count")
                .contains("Look at what another core does between fetch and post.")
                .doesNotContain("bump");
        assertThat(refusal(learner, "next")).contains("the task is not done yet");
    }

    @Test
    void save_file_isCheckedOnceTheSavingIsOver() {
        Learner learner = doing(room.learner(), "open count", "next");
        assertThat(learner.checkIfSaved(Progress.NONE)).isNull();

        room.desk.save(FILE, "core all");
        assertThat(learner.checkIfSaved(Progress.NONE)).isNull();
        room.desk.save(FILE, Drawer.model());
        assertThat(learner.checkIfSaved(Progress.NONE)).isNull();
        Reply reply = learner.checkIfSaved(Progress.NONE);

        assertThat(reply).isNotNull();
        assertThat(reply.line()).contains("passed");
        assertThat(text(reply.news())).contains("Check 2: passed, all 4.");
        assertThat(learner.checkIfSaved(Progress.NONE)).isNull();
        assertThat(told(doing(learner, "next"))).contains("This lesson is done.");
        assertThat(room.memory
                        .book()
                        .standings("", "Drips")
                        .get("count")
                        .step(1)
                        .program())
                .hasSize(64);
    }

    @Test
    void save_fileWithErrors_tellsLineAndWhatWouldBeRight() {
        Learner learner = doing(room.learner(), "open count", "next");
        room.desk.save(FILE, "core all\n        bmup r1, [count]\n        halt\nshared\ncount: word 0\n");

        assertThat(text(learner.run("check", Progress.NONE).news()))
                .contains("the file has errors, so nothing was run")
                .contains("error in count.turn, line 2, column 9")
                .contains("bmup r1, [count]")
                .contains("did you mean bump?");
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "\u0000\u0001\u0002", "core all\nmore: jump more\nshared\ncount: word 0\n"})
    void check_emptyGarbageAndEndlessFiles_areResults(String text) {
        Learner learner = doing(room.learner(), "open count", "next");
        room.desk.save(FILE, text);

        assertThat(learner.run("check", Progress.NONE).line()).isEqualTo("check 2: not yet");
    }

    @Test
    void check_interrupted_isNoCheck() {
        Learner learner = doing(room.learner(), "open count", "next");

        Reply reply = learner.run("check", (cycle, target) -> false);
        assertThat(reply.line()).contains("interrupted");
    }

    @Test
    void begin_fileThere_asksAndNeverWritesOverIt() {
        room.desk.save(FILE, "; mine");
        Learner learner = doing(room.learner(), "open count", "next");

        assertThat(told(learner)).contains("desk/count.turn is there already");
        doing(learner, "new");
        assertThat(room.desk.text(FILE)).isEqualTo("; mine");
        assertThat(told(learner)).contains("Your file: desk/count-v2.turn");

        Room other = new Room();
        other.desk.save(FILE, "; mine");
        Learner user = doing(other.learner(), "open count", "next", "use");
        assertThat(other.desk.text(FILE)).isEqualTo("; mine");
        assertThat(told(user)).contains("Your file: desk/count.turn");
    }

    @Test
    void task_comingBack_findsTheFileAndChecksIt() {
        doing(room.learner(), "open count", "next");
        room.desk.save(FILE, Drawer.model());

        assertThat(told(doing(room.learner(), "open count"))).contains("passed, all 4.");

        room.desk.save(FILE, "core all\n halt\nshared\ncount: word 0\n");
        assertThat(told(doing(room.learner(), "open count"))).contains("It passed before, but does not as it is now.");
        room.desk.files.clear();
        assertThat(told(doing(room.learner(), "open count"))).doesNotContain("Your file");
    }

    @Test
    void hint_oneAtATime_neverTheSolution() {
        Learner learner = doing(room.learner(), "open count", "hint");

        assertThat(told(learner)).contains("hint 1 of 2", "the same old count").doesNotContain("hint 2 of 2");
        assertThat(told(doing(learner, "hint"))).contains("hint 2 of 2");
        assertThat(refusal(learner, "hint")).contains("no more hints");
        assertThat(told(doing(room.learner(), "open count"))).contains("hint 2 of 2");
    }

    @Test
    void edit_withAndWithoutAnEditor_writesTheFileFirst() {
        Learner learner = doing(room.learner(), "open count");

        assertThat(refusal(learner, "edit")).contains("VISUAL and EDITOR name no editor", "desk/count.turn");
        assertThat(room.desk.exists(FILE)).isTrue();
        room.desk.editor.add("ed");
        assertThat(learner.run("edit", Progress.NONE).kind()).isEqualTo(Reply.Kind.EDIT);
        assertThat(text(learner.editNow(Progress.NONE).news())).contains("passed, all 4.");
    }

    @Test
    void watch_ownProgram_opensItInTheStepper() {
        Learner learner = doing(room.learner(), "open count");
        assertThat(refusal(learner, "watch")).contains("no program of yours yet");

        doing(learner, "next", "watch");
        assertThat(learner.walk().conversation().reply("tell source")).anyMatch(line -> line.contains("drips"));
        doing(learner, "quit");
        room.desk.save(FILE, "broken");
        assertThat(refusal(learner, "watch")).contains("has errors");
    }

    // ---- what nobody would expect ----

    @Test
    void learner_hostileTextsAndNames_sayWhatTheySayAndDoNothing() {
        String evil = "\\u001b[2J{bed} <script>alert(1)</script> \\u202e";
        room.lessons.get("drip").put("drip.md", "# \u001b[2J\n\n<b>x</b> [link](javascript:alert(1)) \u0007\u202e\n");
        room.lessons
                .get("drip")
                .put(
                        "lesson.json",
                        room.lessons.get("drip").text("lesson.json").replace("One drip", evil.replace("{bed}", "x")));
        room.student = "\u001b]0;owned\u0007 ../../etc";
        LearnShow show = new LearnShow(room.learner(), Learners.UNICODE);

        for (String key : List.of("up", "enter", "enter", "enter", "enter", "5", "enter", "esc")) {
            assertThat(Learners.screen(show, 80, 24).codePoints())
                    .noneMatch(c -> Character.isISOControl(c) && c != '\n')
                    .noneMatch(c -> Character.getType(c) == Character.FORMAT);
            show.press(key, Progress.NONE);
        }
    }
}
