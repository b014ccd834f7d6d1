package octurn.docs;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.asm.Block;
import octurn.asm.Program;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.diag.Diagnostic;
import octurn.json.Reading;
import octurn.json.ReportWriter;
import octurn.json.ScenarioReader;
import octurn.report.RunReports;
import octurn.run.Run;
import octurn.trace.Sink;
import tools.jackson.core.JsonParser;
import tools.jackson.core.JsonToken;
import tools.jackson.core.ObjectReadContext;
import tools.jackson.core.json.JsonFactory;

/**
 * A program of a page with its chip and its world.
 *
 * @param name of the program file
 * @param limit in cycles
 */
record Example(String name, String text, Design design, Scenario scenario, long limit) {

    static final Path PROGRAMS = Path.of("programs");

    private static final JsonFactory JSON = new JsonFactory();

    /** A program of {@code lessons/programs}, with the scenario beside it if there is one. */
    static Example ofFile(String name, Design design) throws IOException {
        Path scenario = PROGRAMS.resolve(name.replace(".turn", ".scenario.json"));
        Scenario world = Files.exists(scenario)
                ? accepted(ScenarioReader.read(scenario.toString(), Files.readAllBytes(scenario), design))
                : Scenario.QUIET;
        return new Example(name, Files.readString(PROGRAMS.resolve(name)), design, world, Run.DEFAULT_LIMIT);
    }

    /** What was read from a file without mistakes. */
    static <T> T accepted(Reading<T> reading) {
        assertThat(reading).isInstanceOf(Reading.Accepted.class);
        return ((Reading.Accepted<T>) reading).value();
    }

    Example with(Design other) {
        return new Example(name, text, other, scenario, limit);
    }

    /** A run of it, at cycle 0. */
    Run run() {
        return Run.of(program(), scenario, scenario.limit().orElse(limit));
    }

    /** The same with somebody who is told what happens. */
    Run run(Sink sink) {
        return Run.of(program(), scenario, scenario.limit().orElse(limit), sink);
    }

    private Program program() {
        Assembly assembly = assemble();
        assertThat(assembly).isInstanceOf(Assembly.Assembled.class);
        return ((Assembly.Assembled) assembly).program();
    }

    private Assembly assemble() {
        return Assembler.assemble(name, text.getBytes(StandardCharsets.UTF_8), design);
    }

    /**
     * Everything that a page can say of the run: the fields of the report by their path, as in
     * {@code cores.0.waits.max}; shared words by label too, as in {@code shared.count}, whose address is
     * {@code shared.count.address}.
     */
    Map<String, String> fields() throws IOException {
        Run run = run();
        run.finish();
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        ReportWriter.write(RunReports.of(run), ReportWriter.Dump.ALL, out);
        Map<String, String> fields = leaves(out.toString(StandardCharsets.UTF_8));
        for (Block block : run.program().blocks()) {
            if (block.kind() == Block.Kind.SHARED) {
                block.labels().forEach((label, address) -> {
                    fields.put("shared." + label, fields.getOrDefault("shared." + address, "0"));
                    fields.put("shared." + label + ".address", Integer.toString(address));
                });
            }
        }
        return fields;
    }

    /** The places of the mistakes, as {@code errors.0.line} and so on, and how many {@code errors} there are. */
    Map<String, String> mistakes() {
        Assembly assembly = assemble();
        assertThat(assembly).isInstanceOf(Assembly.Rejected.class);
        Map<String, String> fields = new LinkedHashMap<>();
        List<Diagnostic> errors = ((Assembly.Rejected) assembly).errors();
        fields.put("errors", Integer.toString(errors.size()));
        for (int i = 0; i < errors.size(); i++) {
            fields.put(
                    "errors.%d.line".formatted(i),
                    Integer.toString(errors.get(i).span().line()));
            fields.put(
                    "errors.%d.column".formatted(i),
                    Integer.toString(errors.get(i).span().column()));
        }
        return fields;
    }

    /** The values of a JSON text by their path. */
    static Map<String, String> leaves(String json) {
        Map<String, String> leaves = new LinkedHashMap<>();
        try (JsonParser parser = JSON.createParser(ObjectReadContext.empty(), json)) {
            parser.nextToken();
            collect(parser, new ArrayList<>(), leaves);
        }
        return leaves;
    }

    private static void collect(JsonParser parser, List<String> path, Map<String, String> leaves) {
        if (parser.currentToken() == JsonToken.START_OBJECT) {
            while (parser.nextToken() != JsonToken.END_OBJECT) {
                descend(parser, path, parser.currentName(), leaves);
            }
        } else if (parser.currentToken() == JsonToken.START_ARRAY) {
            for (int i = 0; parser.nextToken() != JsonToken.END_ARRAY; i++) {
                path.add(Integer.toString(i));
                collect(parser, path, leaves);
                path.remove(path.size() - 1);
            }
        } else {
            leaves.put(String.join(".", path), parser.getString());
        }
    }

    private static void descend(JsonParser parser, List<String> path, String name, Map<String, String> leaves) {
        parser.nextToken();
        path.add(name);
        collect(parser, path, leaves);
        path.remove(path.size() - 1);
    }
}
