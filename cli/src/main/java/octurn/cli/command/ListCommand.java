package octurn.cli.command;

import java.io.IOException;
import java.util.concurrent.Callable;
import octurn.asm.Program;
import octurn.cli.json.ListingJson;
import octurn.cli.process.Exit;
import octurn.cli.process.OutputFile;
import octurn.cli.process.Surroundings;
import octurn.cli.view.ListingView;
import octurn.design.Design;
import octurn.report.Listing;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code octurn list}: shows what a program became. */
@Command(
        name = "list",
        customSynopsis = "octurn list PROGRAM [--design FILE] [--json FILE]",
        description = "Lists a program: address and word, the time of each instruction under the design, what the word"
                + " says when it is read back, and the line that it comes from.",
        exitCodeList = {"0:done", "1:an internal error", "2:bad usage or a file with errors"})
final class ListCommand implements Callable<Integer> {

    /** Off a terminal lines are as long as they need to be. */
    private static final int UNCUT = 10_000;

    private final Surroundings surroundings;

    @Parameters(paramLabel = "PROGRAM", description = "the program file, *.turn")
    @SuppressWarnings("NullAway.Init")
    private String programFile;

    @Option(
            names = "--design",
            paramLabel = "FILE",
            description =
                    "the design to list it for, *.design.json or a name; without it eight cores in plain rotation")
    private @Nullable String designFile;

    @Mixin
    private final JsonOption json = new JsonOption();

    ListCommand(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    @Override
    public Integer call() throws IOException {
        Sources sources = new Sources(surroundings);
        Design design = sources.design(designFile);
        Program program = design == null ? null : sources.program(programFile, design);
        sources.tell();
        if (program == null) {
            return Exit.USAGE;
        }
        Listing listing = Listing.of(program);
        try (OutputFile file = json.open(surroundings, programFile, designFile)) {
            if (file != null) {
                file.write(out -> ListingJson.write(listing, out));
            }
            if (file == null || !file.isStandardOutput()) {
                int columns = surroundings.outIsTerminal() ? surroundings.columns() : UNCUT;
                surroundings.print(ListingView.lines(listing, surroundings.glyphs(), columns));
            }
        }
        return Exit.OK;
    }
}
