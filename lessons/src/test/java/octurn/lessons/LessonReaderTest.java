package octurn.lessons;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Random;
import java.util.stream.LongStream;
import octurn.diag.Diagnostic;
import octurn.json.Reading;
import octurn.lessons.text.Prose;
import octurn.lessons.value.Unresolved;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

class LessonReaderTest {

    /** Each problem as {@code file:line:column message}. */
    private static List<String> problems(Folder folder) {
        return ((Reading.Refused<Lesson>) LessonReader.read(folder))
                .problems().stream().map(LessonReaderTest::shown).toList();
    }

    private static String shown(Diagnostic one) {
        return "%s:%d:%d %s"
                .formatted(one.span().file(), one.span().line(), one.span().column(), one.message());
    }

    @Test
    void lesson_inOrder_isWhatItsFilesSay() {
        Lesson lesson = Folder.twoBeds().accepted();
        assertThat(lesson.id()).isEqualTo("two-beds");
        assertThat(lesson.minutes()).isEqualTo(10);
        assertThat(lesson.vary().get("gap")).isEqualTo(new Vary(List.of(4L, 8L, 12L)));
        assertThat(lesson.runs().keySet()).containsExactly("first", "four", "wide");
        assertThat(lesson.runs().get("four").setup().design().cores()).isEqualTo(4);
        assertThat(lesson.runs().get("four").setup().cycles()).isEqualTo(5000);
        assertThat(lesson.runs().get("first").setup().cycles()).isEqualTo(1_000_000);
        assertThat(lesson.steps())
                .extracting(Step::kind)
                .containsExactly("tell", "watch", "predict", "predict", "predict", "do");
        Step.Task task = lesson.tasks().get(0);
        assertThat(task.checks()).hasSize(5);
        assertThat(task.hints()).hasSize(2);
        assertThat(task.on())
                .extracting(RunSetup::designName)
                .containsExactly("default", "four.design.json", "first-come");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "\"lesson 1\" | \"lesson 2\" | lesson.json:2:13 octurn: the string \"lesson 2\" is a form of a later version",
                "\"lesson 1\" | \"course 1\" | lesson.json:2:13 octurn: the string \"course 1\" is not this form",
                "\"id\": \"two-beds\" | \"id\": \"Two\" | lesson.json:3:9 id: the string \"Two\" cannot be",
                "\"title\" | \"titel\" | lesson.json:1:1 title is missing; lesson.json:4:3 unknown field \"titel\"",
                "\"minutes\": 10 | \"minutes\": 0 | lesson.json:6:14 minutes: 0 is not in 1..240",
                "\"to\": 9 | \"to\": 2 | lesson.json:12:26 vary.beds.to: from 3 to 2 are not 1..10000 numbers",
                "\"to\": 9 | \"to\": 9, \"one-of\": [1] | lesson.json:12:15 vary.beds.from: one-of is given already; lesson.json:12:26 vary.beds.to: one-of is given already",
                "\"beds\": { \"from\" | \"run\": { \"from\" | lesson.json:12:5 \"run\" cannot be defined: it has a meaning of its own",
                "\"wait\": \"first | \"beds\": \"first | lesson.json:21:5 \"beds\" is defined already",
                "\"program\": \"read.turn\", \"set\": { \"gap\": \"gap\" } }, | \"program\": \"reed.turn\" }, | lesson.json:16:27 runs.first.program: there is no file \"reed.turn\"",
                "\"design\": \"double-slot\" | \"design\": \"dubble-slot\" | lesson.json:18:49 runs.wide.design: there is no design \"dubble-slot\" at hand",
                "first.core(0).line(second).max | first.core(0).line(second).maxi | lesson.json:21:41 there is no measure maxi here",
                "\"first.core(0).wait / first.cycles\" | \"first.core(0).wait / frist.cycles\" | lesson.json:23:36 there is no run \"frist\"",
                "\"number\": \"wait\" | \"number\": \"wite\" | lesson.json:36:20 there is no value \"wite\"",
                "\"number\": \"wait\" | \"number\": true | lesson.json:36:19 steps[2].predict.number: true is no expression",
                "\"say\": \"It asked at cycle {first.when(request, 0, 2)}.\" | \"say\": \"It asked \\u00e9 {first.}.\" | lesson.json:31:86 the expression ends too early",
                "\"run\": \"first\" | \"run\": \"last\" | lesson.json:29:16 there is no run \"last\"",
                "\"right\": \"least\" | \"right\": \"leest\" | lesson.json:53:18 steps[4].predict.right: there is no \"leest\"",
                "{ \"tell\": \"@tell.md\" } | { \"tell\": \"@told.md\" } | lesson.json:26:15 steps[0].tell: there is no file \"told.md\"",
                "{ \"tell\": \"@tell.md\" } | { \"tell\": \"@../tell.md\" } | lesson.json:26:15 steps[0].tell: the string \"@../tell.md\" names no text",
                "{ \"tell\": \"@tell.md\" } | { \"tell\": \"a\", \"do\": {} } | lesson.json:26:20 steps[0].do: tell is given already",
                "\"model\": \"count-model.turn\" | \"model\": \"four.design.json\" | lesson.json:59:19 steps[5].do.model: not the same sort of file as start",
                "{ \"no\": \"fault\" } | { \"no\": \"folt\" } | lesson.json:68:19 steps[5].do.checks[2].no: there is no \"folt\"",
                "{ \"no\": \"fault\" } | { \"no\": \"fault\", \"ends\": \"idle\" } | lesson.json:68:28 steps[5].do.checks[2].ends: not allowed beside no",
                "{ \"no\": \"fault\" } | { \"say\": \"x\" } | lesson.json:68:11 steps[5].do.checks[2]: nothing says what is checked",
                "[\"swap\"] | [\"swop\"] | lesson.json:70:25 steps[5].do.checks[4].without[0]: there is no \"swop\"",
                "\"beds\": 9 | \"beds\": \"run.cycles\" | lesson.json:63:55 there is no run \"run\""
            })
    void mistake_inALesson_hasItsPlace(String old, String changed, String found) {
        assertThat(String.join("; ", problems(Folder.twoBeds().replacing(LessonFiles.LESSON, old, changed))))
                .startsWith(found);
    }

    @Test
    void mistake_inAFileBeside_hasItsPlaceThere() {
        assertThat(problems(Folder.twoBeds().replacing("tell.md", "{share:%}", "{shore:%}")))
                .containsExactly("tell.md:4:16 there is no value \"shore\"");
        assertThat(problems(Folder.twoBeds().with("four.design.json", "{\"cores\": 0}")))
                .containsExactly(
                        "four.design.json:1:11 cores: 0 is not in 1..32",
                        "four.design.json:1:11 cores: 0 is not in 1..32");
        assertThat(problems(Folder.twoBeds().with("tell.md", new byte[] {'a', '\n', (byte) 0xFF})))
                .containsExactly("tell.md:2:1 not UTF-8 text: the byte 0xFF cannot stand here");
    }

    @Test
    void values_thatNeedThemselves_areACircle() {
        Folder folder = Folder.twoBeds()
                .replacing(
                        LessonFiles.LESSON,
                        "\"set\": { \"gap\": \"gap\" } },\n    \"four\"",
                        "\"set\": { \"gap\": \"least\" } },\n    \"four\"");
        assertThat(problems(folder)).containsExactly("lesson.json:22:15 first needs least needs first: a circle");
    }

    @Test
    void mistakes_several_areAllTold() {
        Folder folder = Folder.twoBeds()
                .replacing(LessonFiles.LESSON, "\"minutes\": 10", "\"minutes\": \"ten\"")
                .replacing(LessonFiles.LESSON, "\"number\": \"wait\"", "\"number\": \"wite\"")
                .replacing(LessonFiles.LESSON, "{ \"no\": \"fault\" }", "{ \"no\": 5 }");
        assertThat(problems(folder)).hasSize(3);
    }

    @Test
    void lesson_withoutItsFile_isRefused() {
        assertThat(problems(Folder.lesson("{}").without(LessonFiles.LESSON)))
                .containsExactly("lesson.json:0:0 there is no such file");
    }

    static LongStream seeds() {
        return LongStream.range(0, 200);
    }

    /** A lesson with a piece of it lost or doubled: an answer, and no exception. */
    @ParameterizedTest
    @MethodSource("seeds")
    void lesson_damagedAtRandom_isReadOrRefused(long seed) {
        Random random = new Random(seed);
        String json = new String(bytes(Folder.twoBeds()), StandardCharsets.UTF_8);
        int start = random.nextInt(json.length());
        int end = Math.min(json.length(), start + 1 + random.nextInt(12));
        String piece = random.nextBoolean() ? "" : json.substring(start, end).repeat(2);
        Folder folder =
                Folder.twoBeds().with(LessonFiles.LESSON, json.substring(0, start) + piece + json.substring(end));
        assertThat(LessonReader.read(folder)).as("seed %d", seed).isNotNull();
    }

    private static byte[] bytes(Folder folder) {
        byte[] bytes = folder.read(LessonFiles.LESSON);
        return bytes == null ? new byte[0] : bytes;
    }

    // ---- working through it

    @Test
    void sitting_fillsTextsFromTheRuns() throws Unresolved {
        Sitting sitting = Folder.twoBeds().sitting("");
        Prose prose = sitting.prose(((Step.Tell) sitting.lesson().steps().get(0)).text());
        assertThat(prose.plain())
                .startsWith("Whose turn is it? The rotation takes 24 cycles, 0.500 \u00b5s at 48 MHz.")
                .contains("the longest wait here is 12")
                .contains("A brace is {.")
                .endsWith("set r1, 8");
    }

    @Test
    void sitting_showsTheProgramWithTheStudentsNumbers() throws Unresolved {
        Sitting sitting = Folder.twoBeds().sitting("");
        Sitting.Show show = sitting.show((Step.Watch) sitting.lesson().steps().get(1));
        assertThat(show.program().constants()).containsEntry("gap", 8L);
        assertThat(show.script()).extracting(Sitting.Line::command).containsExactly("to 36", "admission");
        assertThat(show.script().get(0).say().plain()).isEqualTo("It asked at cycle 36.");
        assertThat(show.script().get(1).say().plain()).isEqualTo("And is in at 48, in its slot.");
    }

    @Test
    void start_ofATask_hasTheStudentsNumbers() throws Unresolved {
        Sitting sitting = Folder.twoBeds().sitting("");
        String start = new String(sitting.start(sitting.lesson().tasks().get(0)), StandardCharsets.UTF_8);
        assertThat(start).contains("beds = 6        ; beds of a core\n").contains("set   r1, beds");
    }
}
