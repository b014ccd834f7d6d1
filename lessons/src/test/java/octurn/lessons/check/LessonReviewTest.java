package octurn.lessons.check;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import octurn.diag.Diagnostic;
import octurn.lessons.Course;
import octurn.lessons.Folder;
import octurn.lessons.LessonFiles;
import octurn.lessons.check.LessonReview.Around;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class LessonReviewTest {

    private static final Course COURSE =
            new Course("All", Map.of("wait", "waiting", "slot", "a turn"), List.of("first-steps", "two-beds", "later"));

    private static List<String> review(Folder folder, Around around) {
        return LessonReview.review(folder.accepted(), folder, around).stream()
                .map(LessonReviewTest::shown)
                .toList();
    }

    private static String shown(Diagnostic one) {
        return "%s%s:%d %s"
                .formatted(
                        one.isError() ? "" : "warning ",
                        one.span().file(),
                        one.span().line(),
                        one.message());
    }

    @Test
    void review_ofALessonInOrder_findsNothing() {
        assertThat(review(Folder.twoBeds(), Around.NOTHING)).isEmpty();
        assertThat(review(Folder.twoBeds(), new Around("two-beds", COURSE, command -> null, page -> true)))
                .isEmpty();
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                // A file, what is changed in it, and what is then found.
                "count-model.turn | set   r2, 1 | set   r2, 2 | lesson.json:0 steps[5].do: the model answer fails \"count = 12 at the end\" (on default, beds = 6), with beds = 6, gap = 8: count is 24 at the end, not 12. It had been right until core 1 wrote 14 in cycle 77 at line 7 (bump r2, [count]).",
                "count-start.turn | post  r2, [count] | bump  r2, [count] | nothing",
                "tell.md | first.rotation} | first.core(9).wait} | tell.md:3 9 is not in 0..7",
                "read.turn | gap = 4 | gap = 4 +  | lesson.json:16 read.turn has errors",
                "lesson.json | wait + gap | wait | lesson.json:39 this gives the right answer, 12, with beds = 6, gap = 8",
                "lesson.json | \"choice\": 3 | \"choice\": 2 | lesson.json:55 choice 2 is right",
                "lesson.json | \"minutes\": 10 | \"minutes\": 60 | warning lesson.json:0 minutes: 60, but reading, questions and tasks take about 10",
                "lesson.json | \"needs\": [] | \"needs\": [\"later\"] | lesson.json:7 later does not come before this lesson",
                "lesson.json | \"needs\": [] | \"needs\": [\"earlier\"] | lesson.json:7 the course has no lesson \"earlier\"",
                "lesson.json | \"uses\": [\"slot\"] | \"uses\": [\"slots\"] | lesson.json:9 the course has no concept \"slots\"",
                "lesson.json | \"id\": \"two-beds\" | \"id\": \"later\" | lesson.json:0 id: later is not the folder's name, two-beds",
                "tell.md | chip.md#time | ../chip.md | tell.md:1 a link must not lead to ../chip.md",
                "tell.md | chip.md#time | none.md | tell.md:1 the documentation has no none.md",
                "lesson.json | \"do\": \"admission\" | \"do\": \"nowhere\" | lesson.json:32 no such command"
            })
    void review_findsWhatIsWrong(String file, String old, String changed, String found) {
        Folder folder = Folder.twoBeds().replacing(file, old, changed);
        Around around = new Around(
                "two-beds",
                COURSE,
                command -> command.equals("nowhere") ? "no such command" : null,
                page -> !page.equals("none.md"));
        List<String> all = review(folder, around);
        if (found.equals("nothing")) {
            assertThat(all).isEmpty();
        } else {
            assertThat(all).contains(found);
        }
    }

    @Test
    void startingProgram_thatPasses_isAnError() {
        Folder folder = Folder.twoBeds();
        byte[] model = folder.read("count-model.turn");
        assertThat(model).isNotNull();
        assertThat(review(folder.with("count-start.turn", model), Around.NOTHING))
                .contains(
                        "lesson.json:0 steps[5].do: count-start.turn passes every check as it is, with beds = 6, gap = 8, so there is nothing to do");
    }

    @Test
    void startingProgram_withErrors_isPointedOut() {
        assertThat(review(Folder.twoBeds().with("count-start.turn", "core 0\n oops\n"), Around.NOTHING))
                .contains("warning lesson.json:0 steps[5].do: count-start.turn has errors, with beds = 6, gap = 8");
    }

    @Test
    void file_thatNothingNames_isPointedOut() {
        assertThat(review(Folder.twoBeds().with("notes.md", "x"), Around.NOTHING))
                .containsExactly("warning lesson.json:0 nothing in the lesson names the file notes.md");
    }

    @Test
    void mistake_withSomeNumbersOnly_isFound() {
        // With three beds, the least there can be, the divisor is 0.
        Folder folder = Folder.twoBeds()
                .replacing(LessonFiles.LESSON, "\"least\": \"", "\"odd\": \"1 / (beds - 3)\", \"least\": \"");
        assertThat(review(folder, Around.NOTHING)).containsExactly("lesson.json:22 a division by 0");
    }
}
