package octurn.cli;

import static octurn.cli.Resources.program;
import static org.assertj.core.api.Assertions.assertThat;

import com.networknt.schema.InputFormat;
import com.networknt.schema.SchemaLocation;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/** What commands write as JSON satisfies the published schemas. */
class SchemaTest {

    private static final String ID = "https://octurn.invalid/schema/";
    private static final Path CASES = Path.of("..", "core", "src", "test", "resources", "octurn", "cases");

    private static final SchemaRegistry REGISTRY = SchemaRegistry.withDefaultDialect(
            SpecificationVersion.DRAFT_2020_12, builder -> builder.schemas(SchemaTest::textOf));

    private static String textOf(String id) {
        if (!id.startsWith(ID)) {
            return null;
        }
        try {
            return Files.readString(Path.of("..", "docs", "schema", id.substring(ID.length())));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static List<String> complaints(String schema, String json) {
        return REGISTRY
                .getSchema(SchemaLocation.of(ID + schema + ".schema.json"))
                .validate(json, InputFormat.JSON)
                .stream()
                .map(Object::toString)
                .toList();
    }

    static Stream<String> cases() {
        return IntStream.rangeClosed(1, 58).mapToObj("%02d"::formatted);
    }

    @ParameterizedTest
    @MethodSource("cases")
    void output_forAGoldenCase_satisfiesItsSchema(String name) {
        String program = CASES.resolve(name + ".turn").toString();
        String design = CASES.resolve(name + ".design.json").toString();
        String scenario = CASES.resolve(name + ".scenario.json").toString();
        Shell shell = new Shell();
        assertThat(complaints(
                        "run-report",
                        shell.run(
                                        "run",
                                        program,
                                        "--design",
                                        design,
                                        "--scenario",
                                        scenario,
                                        "--dump",
                                        "all",
                                        "--json",
                                        "-")
                                .out()))
                .isEmpty();
        assertThat(complaints(
                        "listing",
                        shell.run("list", program, "--design", design, "--json", "-")
                                .out()))
                .isEmpty();
        assertThat(complaints(
                        "check-report",
                        shell.run("check", program, "--design", design, "--json", "-")
                                .out()))
                .isEmpty();
        assertThat(complaints(
                        "pins-report",
                        shell.run("pins", program, "--design", design, "--scenario", scenario, "--json", "-")
                                .out()))
                .isEmpty();
        assertThat(complaints(
                        "design-report",
                        shell.run("design", design, "--json", "-").out()))
                .isEmpty();
    }

    /** Every line by itself; a run of some hundred thousand events is cut. */
    @ParameterizedTest
    @MethodSource("cases")
    void events_ofAGoldenCase_satisfyTheirSchema(String name) {
        String out = new Shell()
                .run(
                        "run",
                        CASES.resolve(name + ".turn").toString(),
                        "--design",
                        CASES.resolve(name + ".design.json").toString(),
                        "--scenario",
                        CASES.resolve(name + ".scenario.json").toString(),
                        "--cycles",
                        "600",
                        "--events",
                        "-")
                .out();
        List<String> lines = out.lines().toList();
        assertThat(lines.get(lines.size() - 1)).contains("\"event\":\"end\"");
        assertThat(lines)
                .allSatisfy(line -> assertThat(complaints("event", line)).isEmpty());
    }

    @ParameterizedTest
    @CsvSource({"broken.turn", "nothing.turn", "everything.turn"})
    void check_ofAnyProgram_satisfiesItsSchema(String name) {
        assertThat(complaints(
                        "check-report",
                        new Shell().run("check", program(name), "--json", "-").out()))
                .isEmpty();
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "serial-log.turn --serial 7",
                "serial-log.turn --serial 7 --baud 12000",
                "serial-log.turn --serial 3 --format 7E2",
                "blink.turn",
                "panel.turn --scenario ../lessons/programs/panel.scenario.json --serial 1 --from 1000"
            })
    void pins_ofAProgramWithPins_satisfyTheirSchema(String line) {
        String[] words = ("pins ../lessons/programs/" + line + " --json -").split(" ", -1);
        String json = new Shell().run(words).out();
        assertThat(json).isNotEmpty();
        assertThat(complaints("pins-report", json)).isEmpty();
    }

    @ParameterizedTest
    @CsvSource({"clock", "clock --source 5MHz --baud 9600 --hertz 440 --pulse 1.5ms --format 7E2"})
    void clock_satisfiesItsSchema(String line) {
        String json = new Shell().run((line + " --json -").split(" ", -1)).out();
        assertThat(json).isNotEmpty();
        assertThat(complaints("clock-report", json)).isEmpty();
    }

    @ParameterizedTest
    @CsvSource({"weighted", "lottery", "priority", "next-waiting", "own-port", "many"})
    void design_ofAnyPolicy_satisfiesItsSchema(String name) {
        String json = new Shell()
                .run("design", program(name + ".design.json"), "--json", "-")
                .out();
        assertThat(complaints("design-report", json)).isEmpty();
    }
}
