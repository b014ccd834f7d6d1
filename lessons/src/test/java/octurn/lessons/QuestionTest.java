package octurn.lessons;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.math.BigDecimal;
import java.util.Locale;
import java.util.Random;
import java.util.stream.LongStream;
import octurn.lessons.text.Prose;
import octurn.lessons.value.Unresolved;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

class QuestionTest {

    private static final String NUMBER = """
            { "octurn": "lesson 1", "id": "q", "title": "Q", "aim": "A", "minutes": 10,
              "runs": { "a": { "program": "a.turn" } },
              "steps": [ { "predict": { "ask": "How many?", "explain": "See.", %s } } ] }
            """;

    private static Question question(String answer) {
        Folder folder = Folder.lesson(NUMBER.formatted(answer)).with("a.turn", "core 0\n fetch r1, [0]\n halt\n");
        return question(folder, 0);
    }

    private static Question question(Folder folder, int step) {
        Sitting sitting = folder.sitting("");
        try {
            return sitting.question((Step.Predict) sitting.lesson().steps().get(step));
        } catch (Unresolved e) {
            throw new AssertionError(e.diagnostics().toString(), e);
        }
    }

    private static String slip(Judgement judgement) {
        Prose said = ((Judgement.Wrong) judgement).misconception();
        return said == null ? "" : said.plain();
    }

    // ---- numbers

    /** The wait of a fetch at cycle 0 on core 0 is 23 cycles: the worked example of docs/chip.md. */
    private static final String WAIT = "\"number\": \"a.core(0).waits.max\", \"unit\": \"cycles\"";

    @ParameterizedTest
    @ValueSource(
            strings = {
                "23",
                " 23 ",
                "23 cycles",
                "23cycles",
                "23 Cycles",
                "23 cycle",
                "+23",
                "23.0",
                "0x17",
                "0X17",
                "\uff12\uff13",
                "23\u00a0cycles"
            })
    void number_rightHoweverWritten_isRight(String answer) {
        assertThat(question(WAIT).judge(answer)).isEqualTo(new Judgement.Right("23 cycles", Prose.of("See.")));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "22",
                "24",
                "-23",
                "\u221223",
                "2.3",
                "230",
                "0",
                "23.000000000000000001",
                "0x23",
                "1,023",
                "9999999999999999"
            })
    void number_wrong_isWrong(String answer) {
        assertThat(question(WAIT).judge(answer)).isInstanceOf(Judgement.Wrong.class);
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "",
                "  ",
                "many",
                "2 3",
                "23 us",
                "23 23",
                "1,5",
                "1e1",
                "23,",
                "2,3",
                "23..",
                "--23",
                "NaN",
                "Infinity",
                "23 slots",
                "0x",
                "twenty-three",
                "23\u001b[2J",
                "1,0,0",
                "12,34,567"
            })
    void number_thatIsNone_isAskedForAgainWithoutTheRightOne(String answer) {
        assertThat(question(WAIT).judge(answer))
                .isInstanceOfSatisfying(
                        Judgement.NoAnswer.class,
                        none -> assertThat(none.message().replace(answer.strip(), ""))
                                .isNotBlank()
                                .doesNotContain("23 cycles", "\u001b"));
    }

    @ParameterizedTest
    @ValueSource(strings = {"48000000", "48,000,000", "48 000 000", "48_000_000", "48'000'000", "48\u2009000\u2009000"})
    void number_grouped_isRead(String answer) {
        assertThat(question("\"number\": \"a.clock\"").judge(answer)).isInstanceOf(Judgement.Right.class);
    }

    @Test
    void number_toBeShown_isGroupedWithItsUnit() {
        assertThat(((Judgement.Right) question("\"number\": \"a.clock\", \"unit\": \"Hz\"")
                                .judge("48000000"))
                        .right())
                .isEqualTo("48,000,000 Hz");
        assertThat(((Judgement.Right)
                                question("\"number\": 1, \"unit\": \"cycles\"").judge("1"))
                        .right())
                .isEqualTo("1 cycle");
    }

    @ParameterizedTest
    @CsvSource({"1.2, true", "1.0, true", "1.1, true", "1.21, false", "0.99, false", "1.2000001, false"})
    void number_withinTheTolerance_isRight(String answer, boolean right) {
        Judgement judgement =
                question("\"number\": \"1.1\", \"tolerance\": \"0.1\"").judge(answer);
        assertThat(judgement instanceof Judgement.Right).isEqualTo(right);
    }

    @ParameterizedTest
    @ValueSource(strings = {"0.08", ".08", "+.08", "0.08 percent", "0.08 %", ".08%", "0.08\uff05"})
    void number_ofPercent_isTakenHoweverItIsWritten(String answer) {
        assertThat(question("\"number\": \"0.08\", \"unit\": \"percent\"").judge(answer))
                .isInstanceOf(Judgement.Right.class);
    }

    @ParameterizedTest
    @ValueSource(strings = {".", "%", ".%", "0.08 %%", "0.08.", "..08"})
    void number_ofSignsAlone_isNone(String answer) {
        assertThat(question("\"number\": \"0.08\", \"unit\": \"percent\"").judge(answer))
                .isNotInstanceOfAny(Judgement.Right.class, Judgement.Wrong.class);
    }

    /** The sign is that of percent alone. */
    @Test
    void number_ofCycles_isNoneInPercent() {
        assertThat(question("\"number\": 8, \"unit\": \"cycles\"").judge("8 %"))
                .isNotInstanceOfAny(Judgement.Right.class, Judgement.Wrong.class);
    }

    @Test
    void number_withoutEndAndWithoutTolerance_isTheAuthorsMistake() {
        Folder folder = Folder.lesson(NUMBER.formatted("\"number\": \"1 / 3\"")).with("a.turn", "core 0\n halt\n");
        Sitting sitting = folder.sitting("");
        assertThatThrownBy(() ->
                        sitting.question((Step.Predict) sitting.lesson().steps().get(0)))
                .isInstanceOfSatisfying(
                        Unresolved.class,
                        e -> assertThat(e.diagnostics().get(0).message())
                                .startsWith("the right answer, 0.333333333333, has so many decimals"));
    }

    static LongStream seeds() {
        return LongStream.range(0, 200);
    }

    /** Whatever is typed: it is right only if it is a number as near to the right one as the tolerance says. */
    @ParameterizedTest
    @MethodSource("seeds")
    void number_atRandom_isRightOnlyIfItIs(long seed) {
        Random random = new Random(seed);
        long right = random.nextInt(5000);
        int tolerance = random.nextInt(3);
        long answer = right + random.nextInt(9) - 4;
        String written = random.nextBoolean() ? "%,d".formatted(answer) : answer + "." + random.nextInt(100);
        Judgement judgement = question("\"number\": %d, \"tolerance\": %d".formatted(right, tolerance))
                .judge(written);
        BigDecimal off = new BigDecimal(written.replace(",", ""))
                .subtract(BigDecimal.valueOf(right))
                .abs();
        assertThat(judgement instanceof Judgement.Right)
                .as("seed %d: %s for %d +- %d", seed, written, right, tolerance)
                .isEqualTo(off.compareTo(BigDecimal.valueOf(tolerance)) <= 0);
    }

    @ParameterizedTest
    @MethodSource("seeds")
    void text_atRandom_isNeverRight(long seed) {
        Random random = new Random(seed);
        String letters = "023 ,.'_-+xcyles\u0660\u00a0core";
        StringBuilder text = new StringBuilder();
        for (int i = random.nextInt(8); i >= 0; i--) {
            text.append(letters.charAt(random.nextInt(letters.length())));
        }
        Judgement judgement = question("\"number\": 987, \"unit\": \"cycles\"").judge(text.toString());
        assertThat(judgement).as("seed %d: %s", seed, text).isNotInstanceOf(Judgement.Right.class);
    }

    // ---- misconceptions

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                // The wait is 23; issue 1, slot 3, rotation 24 on the default design.
                "issue-cycle | 22 | That leaves out the issue cycle: an access works for 1 cycle before its request is up. It counts here: 1 more.",
                "issue-cycle | 24 | The issue cycle is counted in that.",
                "slot-itself | 20 | That leaves out the slot itself: once admitted, an access holds the memory for 3 cycles. They count here: 3 more.",
                "slot-itself | 26 | The slot itself is counted in that.",
                "slots-for-cycles | 69 | That counts cycles. Asked for are slots of 3 cycles each: divide by 3.",
                "off-by-one | 22 | That is one too few.",
                "off-by-one | 24 | That is one too many.",
                "whole-rotation | 47 | That is a whole rotation too many",
                "whole-rotation | 24 | That is a whole rotation, from one turn to the next.",
                "off-by-one | 25 | ''",
                "slots-for-cycles | 8 | ''"
            })
    void misconception_known_saysWhatWouldHaveMadeItRight(String known, String answer, String said) {
        Judgement judgement =
                question(WAIT + ", \"known\": [\"%s\"]".formatted(known)).judge(answer);
        assertThat(slip(judgement)).startsWith(said).doesNotContain("23");
    }

    @Test
    void slots_wherePossible_areToldFromCycles() {
        Question question = question("\"number\": 24, \"unit\": \"cycles\", \"known\": [\"slots-for-cycles\"]");
        assertThat(slip(question.judge("8"))).startsWith("That counts slots.");
    }

    @Test
    void misconceptions_twoThatFit_areBothNamed() {
        Question question = question(WAIT + ", \"known\": [\"issue-cycle\", \"whole-rotation\"]");
        assertThat(slip(question.judge("24")))
                .startsWith("It may be one of these:")
                .contains("issue cycle", "whole rotation");
    }

    @Test
    void misconception_thatSaysMore_comesBeforeOffByOne() {
        Question question = question(WAIT + ", \"known\": [\"off-by-one\", \"issue-cycle\"]");
        assertThat(slip(question.judge("22")))
                .startsWith("That leaves out the issue cycle")
                .doesNotContain("one too few");
    }

    @Test
    void misconception_ofTheAuthor_comesFirst() {
        Question question = question(
                WAIT + ", \"known\": [\"issue-cycle\"], \"wrong\": [{ \"gives\": 22, \"say\": \"My own *words*.\" }]");
        assertThat(slip(question.judge("22"))).isEqualTo("My own words.");
    }

    @Test
    void misconception_thatGivesTheRightAnswer_isNeverTold() {
        Question question = question(
                "\"number\": \"a.rotation\", \"tolerance\": 1, \"known\": [\"whole-rotation\", \"off-by-one\"]");
        for (String right : new String[] {"23", "24", "25"}) {
            assertThat(question.judge(right)).isInstanceOf(Judgement.Right.class);
        }
        assertThat(slip(question.judge("26"))).isEmpty();
    }

    // ---- cores and choices

    @ParameterizedTest
    @ValueSource(strings = {"1", "core 1", "Core 1", "core1", "01", "1.0"})
    void core_rightHoweverWritten_isRight(String answer) {
        assertThat(question(Folder.twoBeds(), 3).judge(answer))
                .isInstanceOfSatisfying(
                        Judgement.Right.class,
                        right -> assertThat(right.right()).isEqualTo("core 1"));
    }

    @ParameterizedTest
    @ValueSource(strings = {"8", "-1", "core", "1.5", "core 99", "", "1 2"})
    void core_thatThereIsNot_isAskedForAgain(String answer) {
        assertThat(question(Folder.twoBeds(), 3).judge(answer))
                .isEqualTo(
                        new Judgement.NoAnswer("The cores are numbered from 0 to 7: write a number, or as in core 3."));
    }

    @Test
    void core_foreseenWrong_isTold() {
        assertThat(slip(question(Folder.twoBeds(), 3).judge("0"))).isEqualTo("Its own slot lasts 3 cycles only.");
    }

    @ParameterizedTest
    @ValueSource(strings = {"2", "2.", "2)", " four cores", "FOUR CORES"})
    void choice_right_isRight(String answer) {
        assertThat(question(Folder.twoBeds(), 4).judge(answer.toLowerCase(Locale.ROOT)))
                .isInstanceOfSatisfying(
                        Judgement.Right.class,
                        right -> assertThat(right.right()).isEqualTo("2: four cores"));
    }

    @Test
    void choice_wrong_isToldWhereForeseen() {
        Question question = question(Folder.twoBeds(), 4);
        assertThat(slip(question.judge("3"))).isEqualTo("A longer slot makes the rotation longer.");
        assertThat(slip(question.judge("1"))).isEmpty();
        assertThat(question.judge("4")).isEqualTo(new Judgement.NoAnswer("Choose one: write a number from 1 to 3."));
    }

    @Test
    void choice_ofTwoEquallyGood_isTheAuthorsMistake() {
        Folder folder = Folder.twoBeds()
                .replacing(LessonFiles.LESSON, "\"value\": \"four.cycles\"", "\"value\": \"first.cycles\"");
        Folder tie =
                folder.replacing(LessonFiles.LESSON, "\"value\": \"wide.cycles\"", "\"value\": \"first.cycles + 1\"");
        Sitting sitting = tie.sitting("");
        assertThatThrownBy(() ->
                        sitting.question((Step.Predict) sitting.lesson().steps().get(4)))
                .isInstanceOfSatisfying(Unresolved.class, e -> {
                    assertThat(e.diagnostics().get(0).message()).startsWith("a tie: choices 1 and 2 both come to ");
                    assertThat(e.diagnostics().get(0).span().line()).isEqualTo(50);
                });
    }
}
