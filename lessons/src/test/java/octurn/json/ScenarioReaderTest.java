package octurn.json;

import static octurn.json.Readings.accepted;
import static octurn.json.Readings.onlyProblem;
import static octurn.json.Readings.problems;
import static octurn.json.Readings.scenario;
import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.OptionalLong;
import octurn.design.Admission;
import octurn.design.Clock;
import octurn.design.Cost;
import octurn.design.Design;
import octurn.design.Input;
import octurn.design.Scenario;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ScenarioReaderTest {

    @Test
    void scenario_emptyObject_isQuiet() {
        assertThat(accepted(scenario("{}"))).isEqualTo(Scenario.QUIET);
    }

    @Test
    void scenario_allKindsOfInput_areTaken() {
        Scenario read = accepted(scenario("""
                        {
                          "limit": 200000,
                          "inputs": [
                            { "pin": 2, "changes": [ { "at": 480, "level": 1 }, { "at": 960, "level": 0 } ] },
                            { "pin": 3, "square": { "from": 0, "period": 4800, "high": 1200, "until": 96000 } },
                            { "pin": 4, "serial": { "from": 1000, "cyclesPerBit": 417, "text": "ok\\n" } },
                            { "pin": 5, "square": { "from": 7, "period": 1, "high": 9 } },
                            { "pin": 6, "changes": [] }
                          ]
                        }
                        """));
        assertThat(read)
                .isEqualTo(new Scenario(
                        OptionalLong.of(200000),
                        List.of(
                                new Input.Changes(2, List.of(new Input.Change(480, 1), new Input.Change(960, 0))),
                                new Input.Square(3, 0, 4800, 1200, 96000),
                                new Input.Serial(4, 1000, 417, "ok\n"),
                                new Input.Square(5, 7, 1, 9, Input.NEVER),
                                new Input.Changes(6, List.of()))));
    }

    @Test
    void numbers_atTheirEnds_areTakenAndBeyondRefused() {
        String most = "9007199254740991";
        String above = "9007199254740992";
        assertThat(accepted(scenario("{\"limit\": %s}".formatted(most))).limit())
                .hasValue(Input.MAX_CYCLE);
        assertThat(problems(scenario("{\"limit\": %s}".formatted(above))))
                .containsExactly("1:11 limit: %s is not in 1..%s".formatted(above, most));
        assertThat(problems(scenario("{\"limit\": 0}")))
                .containsExactly("1:11 limit: 0 is not in 1..%s".formatted(most));
        assertThat(accepted(scenario(square(most, most, most))).inputs()).hasSize(1);
        assertThat(problems(scenario(square(above, "0", above))))
                .containsExactly(
                        "1:42 inputs[0].square.from: %s is not in 0..%s".formatted(above, most),
                        "1:70 inputs[0].square.period: 0 is not in 1..%s".formatted(most),
                        "1:81 inputs[0].square.high: %s is not in 0..%s".formatted(above, most));
        assertThat(problems(scenario(serial("0", "1000000001"))))
                .containsExactly("1:61 inputs[0].serial.cyclesPerBit: 1000000001 is not in 1..1000000000");
        assertThat(accepted(scenario(serial("0", "1000000000"))).inputs()).hasSize(1);
    }

    private static String square(String from, String period, String high) {
        return "{\"inputs\":[{\"pin\": 0, \"square\": {\"from\": %s, \"period\": %s, \"high\": %s}}]}"
                .formatted(from, period, high);
    }

    private static String serial(String from, String cyclesPerBit) {
        return "{\"inputs\":[{\"pin\": 0, \"serial\": {\"from\": %s, \"cyclesPerBit\": %s, \"text\": \"\"}}]}"
                .formatted(from, cyclesPerBit);
    }

    @Test
    void until_notAboveFrom_isRefused() {
        String json =
                "{\"inputs\":[{\"pin\": 0, \"square\": {\"from\": 9, \"period\": 1, \"high\": 1, \"until\": 9}}]}";
        assertThat(problems(scenario(json)))
                .containsExactly("1:78 inputs[0].square.until: 9 is not above from, which is 9");
    }

    @Test
    void pin_givenTwice_isRefusedAtTheSecond() {
        String json = """
                {"inputs": [
                  {"pin": 5, "changes": []},
                  {"pin": 5, "changes": []}]}
                """;
        assertThat(problems(scenario(json))).containsExactly("3:4 inputs[1].pin: pin 5 is given twice");
        assertThat(onlyProblem(scenario(json)).hint()).contains("inputs[0].pin");
    }

    @Test
    void pin_notOfTheDesign_isRefused() {
        assertThat(problems(scenario("{\"inputs\": [{\"pin\": 16, \"changes\": []}]}")))
                .containsExactly("1:21 inputs[0].pin: 16 is not in 0..15");
    }

    @Test
    void pin_ofADesignWithoutPins_isRefused() {
        Design none = new Design("no pins", 1, 16, 16, 1, new Admission.OwnPort(), Cost.DEFAULT, 0, Clock.DEFAULT);
        byte[] json = "{\"inputs\": [{\"pin\": 0, \"changes\": []}]}".getBytes(StandardCharsets.UTF_8);
        assertThat(problems(ScenarioReader.read("s.json", json, none)))
                .containsExactly("1:13 inputs[0].pin: the design has no pins");
    }

    @Test
    void input_withoutOrWithTwoWays_isRefused() {
        assertThat(problems(scenario("{\"inputs\": [{\"pin\": 1}]}")))
                .containsExactly("1:13 inputs[0]: nothing says what the pin does");
        assertThat(problems(scenario("""
                                        {"inputs": [{"pin": 1,
                                          "square": {"from": 0, "period": 0, "high": 1},
                                          "changes": [{"at": 0, "level": 2}]}]}
                                        """)))
                .containsExactly(
                        "2:35 inputs[0].square.period: 0 is not in 1..9007199254740991",
                        "3:3 inputs[0].changes: the pin has square already",
                        "3:34 inputs[0].changes[0].level: 2 is not in 0..1");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "{\"changes\": []} | 1:13 inputs[0].pin is missing",
                "{\"pin\": 1, \"changes\": [{\"at\": 1}]} | 1:36 inputs[0].changes[0].level is missing",
                "{\"pin\": 1, \"changes\": [{\"level\": 1}]} | 1:36 inputs[0].changes[0].at is missing",
                "{\"pin\": 1, \"serial\": {\"from\": 1, \"cyclesPerBit\": 1}} | 1:34 inputs[0].serial.text is missing",
                "{\"pin\": 1, \"square\": {\"from\": 1, \"high\": 1}} | 1:34 inputs[0].square.period is missing",
                "{\"pin\": 1, \"changes\": 1} | 1:35 inputs[0].changes: 1 is not an array",
                "{\"pin\": 1, \"changes\": [1]} | 1:36 inputs[0].changes[0]: 1 is not an object",
                "7 | 1:13 inputs[0]: 7 is not an object",
                "{\"pin\": 1, \"sqare\": 1, \"changes\": []} | 1:24 inputs[0]: unknown field \"sqare\"",
            })
    void input_withMistake_isRefused(String input, String expected) {
        assertThat(problems(scenario("{\"inputs\": [%s]}".formatted(input)))).containsExactly(expected);
    }

    @Test
    void changes_notAscending_areRefusedEach() {
        String json = """
                {"inputs": [{"pin": 1, "changes": [
                  {"at": 5, "level": 1},
                  {"at": 5, "level": 0},
                  {"at": 3, "level": 0},
                  {"at": 6, "level": 0}]}]}
                """;
        assertThat(problems(scenario(json)))
                .containsExactly(
                        "3:10 inputs[0].changes[1].at: 5 is not above 5, the cycle before it",
                        "4:10 inputs[0].changes[2].at: 3 is not above 5, the cycle before it");
    }

    @Test
    void text_anyCharacters_isKept() {
        String json =
                "{\"inputs\":[{\"pin\":0,\"serial\":{\"from\":0,\"cyclesPerBit\":1,\"text\":\"\\u0000€\\u001b\"}}]}";
        assertThat(((Input.Serial) accepted(scenario(json)).inputs().get(0)).text())
                .isEqualTo("\0€\u001b");
    }
}
