package octurn.json;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.util.stream.Stream;
import octurn.design.Design;
import octurn.design.Scenario;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The published schemas say the same as the readers, as far as a schema can. */
class SchemaTest {

    @ParameterizedTest
    @ValueSource(
            strings = {
                "design",
                "scenario",
                "run-report",
                "check-report",
                "listing",
                "design-report",
                "lesson",
                "course"
            })
    void schema_isOneOfDraft202012(String schema) {
        assertThat(Schemas.againstMetaSchema(Schemas.text(schema + ".schema.json")))
                .isEmpty();
    }

    static Stream<String> cases() {
        return GoldenFiles.names();
    }

    @ParameterizedTest
    @MethodSource("cases")
    void goldenFiles_satisfyTheSchemas(String name) {
        assertThat(Schemas.complaints("design", GoldenFiles.text(name + ".design.json")))
                .isEmpty();
        assertThat(Schemas.complaints("scenario", GoldenFiles.text(name + ".scenario.json")))
                .isEmpty();
        assertThat(Schemas.complaints("run-report", GoldenFiles.text(name + ".report.json")))
                .isEmpty();
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "{\"cores\": 0}",
                "{\"cores\": 33}",
                "{\"privateWords\": 15}",
                "{\"sharedWords\": 131073}",
                "{\"slotCycles\": 65}",
                "{\"slotCycles\": 1.5}",
                "{\"pins\": 33}",
                "{\"pins\": \"3\"}",
                "{\"name\": \"\"}",
                "{\"name\": \"a\\u001b\"}",
                "{\"name\": \"a\\u202e\"}",
                "{\"nam\": \"a\"}",
                "{\"cost\": {\"plain\": 0}}",
                "{\"cost\": {\"plan\": 1}}",
                "{\"cost\": 1}",
                "{\"clock\": {\"source\": \"quartz\"}}",
                "{\"clock\": {\"hertz\": 1000000001}}",
                "{\"admission\": {\"policy\": \"auction\"}}",
                "{\"admission\": {\"order\": []}}",
                "{\"admission\": {\"weights\": [1, 1, 1, 1, 1, 1, 1, 1]}}",
                "{\"admission\": {\"policy\": \"lottery\", \"order\": [0]}}",
                "{\"admission\": {\"policy\": \"lottery\", \"seed\": 0}}",
                "{\"admission\": {\"policy\": \"next-waiting\", \"order\": [0]}}",
                "{\"admission\": {\"policy\": \"priority\", \"order\": [0, 1, 2, 3, 4, 5, 6, 6]}}",
                "{\"admission\": {\"policy\": \"own-port\", \"seed\": 1}}",
                "[]"
            })
    void design_refusedByTheReader_isRefusedByTheSchema(String json) {
        assertThat(Readings.design(json)).isInstanceOf(Reading.Refused.class);
        assertThat(Schemas.complaints("design", json)).isNotEmpty();
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "{\"limit\": 0}",
                "{\"limit\": 9007199254740992}",
                "{\"inputs\": {}}",
                "{\"inputs\": [{\"pin\": 32, \"changes\": []}]}",
                "{\"inputs\": [{\"changes\": []}]}",
                "{\"inputs\": [{\"pin\": 1}]}",
                "{\"inputs\": [{\"pin\": 1, \"changes\": [], \"serial\": {\"from\": 0, \"cyclesPerBit\": 1, \"text\": \"\"}}]}",
                "{\"inputs\": [{\"pin\": 1, \"changes\": [{\"at\": 0, \"level\": 2}]}]}",
                "{\"inputs\": [{\"pin\": 1, \"square\": {\"from\": 0, \"period\": 0, \"high\": 0}}]}",
                "{\"inputs\": [{\"pin\": 1, \"square\": {\"from\": 0, \"period\": 1}}]}",
                "{\"inputs\": [{\"pin\": 1, \"serial\": {\"from\": 0, \"cyclesPerBit\": 1000000001, \"text\": \"\"}}]}"
            })
    void scenario_refusedByTheReader_isRefusedByTheSchema(String json) {
        assertThat(Readings.scenario(json)).isInstanceOf(Reading.Refused.class);
        assertThat(Schemas.complaints("scenario", json)).isNotEmpty();
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "{}",
                "{\"admission\": {}}",
                "{\"admission\": {\"order\": [0, 0, 1]}}",
                "{\"admission\": {\"policy\": \"lottery\", \"seed\": 4294967295}}",
                "{\"admission\": {\"policy\": \"priority\", \"order\": [7, 6, 5, 4, 3, 2, 1, 0]}}",
                "{\"name\": \"M\u00f6hren\", \"clock\": {\"source\": \"internal\"}}"
            })
    void design_takenByTheReader_isTakenByTheSchema(String json) {
        assertThat(Readings.design(json)).isInstanceOf(Reading.Accepted.class);
        assertThat(Schemas.complaints("design", json)).isEmpty();
    }

    @Test
    void scenario_takenByTheReader_isTakenByTheSchema() {
        String json = """
                { "limit": 9007199254740991, "inputs": [
                  { "pin": 2, "changes": [ { "at": 480, "level": 1 } ] },
                  { "pin": 3, "square": { "from": 0, "period": 4800, "high": 9000 } },
                  { "pin": 4, "serial": { "from": 1000, "cyclesPerBit": 417, "text": "" } } ] }
                """;
        Reading<Scenario> reading = Readings.scenario(json);
        assertThat(reading).isInstanceOf(Reading.Accepted.class);
        assertThat(Schemas.complaints("scenario", json)).isEmpty();
    }

    @Test
    void report_withAFieldMissing_isRefusedByTheSchema() {
        String report = GoldenFiles.text("07.report.json");
        for (String field : new String[] {"ended", "hotSpots", "codeWait", "kind", "busyCycles", "policy", "plain"}) {
            assertThat(report).contains("\"" + field + "\"");
            assertThat(Schemas.complaints("run-report", report.replace("\"" + field + "\"", "\"other\"")))
                    .as(field)
                    .isNotEmpty();
        }
    }

    @Test
    void writtenDesign_readAgain_isTheSame() throws Exception {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        DesignWriter.write(Design.DEFAULT, out);
        assertThat(Schemas.complaints("design", out.toString(StandardCharsets.UTF_8)))
                .isEmpty();
        assertThat(Readings.accepted(DesignReader.read("again", out.toByteArray())))
                .isEqualTo(Design.DEFAULT);
    }
}
