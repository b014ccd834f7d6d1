package octurn.cli.command;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalInt;
import java.util.concurrent.Callable;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.asm.Program;
import octurn.cli.json.CompareJson;
import octurn.cli.plot.Plots;
import octurn.cli.process.Exit;
import octurn.cli.process.Failure;
import octurn.cli.process.InputFiles;
import octurn.cli.process.OutputFile;
import octurn.cli.process.Surroundings;
import octurn.cli.view.CompareView;
import octurn.compare.Comparison;
import octurn.compare.Comparison.Entry;
import octurn.compare.Comparison.Ran;
import octurn.compare.Comparison.Unfit;
import octurn.design.Design;
import octurn.design.NamedDesigns;
import octurn.design.Scenario;
import octurn.diag.Diagnostic;
import octurn.report.RunReports;
import octurn.run.Run;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code octurn compare}: runs a program under several designs. */
@Command(
        name = "compare",
        customSynopsis = {
            "octurn compare PROGRAM [--design FILE|NAME]..",
            "                      [--scenario FILE] [--cycles N] [--set NAME=VALUE]..",
            "                      [--json FILE] [--plot FILE]"
        },
        description = "Runs a program under several designs and lays the runs side by side; the first design is the"
                + " yardstick. A sentence for each says why it takes longer or shorter, and a result that depends on"
                + " timing is pointed out.",
        footer = {
            "Designs by name, each the default with one thing changed; without --design",
            "all of them are compared:",
            "  default         eight cores in plain rotation, slots of 3 cycles",
            "  half-slot       slots of 2 cycles (half of 3, rounded up)",
            "  shortest-slot   slots of 1 cycle",
            "  double-slot     slots of 6 cycles",
            "  four-cores      four cores, and so half the rotation",
            "  sixteen-cores   sixteen cores, and so twice the rotation",
            "  weighted        core 0 has every second slot",
            "  next-waiting    on demand: the next requesting core after the last",
            "  priority        on demand: the lowest requesting core",
            "  first-come      on demand: the oldest request",
            "  lottery         on demand: a draw among the requesting cores",
            "  own-port        a port for each core: access for access, no memory beats it"
        },
        exitCodeList = {"0:done", "1:an internal error", "2:bad usage, or a program with errors under every design"})
final class CompareCommand implements Callable<Integer> {

    private static final int MOST_DESIGNS = 100;

    private final Surroundings surroundings;

    @Parameters(paramLabel = "PROGRAM", description = "the program file, *.turn")
    @SuppressWarnings("NullAway.Init")
    private String programFile;

    @Option(
            names = "--design",
            paramLabel = "FILE|NAME",
            description = "a design, *.design.json or a name from the list below; may be given again")
    private List<String> designFiles = List.of();

    @Mixin
    private final RunInputs inputs = new RunInputs();

    @Mixin
    private final JsonOption json = new JsonOption();

    @Mixin
    private final PlotOption plot = new PlotOption();

    CompareCommand(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    /** A design with what it is called in the table. */
    private record Candidate(String name, Design design) {}

    @Override
    public Integer call() throws IOException {
        Sources sources = new Sources(surroundings);
        List<Candidate> candidates = candidates(sources);
        byte[] text = InputFiles.read(programFile);
        Scenario scenario = inputs.scenario(sources);
        List<Entry> entries =
                scenario == null || sources.wrong() ? List.of() : entries(sources, candidates, text, scenario);
        sources.tell();
        if (sources.wrong()) {
            return Exit.USAGE;
        }
        List<String> read = new ArrayList<>(designFiles);
        read.add(programFile);
        read.addAll(RunInputs.given(inputs.scenarioFile()));
        String[] files = read.toArray(String[]::new);
        try (OutputFile file = json.open(surroundings, files);
                OutputFile picture = plot.open(surroundings, files)) {
            Comparison comparison = Comparison.of(entries);
            String program = programName();
            if (file != null) {
                file.write(out -> CompareJson.write(program, comparison, out));
            }
            if (picture != null) {
                plot.write(picture, () -> Plots.comparison(program, comparison));
            }
            if (file == null || !file.isStandardOutput()) {
                surroundings.print(
                        CompareView.lines(program, comparison, surroundings.glyphs(), surroundings.columns()));
            }
        }
        return Exit.OK;
    }

    private List<Candidate> candidates(Sources sources) {
        List<Candidate> candidates = new ArrayList<>();
        if (designFiles.isEmpty()) {
            for (NamedDesigns.Named named : NamedDesigns.all()) {
                candidates.add(new Candidate(named.name(), named.design()));
            }
        }
        if (designFiles.size() > MOST_DESIGNS) {
            throw new Failure("%d designs are more than can be compared at once: at most %d"
                    .formatted(designFiles.size(), MOST_DESIGNS));
        }
        for (String file : designFiles) {
            Design design = sources.design(file);
            if (design != null) {
                boolean named = NamedDesigns.of(file).isPresent();
                candidates.add(new Candidate(named ? file : design.name(), design));
            }
        }
        return candidates;
    }

    private List<Entry> entries(Sources sources, List<Candidate> candidates, byte[] text, Scenario scenario) {
        List<Entry> entries = new ArrayList<>();
        List<Diagnostic> firstErrors = List.of();
        boolean any = false;
        for (Candidate candidate : candidates) {
            RunInputs.Setting setting = inputs.set(candidate.design());
            Sources.checkConstants(
                    programFile, text, setting.design(), setting.constants().keySet());
            Assembly assembly = Assembler.assemble(programFile, text, setting.design(), setting.constants());
            if (assembly instanceof Assembly.Assembled assembled) {
                any = true;
                entries.add(entry(candidate.name(), assembled.program(), scenario));
            } else {
                List<Diagnostic> errors = ((Assembly.Rejected) assembly).errors();
                firstErrors = firstErrors.isEmpty() ? errors : firstErrors;
                entries.add(new Unfit(candidate.name(), why(errors)));
            }
        }
        if (!any) {
            sources.refuse(firstErrors);
        }
        return entries;
    }

    private Entry entry(String name, Program program, Scenario scenario) {
        OptionalInt pin = scenario.pinBeyond(program.design());
        if (pin.isPresent()) {
            return new Unfit(
                    name,
                    "the scenario gives pin %d a level, but the design has %d pins."
                            .formatted(pin.getAsInt(), program.design().pins()));
        }
        Run run = Run.of(program, scenario, inputs.limit(scenario));
        new ProgressLine(surroundings).finish(run);
        return new Ran(name, program, RunReports.of(run));
    }

    private static String why(List<Diagnostic> errors) {
        Diagnostic first = errors.get(0);
        String where = first.span().line() == 0
                ? ""
                : "line %d: ".formatted(first.span().line());
        String more = errors.size() == 1 ? "" : " (and %d more errors)".formatted(errors.size() - 1);
        return "%s%s%s.".formatted(where, first.message(), more);
    }

    private String programName() {
        return programFile.substring(Math.max(programFile.lastIndexOf('/'), programFile.lastIndexOf('\\')) + 1);
    }
}
