package octurn.cli.command;

import java.io.IOException;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import octurn.asm.Program;
import octurn.cli.page.RunPage;
import octurn.cli.process.Exit;
import octurn.cli.process.Failure;
import octurn.cli.process.OutputFile;
import octurn.cli.process.Surroundings;
import octurn.cli.view.Line;
import octurn.design.Scenario;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code octurn page}: records a run as a page to step through in a browser. */
@Command(
        name = "page",
        customSynopsis = {
            "octurn page PROGRAM --output FILE.html [--from N] [--to N]",
            "                   [--design FILE] [--scenario FILE] [--cycles N]",
            "                   [--set NAME=VALUE].."
        },
        description =
                "Records a run as one HTML file, with which anybody steps through it in a browser: without Octurn,"
                        + " and without a network.",
        exitCodeList = {
            "0:the page is written, however the run ended",
            "1:an internal error",
            "2:bad usage, a file with errors, or more than fits; nothing is written"
        })
final class PageCommand implements Callable<Integer> {

    private final Surroundings surroundings;

    @Parameters(paramLabel = "PROGRAM", description = "the program file, *.turn")
    @SuppressWarnings("NullAway.Init")
    private String programFile;

    @Option(
            names = {"-o", "--output"},
            paramLabel = "FILE",
            required = true,
            description = "the page to write, *.html, whole or not at all; - for standard output")
    @SuppressWarnings("NullAway.Init")
    private String output;

    @Option(
            names = "--from",
            paramLabel = "N",
            converter = CycleNumber.class,
            description = "the cycle at which the recording begins; without it 0")
    private long from;

    @Option(
            names = "--to",
            paramLabel = "N",
            converter = CycleNumber.class,
            description = "the cycle at which the recording ends; without it the end of the run")
    private @Nullable Long to;

    @Option(
            names = "--design",
            paramLabel = "FILE",
            description = "the chip's design, *.design.json or a name; without it eight cores in plain rotation")
    private @Nullable String designFile;

    @Mixin
    private final RunInputs inputs = new RunInputs();

    PageCommand(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    @Override
    public Integer call() throws IOException {
        if (to != null && to <= from) {
            throw new Failure("--to %d is not behind --from %d".formatted(to, from));
        }
        String name = output.toLowerCase(Locale.ROOT);
        if (!name.equals("-") && !name.endsWith(".html") && !name.endsWith(".htm")) {
            throw new Failure("--output: %s is not *.html".formatted(output));
        }
        RunInputs.Prepared prepared = inputs.prepare(surroundings, programFile, designFile);
        if (prepared == null) {
            return Exit.USAGE;
        }
        Program program = prepared.program();
        Scenario scenario = prepared.scenario();
        try (OutputFile file = OutputFile.open(
                output, surroundings, RunInputs.given(programFile, designFile, inputs.scenarioFile()))) {
            RunPage page = record(program, scenario, inputs.limit(scenario));
            file.write(page::write);
            if (!file.isStandardOutput()) {
                surroundings.print(List.of(Line.of(told(page))));
            }
            return Exit.OK;
        }
    }

    private RunPage record(Program program, Scenario scenario, long limit) {
        RunPage page = new RunPage(program, scenario, limit);
        ProgressLine progress = new ProgressLine(surroundings);
        progress.runTo(page.run(), from, () -> false);
        if (page.run().isOver() && from > 0) {
            throw new Failure("--from %d: the run ends at cycle %d"
                    .formatted(from, page.run().chip().cycle()));
        }
        page.begin();
        progress.runTo(page.run(), to == null ? limit : to, page::isFull);
        page.end();
        if (page.isFull()) {
            throw new Failure(tooLong(page));
        }
        return page;
    }

    private String tooLong(RunPage page) {
        String what = to == null ? "the run" : "that part of the run";
        return page.lastThatFits() > from
                ? "%s is too long for a page of %,d bytes: from cycle %d on it holds the cycles up to %d; give --to %d, or record another part with --from and --to"
                        .formatted(what, RunPage.MOST_BYTES, from, page.lastThatFits(), page.lastThatFits())
                : "%s does not fit into a page of %,d bytes: the program and its memory alone take more"
                        .formatted(what, RunPage.MOST_BYTES);
    }

    private String told(RunPage page) {
        long end = page.run().chip().cycle();
        if (page.showsTheEnd() && from == 0) {
            return "%s: the whole run, %d cycles".formatted(output, end);
        }
        return "%s: cycles %d to %d, %s"
                .formatted(output, from, end, page.showsTheEnd() ? "the end of the run" : "the run goes on");
    }
}
