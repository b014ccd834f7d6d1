package octurn.json;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.util.stream.Stream;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.asm.Program;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.json.ReportWriter.Dump;
import octurn.report.RunReport;
import octurn.report.RunReports;
import octurn.run.Run;
import org.assertj.core.api.Assertions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;
import tools.jackson.databind.node.ObjectNode;

class ReportWriterTest {

    private static final JsonMapper JSON = new JsonMapper();

    static Stream<String> cases() {
        return GoldenFiles.names();
    }

    /** Every field, and the order of fields, from files in to file out. */
    @ParameterizedTest
    @MethodSource("cases")
    void report_ofAGoldenCase_isTheGoldenReport(String name) throws IOException {
        Design design = Readings.accepted(DesignReader.read(name, GoldenFiles.bytes(name + ".design.json")));
        Scenario scenario =
                Readings.accepted(ScenarioReader.read(name, GoldenFiles.bytes(name + ".scenario.json"), design));
        Program program = assembled(name + ".turn", GoldenFiles.bytes(name + ".turn"), design);
        Run run = Run.of(program, scenario, scenario.limit().orElse(Run.DEFAULT_LIMIT));
        run.finish();

        ObjectNode expected = (ObjectNode) JSON.readTree(GoldenFiles.text(name + ".report.json"));
        expected.remove("exit");
        assertThat(withoutMessages(written(RunReports.of(run), Dump.SHARED)))
                .isEqualTo(withoutMessages(expected.toString()));
    }

    /** Compact text; the messages of faults are the project's own and taken away. */
    private static String withoutMessages(String report) {
        JsonNode tree = JSON.readTree(report);
        for (JsonNode core : tree.get("cores")) {
            if (core.get("fault") instanceof ObjectNode fault) {
                assertThat(fault.remove("message").asString()).isNotBlank();
            }
        }
        return tree.toString();
    }

    private static Program assembled(String name, byte[] text, Design design) {
        return Assembler.assemble(name, text, design) instanceof Assembly.Assembled assembled
                ? assembled.program()
                : Assertions.fail(name);
    }

    private static String written(RunReport report, Dump dump) throws IOException {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        ReportWriter.write(report, dump, out);
        return out.toString(StandardCharsets.UTF_8);
    }

    private static RunReport small() {
        String text = "core 0\n set r1, -2\n store r1, [9]\n post r1, [3]\n halt\nshared\n word 7\n";
        Run run = Run.of(
                assembled("a\"b.turn", text.getBytes(StandardCharsets.UTF_8), Design.DEFAULT), Scenario.QUIET, 99);
        run.finish();
        return RunReports.of(run);
    }

    @Test
    void dump_saysWhichMemoriesAreWritten() throws IOException {
        JsonNode none = JSON.readTree(written(small(), Dump.NONE));
        JsonNode shared = JSON.readTree(written(small(), Dump.SHARED));
        JsonNode privately = JSON.readTree(written(small(), Dump.PRIVATE));
        JsonNode all = JSON.readTree(written(small(), Dump.ALL));

        assertThat(none.has("shared")).isFalse();
        assertThat(none.get("cores").get(0).has("private")).isFalse();
        assertThat(shared.get("shared").toString()).isEqualTo("{\"0\":7,\"3\":-2}");
        assertThat(shared.get("cores").get(0).has("private")).isFalse();
        assertThat(privately.has("shared")).isFalse();
        assertThat(privately.get("cores").get(0).get("private").get("9").asInt())
                .isEqualTo(-2);
        assertThat(privately.get("cores").get(7).get("private").isEmpty()).isTrue();
        assertThat(all.get("shared")).isEqualTo(shared.get("shared"));
        assertThat(all.get("cores")).isEqualTo(privately.get("cores"));
        assertThat(Schemas.complaints("run-report", all.toString())).isEmpty();
    }

    @Test
    void report_isOneLineWithItsEnd() throws IOException {
        assertThat(written(small(), Dump.ALL))
                .startsWith("{\"program\":\"a\\\"b.turn\",")
                .endsWith("}\n")
                .hasLineCount(1);
    }

    @Test
    void stream_thatFails_throwsItsOwnException() {
        OutputStream full = new OutputStream() {
            @Override
            public void write(int b) throws IOException {
                throw new IOException("no space left");
            }
        };
        Assertions.assertThatExceptionOfType(IOException.class)
                .isThrownBy(() -> ReportWriter.write(small(), Dump.NONE, full))
                .withMessage("no space left");
    }
}
