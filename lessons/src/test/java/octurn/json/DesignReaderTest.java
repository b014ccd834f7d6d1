package octurn.json;

import static octurn.json.Readings.accepted;
import static octurn.json.Readings.design;
import static octurn.json.Readings.onlyProblem;
import static octurn.json.Readings.problems;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.Collections;
import java.util.List;
import java.util.stream.IntStream;
import octurn.design.Admission;
import octurn.design.Clock;
import octurn.design.Cost;
import octurn.design.Design;
import octurn.design.Field;
import octurn.diag.Diagnostic;
import octurn.diag.Span;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

class DesignReaderTest {

    @Test
    void design_emptyObject_isTheDefault() {
        assertThat(accepted(design("{}"))).isEqualTo(Design.DEFAULT);
    }

    @Test
    void design_everyField_isTaken() {
        Design read = accepted(design("""
                        {
                          "name": "zwölf Töpfe",
                          "cores": 4,
                          "privateWords": 16,
                          "sharedWords": 131072,
                          "slotCycles": 64,
                          "admission": { "policy": "rotation", "order": [3, 0, 1, 2, 3] },
                          "cost": { "plain": 2, "private": 3, "taken": 4, "multiply": 5, "divide": 6 },
                          "pins": 32,
                          "clock": { "source": "internal", "hertz": 5000000, "multiplier": 16, "tolerancePpm": 500000 }
                        }
                        """));
        assertThat(read)
                .isEqualTo(new Design(
                        "zwölf Töpfe",
                        4,
                        16,
                        131072,
                        64,
                        new Admission.Rotation(List.of(3, 0, 1, 2, 3)),
                        new Cost(2, 3, 4, 5, 6),
                        32,
                        new Clock(Clock.Source.INTERNAL, 5_000_000, 16, 500_000)));
    }

    @Test
    void order_leftOut_followsTheCores() {
        assertThat(accepted(design("{\"cores\": 3}")).admission()).isEqualTo(new Admission.Rotation(List.of(0, 1, 2)));
        assertThat(accepted(design("{\"cores\": 2, \"admission\": {\"policy\": \"priority\"}}"))
                        .admission())
                .isEqualTo(new Admission.Priority(List.of(0, 1)));
    }

    @Test
    void lottery_bare_hasEqualWeightsAndTheStandardSeed() {
        assertThat(accepted(design("{\"cores\": 2, \"admission\": {\"policy\": \"lottery\"}}"))
                        .admission())
                .isEqualTo(new Admission.Lottery(List.of(1, 1), 2463534242L));
    }

    @Test
    void lottery_weightsAndSeedAtTheirEnds_areTaken() {
        String json =
                "{\"cores\": 2, \"admission\": {\"policy\": \"lottery\", \"weights\": [1, 1000], \"seed\": 4294967295}}";
        assertThat(accepted(design(json)).admission()).isEqualTo(new Admission.Lottery(List.of(1, 1000), 4294967295L));
    }

    @ParameterizedTest
    @CsvSource({"next-waiting", "first-come", "own-port"})
    void policy_bare_isTaken(String policy) {
        assertThat(accepted(design("{\"admission\": {\"policy\": \"%s\"}}".formatted(policy)))
                        .admission()
                        .policy())
                .isEqualTo(policy);
    }

    @ParameterizedTest
    @EnumSource(Field.class)
    void number_atItsEnds_isTakenAndBeyondRefused(Field field) {
        assertThat(field.of(accepted(design(with(field, Integer.toString(field.min()))))))
                .isEqualTo(field.min());
        assertThat(field.of(accepted(design(with(field, Integer.toString(field.max()))))))
                .isEqualTo(field.max());
        for (String outside : List.of(
                Integer.toString(field.min() - 1),
                Long.toString(field.max() + 1L),
                "9007199254740993",
                "-9223372036854775809",
                "1" + "0".repeat(5000))) {
            Diagnostic problem = onlyProblem(design(with(field, outside)));
            assertThat(problem.message())
                    .startsWith(field.path() + ": ")
                    .endsWith(" is not in %d..%d".formatted(field.min(), field.max()));
        }
    }

    @ParameterizedTest
    @EnumSource(Field.class)
    void number_ofAnotherType_isRefused(Field field) {
        String range = "%d..%d".formatted(field.min(), field.max());
        for (String other : List.of("1.0", "1e0", "\"1\"", "true", "null", "[1]", "{}")) {
            Diagnostic problem = onlyProblem(design(with(field, other)));
            assertThat(problem.message())
                    .startsWith(field.path() + ": ")
                    .endsWith(" is not a whole number in " + range);
        }
    }

    private static String with(Field field, String value) {
        String path = field.path();
        int dot = path.indexOf('.');
        return dot < 0
                ? "{\"%s\": %s}".formatted(path, value)
                : "{\"%s\": {\"%s\": %s}}".formatted(path.substring(0, dot), path.substring(dot + 1), value);
    }

    @Test
    void problems_many_areAllToldInOrder() {
        assertThat(problems(design("""
                                        {
                                          "cores": 33,
                                          "coers": 8,
                                          "slotCycles": 1.0,
                                          "admission": { "policy": "rotatoin" },
                                          "cost": { "plain": 0, "plain": 1 },
                                          "pins": "many",
                                          "clock": 48000000
                                        }
                                        """)))
                .containsExactly(
                        "2:12 cores: 33 is not in 1..32",
                        "3:3 unknown field \"coers\"",
                        "4:17 slotCycles: 1.0 is not a whole number in 1..64",
                        "5:28 admission.policy: there is no \"rotatoin\"",
                        "6:22 cost.plain: 0 is not in 1..64",
                        "6:25 cost.plain is given twice",
                        "7:11 pins: the string \"many\" is not a whole number in 0..32",
                        "8:12 clock: 48000000 is not an object");
    }

    @Test
    void problem_hasPlaceLengthAndLine() {
        Diagnostic problem = onlyProblem(design("{\n  \"slotCycles\": 128\n}"));
        assertThat(problem.span()).isEqualTo(new Span("d.json", 2, 17, 3));
        assertThat(problem.sourceLine()).isEqualTo("  \"slotCycles\": 128");
    }

    @Test
    void column_afterWideCharacters_countsCharacters() {
        Diagnostic problem = onlyProblem(design("{\"name\": \"\uD83C\uDF31\uD83C\uDF31\", \"pins\": 99}"));
        assertThat(problem.span().column()).isEqualTo(24);
    }

    @Test
    void unknownField_nearOne_isSuggested() {
        assertThat(onlyProblem(design("{\"slotCycle\": 3}")).hint()).startsWith("did you mean \"slotCycles\"?");
        assertThat(onlyProblem(design("{\"cost\": {\"mulitply\": 3}}")).hint())
                .startsWith("did you mean \"multiply\"?");
        assertThat(onlyProblem(design("{\"admission\": {\"policy\": \"prioritiy\"}}"))
                        .hint())
                .startsWith("did you mean \"priority\"?");
    }

    @Test
    void unknownField_farFromAll_listsWhatIsAllowed() {
        assertThat(onlyProblem(design("{\"$schema\": \"x\"}")).hint())
                .isEqualTo("allowed here: name, cores, privateWords, sharedWords, slotCycles, admission, cost, pins,"
                        + " clock");
    }

    @Test
    void name_lengthAndCharacters_areChecked() {
        assertThat(accepted(design("{\"name\": \"%s\"}".formatted("\uD83C\uDF31".repeat(60))))
                        .name())
                .hasSize(120);
        assertThat(problems(design("{\"name\": \"\"}"))).containsExactly("1:10 name: 0 characters are not in 1..60");
        assertThat(problems(design("{\"name\": \"%s\"}".formatted("x".repeat(61)))))
                .containsExactly("1:10 name: 61 characters are not in 1..60");
        assertThat(problems(design("{\"name\": \"a\\u001bb\"}")))
                .containsExactly("1:10 name: the character U+001B is not printable");
        assertThat(problems(design("{\"name\": \"a\\u202eb\"}")))
                .containsExactly("1:10 name: the character U+202E is not printable");
        assertThat(problems(design("{\"name\": 8}"))).containsExactly("1:10 name: 8 is not a string");
    }

    @Test
    void rotationOrder_coreMissing_isAWarning() {
        Reading<Design> reading =
                design("{\"cores\": 4, \"admission\": {\"policy\": \"rotation\", \"order\": [0, 2, 2]}}");
        assertThat(accepted(reading).coresWithoutSlot()).containsExactly(1, 3);
        assertThat(problems(reading))
                .containsExactly("1:59 warning admission.order: cores 1, 3 have no slot, so they are never admitted");
    }

    @Test
    void rotationOrder_lengthAndNumbers_areChecked() {
        assertThat(accepted(design("{\"admission\": {\"order\": %s}}".formatted(numbers(256, 8))))
                        .rotationCycles())
                .isEqualTo(768);
        assertThat(problems(design("{\"admission\": {\"order\": %s}}".formatted(numbers(257, 8)))))
                .containsExactly("1:25 admission.order: 257 entries are not in 1..256");
        assertThat(problems(design("{\"admission\": {\"order\": []}}")))
                .containsExactly("1:25 admission.order: 0 entries are not in 1..256");
        assertThat(problems(design("{\"cores\": 2, \"admission\": {\"order\": [0, 1, 2, -1, \"0\"]}}")))
                .containsExactly(
                        "1:44 admission.order[2]: 2 is not in 0..1",
                        "1:47 admission.order[3]: -1 is not in 0..1",
                        "1:51 admission.order[4]: the string \"0\" is not a whole number in 0..1");
        assertThat(problems(design("{\"admission\": {\"order\": 3}}")))
                .containsExactly("1:25 admission.order: 3 is not an array");
    }

    private static String numbers(int count, int cores) {
        return IntStream.range(0, count).mapToObj(i -> i % cores).toList().toString();
    }

    @Test
    void priorityOrder_notEveryCoreOnce_isRefused() {
        assertThat(problems(design("{\"cores\": 4, \"admission\": {\"policy\": \"priority\", \"order\": [3, 1, 3]}}")))
                .containsExactly(
                        "1:59 admission.order: cores 0, 2 are missing",
                        "1:66 admission.order[2]: core 3 stands in it already");
        assertThat(accepted(design("{\"cores\": 3, \"admission\": {\"policy\": \"priority\", \"order\": [2, 0, 1]}}"))
                        .admission())
                .isEqualTo(new Admission.Priority(List.of(2, 0, 1)));
    }

    @Test
    void order_beforeTheWrongCores_isNotBlamedForThem() {
        assertThat(problems(design("{\"admission\": {\"policy\": \"priority\", \"order\": [0, 1]}, \"cores\": 99}")))
                .containsExactly("1:65 cores: 99 is not in 1..32");
    }

    @Test
    void weights_notOneForEachCore_areRefused() {
        assertThat(problems(design("{\"cores\": 3, \"admission\": {\"policy\": \"lottery\", \"weights\": [1, 2]}}")))
                .containsExactly("1:60 admission.weights: 2 weights for 3 cores");
        assertThat(problems(design("{\"cores\": 2, \"admission\": {\"policy\": \"lottery\", \"weights\": [0, 1001]}}")))
                .containsExactly(
                        "1:61 admission.weights[0]: 0 is not in 1..1000",
                        "1:64 admission.weights[1]: 1001 is not in 1..1000");
    }

    @Test
    void seed_outOfRange_isRefused() {
        for (String seed : List.of("0", "4294967296", "-1")) {
            assertThat(problems(design("{\"admission\": {\"policy\": \"lottery\", \"seed\": %s}}".formatted(seed))))
                    .containsExactly("1:45 admission.seed: %s is not in 1..4294967295".formatted(seed));
        }
    }

    @ParameterizedTest
    @CsvSource({
        "rotation, weights, [1]",
        "rotation, seed, 1",
        "next-waiting, order, [0]",
        "next-waiting, weights, [1]",
        "next-waiting, seed, 1",
        "priority, weights, [1]",
        "priority, seed, 1",
        "first-come, order, [0]",
        "first-come, weights, [1]",
        "first-come, seed, 1",
        "lottery, order, [0]",
        "own-port, order, [0]",
        "own-port, weights, [1]",
        "own-port, seed, 1"
    })
    void field_underAnotherPolicy_isRefused(String policy, String field, String value) {
        String json = "{\"admission\": {\"%s\": %s, \"policy\": \"%s\"}}".formatted(field, value, policy);
        assertThat(problems(design(json)))
                .containsExactly("1:16 admission.%s: not allowed under the policy %s".formatted(field, policy));
    }

    @Test
    void longLine_withVeryManyMistakes_staysQuick() {
        String json = "{\"admission\": {\"order\": [" + String.join(",", Collections.nCopies(200_000, "99")) + "]}}";
        List<String> problems = problems(design(json));
        assertThat(problems).hasSize(200_000);
        assertThat(problems.get(199_999)).isEqualTo("1:600023 admission.order[199999]: 99 is not in 0..7");
    }
}
