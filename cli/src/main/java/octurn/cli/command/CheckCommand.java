package octurn.cli.command;

import java.io.IOException;
import java.util.concurrent.Callable;
import octurn.asm.Program;
import octurn.cli.json.CheckJson;
import octurn.cli.process.Exit;
import octurn.cli.process.OutputFile;
import octurn.cli.process.Surroundings;
import octurn.cli.view.CheckView;
import octurn.design.Design;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code octurn check}: looks for errors, and runs nothing. */
@Command(
        name = "check",
        customSynopsis = "octurn check PROGRAM [--design FILE] [--json FILE]",
        description = "Looks for errors in a program, and runs nothing.",
        exitCodeList = {"0:no errors", "1:an internal error", "2:bad usage or errors"})
final class CheckCommand implements Callable<Integer> {

    private final Surroundings surroundings;

    @Parameters(paramLabel = "PROGRAM", description = "the program file, *.turn")
    @SuppressWarnings("NullAway.Init")
    private String programFile;

    @Option(
            names = "--design",
            paramLabel = "FILE",
            description =
                    "the design to check it for, *.design.json or a name; without it eight cores in plain rotation")
    private @Nullable String designFile;

    @Mixin
    private final JsonOption json = new JsonOption();

    CheckCommand(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    @Override
    public Integer call() throws IOException {
        Sources sources = new Sources(surroundings);
        Design design = sources.design(designFile);
        Program program = design == null ? null : sources.program(programFile, design);
        try (OutputFile file = json.open(surroundings, programFile, designFile)) {
            sources.tell();
            if (file != null) {
                file.write(out -> CheckJson.write(programFile, program, sources.told(), out));
            }
            if (program != null && (file == null || !file.isStandardOutput())) {
                surroundings.print(CheckView.lines(program, sources.told().size(), surroundings.glyphs()));
            }
        }
        return sources.wrong() ? Exit.USAGE : Exit.OK;
    }
}
