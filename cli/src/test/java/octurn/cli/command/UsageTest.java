package octurn.cli.command;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import octurn.cli.Shell;
import octurn.cli.process.Exit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import picocli.CommandLine;
import picocli.CommandLine.Model.CommandSpec;

class UsageTest {

    /** One clear line each, and nothing else. */
    @ParameterizedTest
    @CsvSource(
            delimiter = '~',
            quoteCharacter = '`',
            value = {
                "`` ~ octurn: a command is missing; see octurn --help",
                "-- ~ octurn: a command is missing; see octurn --help",
                "rnu a.turn ~ octurn: unknown command \"rnu\" (did you mean run?); see octurn --help",
                "frobnicate ~ octurn: unknown command \"frobnicate\"; see octurn --help",
                "--bogus ~ octurn: unknown option --bogus; see octurn --help",
                "run ~ octurn: PROGRAM is missing; see octurn run --help",
                "run --desing x a.turn ~ octurn: unknown option --desing (did you mean --design?); see octurn run --help",
                "run --desing=x ~ octurn: unknown option --desing (did you mean --design?); see octurn run --help",
                "run -x a.turn ~ octurn: unknown option -x; see octurn run --help",
                "run a.turn b.turn ~ octurn: \"b.turn\" is one argument too many; see octurn run --help",
                "run a.turn --design ~ octurn: --design needs a value, FILE; see octurn run --help",
                "run a.turn --cycles 0 ~ octurn: --cycles: 0 is not a whole number in 1..9007199254740991; see octurn run --help",
                "run a.turn --cycles 1e6 ~ octurn: --cycles: 1e6 is not a whole number in 1..9007199254740991; see octurn run --help",
                "run a.turn --cycles 9007199254740992 ~ octurn: --cycles: 9007199254740992 is not a whole number in 1..9007199254740991; see octurn run --help",
                "run a.turn --cycles -5 ~ octurn: --cycles: -5 is not a whole number in 1..9007199254740991; see octurn run --help",
                "run a.turn --dump some ~ octurn: --dump: some is not one of shared, private, all; see octurn run --help",
                "run --design a --design b c ~ octurn: --design is given twice; see octurn run --help",
                "completion ~ octurn: bash|zsh is missing; see octurn completion --help",
                "completion fish ~ octurn: there is a script for bash and for zsh, not for fish; see octurn completion --help",
                "help rum ~ octurn: unknown command \"rum\" (did you mean run?); see octurn --help",
                "list a.turn --dump all ~ octurn: unknown option --dump; see octurn list --help"
            })
    void mistake_isOneLineAndExit2(String line, String expected) {
        Shell.Outcome outcome = new Shell().run(line.isEmpty() ? new String[0] : line.split(" ", -1));
        assertThat(outcome.err()).isEqualTo(expected + "\n");
        assertThat(outcome.out()).isEmpty();
        assertThat(outcome.exit()).isEqualTo(Exit.USAGE);
    }

    @Test
    void mistake_withHarmfulText_isShownAsEscapes() {
        Shell.Outcome outcome = new Shell().run("\u001b[31mrun");
        assertThat(outcome.err()).startsWith("octurn: unknown command \"\\u001b[31mrun\"");
    }

    /** Whoever knows where one command writes to knows it of all. */
    @Test
    void output_ofEachCommand_hasTheSameNames() {
        List<List<String>> names = outputs(Commands.commandLine(new Shell().surroundings()));
        assertThat(names).hasSizeGreaterThan(5).allMatch(List.of("-o", "--output")::equals);
    }

    private static List<List<String>> outputs(CommandLine above) {
        List<List<String>> found = new ArrayList<>();
        above.getSubcommands().values().forEach(command -> {
            command.getCommandSpec().options().stream()
                    .map(option -> List.of(option.names()))
                    .filter(names -> names.stream().anyMatch(name -> name.matches("-o|--out.*")))
                    .forEach(found::add);
            found.addAll(outputs(command));
        });
        return found;
    }

    @Test
    void fileName_likeAnOption_isTakenAfterTwoDashes() {
        assertThat(new Shell().run("run", "--", "--x").err()).isEqualTo("octurn: --x: there is no such file\n");
    }

    @Test
    void fileName_withAtSign_isNoListOfArguments() {
        assertThat(new Shell().run("run", "@x.turn").err()).isEqualTo("octurn: @x.turn: there is no such file\n");
    }

    /** The short text that is printed without the library knows every command, and no others. */
    @Test
    void help_listsEveryCommand() {
        CommandLine root = Commands.commandLine(new Shell().surroundings());
        for (String command : root.getSubcommands().keySet()) {
            assertThat(Help.TEXT).containsPattern("(?m)^  %s( |$)".formatted(command));
        }
        assertThat(Help.TEXT.lines().filter(line -> line.matches("  [a-z].*")))
                .hasSize(root.getSubcommands().size());
        assertThat(Help.TEXT.lines()).allSatisfy(line -> assertThat(line).hasSizeLessThanOrEqualTo(80));
    }

    /** A command that is made without the others is the same as among them. */
    @Test
    void commandLine_forOneCommand_hasThatAloneUnderTheNameOfTheTable() {
        assertThat(Commands.commandLine(new Shell().surroundings())
                        .getSubcommands()
                        .keySet())
                .containsExactlyElementsOf(Commands.NAMES);
        for (String name : Commands.NAMES) {
            boolean needsTheOthers = name.equals("help") || name.equals("completion");
            assertThat(Commands.commandLine(new Shell().surroundings(), name)
                            .getSubcommands()
                            .keySet())
                    .containsExactlyElementsOf(needsTheOthers ? Commands.NAMES : List.of(name));
        }
        assertThat(Commands.commandLine(new Shell().surroundings(), "nosuch").getSubcommands())
                .hasSize(Commands.NAMES.size());
    }

    @Test
    void help_ofEveryCommand_fits80ColumnsAndNamesEveryOption() {
        CommandLine root = Commands.commandLine(new Shell().surroundings());
        root.getSubcommands().forEach((name, command) -> {
            String help = new Shell().run(name, "--help").out();
            assertThat(help).startsWith("Usage: octurn " + name);
            assertThat(help).isEqualTo(new Shell().run("help", name).out());
            assertThat(help.lines()).allSatisfy(line -> assertThat(line).hasSizeLessThanOrEqualTo(80));
            CommandSpec spec = command.getCommandSpec();
            assertThat(spec.options()).isNotEmpty().allSatisfy(option -> {
                assertThat(help).contains(option.longestName());
                assertThat(option.description()).isNotEmpty();
            });
            // The first lines, written by hand, name all that can be given.
            String synopsis = help.substring(0, help.indexOf("\n\n"));
            spec.positionalParameters().forEach(argument -> assertThat(synopsis).contains(argument.paramLabel()));
            spec.options().stream()
                    .filter(option -> !option.usageHelp() && !option.versionHelp())
                    .forEach(option -> assertThat(synopsis).contains(option.longestName()));
        });
    }

    @Test
    void version_ofACommand_isThatOfTheProgram() {
        assertThat(new Shell().run("run", "--version").out()).isEqualTo(Help.version() + "\n");
    }
}
