package octurn.cli.command;

import java.util.Arrays;
import java.util.Objects;
import octurn.cli.process.OutputFile;
import octurn.cli.process.Surroundings;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** The option {@code --json} of every command that reports. */
final class JsonOption {

    @Option(
            names = "--json",
            paramLabel = "FILE",
            description = "write the report as JSON, whole or not at all; - for standard output, and then nothing"
                    + " else is printed there")
    private @Nullable String file;

    /** The file to write, or null if none is asked for; {@code inputs} are the files that are read, null for none. */
    @Nullable
    OutputFile open(Surroundings surroundings, @Nullable String... inputs) {
        return file == null
                ? null
                : OutputFile.open(
                        file,
                        surroundings,
                        Arrays.stream(inputs)
                                .filter(Objects::nonNull)
                                .map(Objects::requireNonNull)
                                .toList());
    }
}
