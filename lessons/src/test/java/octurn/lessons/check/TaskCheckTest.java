package octurn.lessons.check;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Random;
import java.util.stream.LongStream;
import octurn.lessons.Folder;
import octurn.lessons.Sitting;
import octurn.lessons.Step;
import octurn.lessons.value.Unresolved;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

class TaskCheckTest {

    private static final String LESSON = """
            { "octurn": "lesson 1", "id": "t", "title": "T", "aim": "A", "minutes": 10,
              "steps": [ { "do": { "text": "Do.", "start": "a.turn", "model": "a.turn", %s
                "checks": [ %s ] } } ] }
            """;

    private static CheckResult check(String more, String check, String source, Limits limits) {
        Folder folder = Folder.lesson(LESSON.formatted(more, check))
                .with("a.turn", "core 0\n halt\n")
                .with("world.scenario.json", "{\"inputs\": [{\"pin\": 9, \"changes\": [{\"at\": 5, \"level\": 1}]}]}");
        Sitting sitting = folder.sitting("");
        try {
            return TaskCheck.check(
                    sitting,
                    (Step.Task) sitting.lesson().steps().get(0),
                    "mine.turn",
                    source.getBytes(StandardCharsets.UTF_8),
                    limits);
        } catch (Unresolved e) {
            throw new AssertionError(e.diagnostics().toString(), e);
        }
    }

    private static Outcome outcome(String check, String source) {
        CheckResult result = check("\"on\": [{ \"cycles\": 20000 }],", check, source, Limits.OF_THE_TASK);
        assertThat(result).isInstanceOf(CheckResult.Checked.class);
        return ((CheckResult.Checked) result).outcomes().get(0);
    }

    private static final String LOST = """
            core 0, 1
                    set   r1, 3
            next:   fetch r2, [count]
                    add   r2, r2, 1
                    post  r2, [count]
                    again r1, next
                    halt

            shared
            count:  word 0
            """;

    /** Core 0 drives pin 4: high in cycles 3 to 13 and 34 to 43. */
    private static final String PULSES = """
            core 0
                    set   r1, 16
                    write out, r1
                    write drive, r1
                    set   r2, 0
                    pause 9
                    write out, r2
                    pause 19
                    write out, r1
                    pause 9
                    write out, r2
                    pause 9
                    halt
            """;

    private static String serial(String text) {
        return """
                bit = 50
                core 0
                        set   r1, 8
                        write out, r1
                        write drive, r1
                        set   r2, line
                        set   r3, end - line
                        read  r5, time
                char:   load  r4, [r2]
                        or    r4, r4, 0x100
                        shl   r4, r4, 4
                        set   r6, 10
                send:   add   r5, r5, bit
                        until r5
                        write out, r4
                        shr   r4, r4, 1
                        again r6, send
                        add   r2, r2, 1
                        again r3, char
                        add   r5, r5, bit
                        until r5
                        halt
                line:   text "%s"
                end:
                """.formatted(text);
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "{ \"shared\": \"count\", \"is\": 3 }",
                "{ \"shared\": \"count + 0\", \"words\": [3, 0] }",
                "{ \"register\": \"r2\", \"core\": 1, \"is\": 3 }",
                "{ \"cycles\": { \"most\": 151, \"least\": 1 } }",
                "{ \"waits\": { \"most\": \"run.waits\" } }",
                "{ \"waits\": { \"is\": \"run.core(1).waits\", \"core\": 1 } }",
                "{ \"longest-wait\": { \"most\": \"run.rotation\" } }",
                "{ \"instructions\": { \"is\": 28 } }",
                "{ \"words\": { \"most\": 6 } }",
                "{ \"words\": { \"is\": 6, \"core\": 1 } }",
                "{ \"measure\": \"run.accesses\", \"is\": 12 }",
                "{ \"no\": \"fault\" }",
                "{ \"no\": \"clash\" }",
                "{ \"no\": \"stuck\" }",
                "{ \"ends\": \"idle\" }",
                "{ \"with\": [\"post\"] }",
                "{ \"without\": [\"bump\", \"swap\"] }"
            })
    void check_thatHolds_passes(String check) {
        Outcome outcome = outcome(check, LOST);
        assertThat(outcome.message()).isEmpty();
        assertThat(outcome.passed()).isTrue();
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                // Core 0 fetches at 24 and posts at 48, core 1 at 3 and 27; then core 0 at 72 and 96, core 1 at 51 and
                // 75 ..
                "{ \"shared\": \"count\", \"is\": 6 } | 5 | 146 | count is 3 at the end, not 6. It never was right; at last core 0 wrote 3 in cycle 146 at line 5 (post r2, [count]).",
                "{ \"shared\": \"count\", \"is\": 2 } | 5 | 125 | count is 3 at the end, not 2. It had been right until core 1 wrote 3 in cycle 125 at line 5 (post r2, [count]).",
                "{ \"shared\": \"count + 1\", \"is\": 2 } | 0 | -1 | Shared word 1 is 0 at the end, not 2. Nothing was ever written there.",
                "{ \"register\": \"r1\", \"core\": 0, \"is\": 3 } | 6 | 52 | r1 of core 0 is 0 at the end, not 3. It had been right until core 0 wrote 2 in cycle 52 at line 6 (again r1, next).",
                "{ \"cycles\": { \"most\": 100 } } | 6 | 100 | The run takes cycles: 149, 49 more than 100. In cycle 100 core 0 was at line 6 (again r1, next), at work.",
                "{ \"waits\": { \"most\": 30, \"core\": 0 } } | 5 | 48 | It is 115, 85 more than 30. It goes over in cycle 48, when core 0 is admitted after 19 cycles at line 5 (post r2, [count]).",
                "{ \"longest-wait\": { \"most\": 20, \"core\": 0 } } | 3 | 24 | It is 22, 2 more than 20. It goes over in cycle 24, when core 0 is admitted after 22 cycles at line 3 (next: fetch r2, [count]).",
                "{ \"longest-wait\": { \"least\": 30 } } | 0 | -1 | It is 22, 8 less than 30.",
                "{ \"words\": { \"most\": 5 } } | 0 | -1 | It is 6, 1 more than 5.",
                "{ \"measure\": \"run.cycles / 2\", \"is\": 70 } | 0 | -1 | It is 74.5, 4.5 more than 70.",
                "{ \"without\": [\"post\"] } | 5 | -1 | Line 5 has a post.",
                "{ \"with\": [\"bump\", \"swap\"] } | 0 | -1 | There is no bump or swap in the program.",
                "{ \"ends\": \"limit\" } | 0 | -1 | All cores are idle from cycle 149 on.",
                "{ \"shared\": \"total\", \"is\": 3 } | 0 | -1 | There is no label total in the shared memory of mine.turn.",
                "{ \"private\": \"x\", \"core\": 0, \"is\": 3 } | 0 | -1 | There is no label x in core 0's section of mine.turn.",
                "{ \"level\": { \"pin\": 4, \"at\": 5, \"is\": 1 } } | 0 | 5 | In cycle 5 pin 4 is low. No core drives the pin then."
            })
    void check_thatFails_saysWhere(String check, int line, long cycle, String message) {
        Outcome outcome = outcome(check, LOST);
        assertThat(outcome.message()).isEqualTo(message);
        assertThat(outcome.passed()).isFalse();
        assertThat(outcome.line()).isEqualTo(line);
        assertThat(outcome.cycle()).isEqualTo(cycle);
    }

    /** Commas stand within numbers, so something else has to stand between them. */
    @Test
    void words_several_arePartedBySemicolons() {
        String check = "{ \"shared\": \"count\", \"words\": [-873187034, -873187034, 1000, 3] }";
        assertThat(outcome(check, LOST).what()).isEqualTo("count = -873,187,034; -873,187,034; 1,000; 3 at the end");
    }

    /** 0x74800000 is {@code bump r2, [0]}. */
    @Test
    void without_instructionWrittenAsData_failsIfItIsCarriedOut() {
        String without = "{ \"without\": [\"swap\", \"bump\"] }";
        String shared = "shared\ncount: word 0\n";
        String data =
                "core 0\n load r1, [table]\n set r2, 1\n jump over\ntable: word 0x74800000\nover: halt\n" + shared;
        assertThat(outcome(without, data).passed())
                .as("a word that is only data")
                .isTrue();

        Outcome run = outcome(without, data.replace("jump over", "jump table"));
        assertThat(run.passed()).isFalse();
        assertThat(run.line()).isEqualTo(5);
        assertThat(run.message())
                .isEqualTo("In cycle 5 core 0 begins bump r2, [0] at line 5 (table: word 0x74800000).");

        String far = "core 0\n far code\nshared\ncount: word 0\ncode: word 0x74800000\n halt\n";
        assertThat(outcome(without, far).message()).contains("begins bump r2, [0] at line 5 (code: word 0x74800000).");
    }

    @Test
    void without_instructionPutTogetherInTheRun_failsIfItIsCarriedOut() {
        String made = """
                core 0
                        big   r1, 0x74800000
                        store r1, [made]
                made:   word  0
                        halt

                shared
                count:  word 0
                """;
        Outcome outcome = outcome("{ \"without\": [\"bump\"] }", made);
        assertThat(outcome.line()).isEqualTo(4);
        assertThat(outcome.message()).contains("core 0 begins bump r2, [0] at line 4 (made: word 0)");
        assertThat(outcome("{ \"without\": [\"swap\"] }", made).passed()).isTrue();
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "{ \"pulse\": { \"pin\": 4, \"high\": { \"least\": 10, \"most\": 11 }, \"period\": { \"is\": 31 } } } | ''",
                "{ \"pulse\": { \"pin\": 4, \"high\": { \"most\": 10 } } } | The pulse that begins in cycle 3 lasts 11 cycles, not 0 to 10. Core 0, which drives the pin, was at line 5 (set r2, 0) then.",
                "{ \"pulse\": { \"pin\": 4, \"period\": { \"least\": 40 } } } | The period that begins in cycle 3 lasts 31 cycles, not at least 40. Core 0, which drives the pin, was at line 5 (set r2, 0) then.",
                "{ \"pulse\": { \"pin\": 5, \"high\": { \"most\": 10 } } } | There is no whole pulse on the pin.",
                "{ \"pulse\": { \"pin\": 20, \"high\": { \"most\": 10 } } } | The design has no pin 20.",
                "{ \"level\": { \"pin\": 4, \"at\": 13, \"is\": 1 } } | ''",
                "{ \"level\": { \"pin\": 4, \"at\": 14, \"is\": 1 } } | In cycle 14 pin 4 is low. Core 0, which drives the pin, was at line 8 (pause 19) then.",
                "{ \"level\": { \"pin\": 4, \"at\": 5000, \"is\": 1 } } | The run is over in cycle 54."
            })
    void pin_againstItsCheck_isMeasured(String check, String message) {
        assertThat(outcome(check, PULSES).message()).isEqualTo(message);
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "OK | OK | ''",
                "OK | OL | Byte 2, which begins in cycle 556, is \"L\" (0x4C), not \"K\" (0x4B).",
                "OK | OKAY | Byte 3, which begins in cycle 1,056, is one too many.",
                "OKAY | OK | The line says 2 bytes, not 4."
            })
    void serialLine_againstItsText_isDecoded(String wanted, String sent, String message) {
        String check =
                "{ \"serial\": { \"pin\": 3, \"baud\": \"run.clock / 50\", \"text\": \"%s\" } }".formatted(wanted);
        assertThat(outcome(check, serial(sent)).message()).startsWith(message);
        assertThat(outcome(check, serial(sent)).passed()).isEqualTo(message.isEmpty());
    }

    @Test
    void fault_isTold_withItsLineAndCycle() {
        Outcome outcome = outcome("{ \"no\": \"fault\" }", "core 3\n set r1, 0\n div r2, r1, r1\n halt\n");
        assertThat(outcome.message())
                .isEqualTo("Core 3 is in fault from cycle 2 on at line 3 (div r2, r1, r1): a division by 0.");
        assertThat(outcome.line()).isEqualTo(3);
        assertThat(outcome.cycle()).isEqualTo(2);
    }

    @Test
    void clash_isTold_withTheWriteThatBroughtItAbout() {
        Outcome outcome = outcome(
                "{ \"no\": \"clash\" }",
                "core 0, 1\n read r1, core\n write out, r1\n set r2, 1\n pause r1\n write drive, r2\n pause 5\n halt\n");
        assertThat(outcome.message())
                .endsWith("The first time in cycle 5 on pin 0, by core 1 at line 6 (write drive, r2).");
        assertThat(outcome.line()).isEqualTo(6);
    }

    @Test
    void stuck_isTold_withWhoWaits() {
        Outcome outcome = outcome("{ \"no\": \"stuck\" }", "core 2\n set r1, 2\n await r1, 2\n halt\n");
        assertThat(outcome.message())
                .isEqualTo(
                        "The run is stuck in cycle 2: nothing can ever happen again. In cycle 2 core 2 was at line 3 (await r1, 2), asleep.");
    }

    @Test
    void endlessLoop_isTold_withItsLine() {
        Outcome outcome = outcome("{ \"ends\": \"idle\" }", "core 0\nx: jump x\n");
        assertThat(outcome.message())
                .isEqualTo(
                        "The run has no end: it was stopped after 20,000 cycles. In cycle 20,000 core 0 was at line 2 (x: jump x), at work.");
    }

    @Test
    void say_ofAFailedCheck_isFilledFromTheRun() {
        Outcome outcome =
                outcome("{ \"shared\": \"count\", \"is\": 6, \"say\": \"There are {run.shared(count)}.\" }", LOST);
        assertThat(outcome.say().plain()).isEqualTo("There are 3.");
        assertThat(outcome.what()).isEqualTo("count = 6 at the end");
    }

    @Test
    void task_onSeveralRuns_isCheckedOnEach() {
        CheckResult result = check(
                "\"on\": [{}, { \"design\": \"four-cores\" }, { \"design\": \"own-port\", \"scenario\": \"world.scenario.json\" }],",
                "{ \"shared\": \"count\", \"is\": 6 }, { \"no\": \"fault\" }",
                LOST,
                Limits.OF_THE_TASK);
        List<Outcome> outcomes = ((CheckResult.Checked) result).outcomes();
        assertThat(outcomes)
                .extracting(Outcome::on)
                .containsExactly(
                        "on default",
                        "on default",
                        "on four-cores",
                        "on four-cores",
                        "on own-port, with world",
                        "on own-port, with world");
        assertThat(outcomes).extracting(Outcome::passed).containsExactly(false, true, false, true, false, true);
        assertThat(result.passed()).isFalse();
    }

    @Test
    void program_withErrors_isBrokenAndNotRun() {
        CheckResult result = check("", "{ \"no\": \"fault\" }", "core 0\n fitch r1, [0]\n", Limits.OF_THE_TASK);
        assertThat(((CheckResult.Broken) result).diagnostics())
                .singleElement()
                .satisfies(one -> assertThat(one.span().line()).isEqualTo(2))
                .satisfies(one -> assertThat(one.span().file()).isEqualTo("mine.turn"));
    }

    @Test
    void constant_thatTheTaskSets_mustBeThere() {
        CheckResult result = check(
                "\"on\": [{ \"set\": { \"beds\": 4 } }],",
                "{ \"no\": \"fault\" }",
                "core 0\n halt\n",
                Limits.OF_THE_TASK);
        assertThat(((CheckResult.Broken) result).diagnostics().get(0).message()).contains("beds");
    }

    @Test
    void limits_onCycles_holdWhateverTheTaskAllows() {
        CheckResult result = check("", "{ \"ends\": \"idle\" }", "core 0\nx: jump x\n", new Limits(1000, () -> false));
        assertThat(((CheckResult.Checked) result).outcomes().get(0).message()).contains("after 1,000 cycles");
    }

    @Test
    void limits_thatSayStop_stopIt() {
        CheckResult result = check(
                "\"on\": [{ \"cycles\": 50000000 }],",
                "{ \"ends\": \"idle\" }",
                "core 0\nx: jump x\n",
                new Limits(50_000_000, () -> true));
        assertThat(result).isEqualTo(new CheckResult.Stopped());
    }

    static LongStream seeds() {
        return LongStream.range(0, 60);
    }

    /** Whatever the bytes: a result, and in its words nothing that acts on a terminal. */
    @ParameterizedTest
    @MethodSource("seeds")
    void source_ofRandomBytes_isARowAndNoCrash(long seed) throws Unresolved {
        Random random = new Random(seed);
        byte[] bytes = new byte[random.nextInt(2000)];
        random.nextBytes(bytes);
        Folder folder = Folder.twoBeds();
        Sitting sitting = folder.sitting("Ada");
        CheckResult result = TaskCheck.check(
                sitting, sitting.lesson().tasks().get(0), "mine.turn", bytes, new Limits(1000, () -> false));
        assertThat(result.passed()).isFalse();
    }

    // ---- designs

    private static final String DESIGN_LESSON = """
            { "octurn": "lesson 1", "id": "t", "title": "T", "aim": "A", "minutes": 10,
              "steps": [ { "do": { "text": "Do.", "start": "a.design.json", "model": "b.design.json", "program": "a.turn",
                "on": [ { "scenario": "world.scenario.json" } ],
                "checks": [ { "measure": "run.cores", "most": 4 }, { "cycles": { "most": 20 } } ] } } ] }
            """;

    private static CheckResult checkDesign(String design) throws Unresolved {
        Folder folder = Folder.lesson(DESIGN_LESSON)
                .with("a.turn", "core 0\n fetch r1, [0]\n halt\n")
                .with("a.design.json", "{}")
                .with("b.design.json", "{\"cores\": 4}")
                .with("world.scenario.json", "{\"inputs\": [{\"pin\": 9, \"changes\": []}]}");
        Sitting sitting = folder.sitting("");
        return TaskCheck.check(
                sitting,
                sitting.lesson().tasks().get(0),
                "mine.design.json",
                design.getBytes(StandardCharsets.UTF_8),
                Limits.OF_THE_TASK);
    }

    @Test
    void design_asTheStudentsWork_isRunAndChecked() throws Unresolved {
        assertThat(checkDesign("{\"cores\": 4}").passed()).isTrue();
        assertThat(((CheckResult.Checked) checkDesign("{}")).outcomes())
                .extracting(Outcome::message)
                .containsExactly(
                        "It is 8, 4 more than 4.",
                        "The run takes cycles: 28, 8 more than 20. In cycle 20 core 0 was at line 2 (fetch r1, [0]), waiting for its turn.");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "{\"cores\": 0} | cores: 0 is not in 1..32",
                "nonsense | not JSON: \"nonsense\" cannot stand here",
                "{\"pins\": 4} | the design has no pin 9, to which the task's world.scenario.json gives a level"
            })
    void design_thatIsNone_isBroken(String design, String message) throws Unresolved {
        assertThat(((CheckResult.Broken) checkDesign(design))
                        .diagnostics()
                        .get(0)
                        .message())
                .isEqualTo(message);
    }
}
