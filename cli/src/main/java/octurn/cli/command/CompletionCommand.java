package octurn.cli.command;

import java.io.IOException;
import java.util.Iterator;
import java.util.List;
import java.util.concurrent.Callable;
import octurn.cli.process.Exit;
import octurn.cli.process.Surroundings;
import picocli.AutoComplete;
import picocli.CommandLine.Command;
import picocli.CommandLine.ITypeConverter;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;
import picocli.CommandLine.TypeConversionException;

/** {@code octurn completion}: prints a script that lets the shell complete commands, options and files. */
@Command(
        name = "completion",
        customSynopsis = "octurn completion bash|zsh",
        description = "Prints a script with which the shell completes commands, options and file names.",
        footer = {
            "For this session:  source <(octurn completion bash)",
            "For all to come, put that line into ~/.bashrc; for zsh the same with zsh and",
            "~/.zshrc."
        },
        exitCodeList = {"0:done", "1:an internal error", "2:bad usage"})
final class CompletionCommand implements Callable<Integer> {

    private final Surroundings surroundings;

    @Spec
    @SuppressWarnings("NullAway.Init")
    private CommandSpec spec;

    @Parameters(
            paramLabel = "bash|zsh",
            converter = Shell.class,
            completionCandidates = Shell.class,
            description = "the shell")
    @SuppressWarnings("NullAway.Init")
    private String shell;

    CompletionCommand(Surroundings surroundings) {
        this.surroundings = surroundings;
    }

    /** A shell that there is a script for. */
    static final class Shell implements ITypeConverter<String>, Iterable<String> {

        private static final List<String> SHELLS = List.of("bash", "zsh");

        @Override
        public String convert(String value) {
            if (!SHELLS.contains(value)) {
                throw new TypeConversionException(
                        "there is a script for bash and for zsh, not for %s".formatted(value));
            }
            return value;
        }

        @Override
        public Iterator<String> iterator() {
            return SHELLS.iterator();
        }
    }

    @Override
    public Integer call() throws IOException {
        String script = AutoComplete.bash("octurn", spec.root().commandLine());
        // zsh runs scripts for bash once it is told to.
        String before = shell.equals("zsh")
                ? "autoload -U +X compinit && compinit\nautoload -U +X bashcompinit && bashcompinit\n"
                : "";
        surroundings.writeOut(before + script);
        return Exit.OK;
    }
}
