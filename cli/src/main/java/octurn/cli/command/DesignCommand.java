package octurn.cli.command;

import java.io.IOException;
import java.util.concurrent.Callable;
import octurn.cli.json.DesignJson;
import octurn.cli.process.Exit;
import octurn.cli.process.OutputFile;
import octurn.cli.process.Surroundings;
import octurn.cli.view.DesignView;
import octurn.design.Design;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** {@code octurn design}: shows a design and what follows from it. */
@Command(
        name = "design",
        customSynopsis = "octurn design [FILE] [--json FILE]",
        description = "Shows a chip's design with every default filled in, and what follows from it for accesses to"
                + " shared memory.",
        exitCodeList = {"0:done", "1:an internal error", "2:bad usage or a file with errors"})
final class DesignCommand implements Callable<Integer> {

    private final Surroundings surroundings;

    @Parameters(
            paramLabel = "FILE",
            arity = "0..1",
            description = "the design, *.design.json or a name; without it the default: eight cores in plain rotation")
    private @Nullable String designFile;

    @Mixin
    private final JsonOption json = new JsonOption();

    DesignCommand(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    @Override
    public Integer call() throws IOException {
        Sources sources = new Sources(surroundings);
        Design design = sources.design(designFile);
        sources.tell();
        if (design == null) {
            return Exit.USAGE;
        }
        try (OutputFile file = json.open(surroundings, designFile)) {
            if (file != null) {
                file.write(out -> DesignJson.write(design, out));
            }
            if (file == null || !file.isStandardOutput()) {
                surroundings.print(DesignView.lines(design, surroundings.glyphs(), surroundings.columns()));
            }
        }
        return Exit.OK;
    }
}
