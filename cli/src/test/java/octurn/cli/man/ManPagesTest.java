package octurn.cli.man;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Map;
import octurn.cli.command.Commands;
import octurn.cli.process.Surroundings;
import org.junit.jupiter.api.Test;
import picocli.CommandLine;

class ManPagesTest {

    private static final CommandLine ROOT = Commands.commandLine(Surroundings.ofProcess());

    @Test
    void pages_areOneForTheProgramAndOneForEachCommand() {
        Map<String, String> pages = ManPages.pages(ROOT);

        assertThat(pages)
                .hasSize(1 + commands(ROOT))
                .containsKeys("octurn.1", "octurn-run.1", "octurn-lesson.1", "octurn-lesson-check.1");
        ROOT.getSubcommands()
                .keySet()
                .forEach(name -> assertThat(pages.get("octurn.1")).contains(".TP\n\\fB" + name + "\\fR\n"));
    }

    /** All commands, those of commands included. */
    private static int commands(CommandLine above) {
        return above.getSubcommands().values().stream()
                .mapToInt(command -> 1 + commands(command))
                .sum();
    }

    /** The sections that man(7) and man-pages(7) ask of a page of section 1. */
    @Test
    void page_ofRun_hasItsSectionsAndOptions() {
        String page = ManPages.pages(ROOT).get("octurn-run.1");

        assertThat(page)
                .startsWith(".TH \"OCTURN-RUN\" 1 ")
                .containsSubsequence(
                        ".SH NAME\nocturn\\-run \\- runs a program",
                        ".SH SYNOPSIS\n",
                        ".SH DESCRIPTION\n",
                        ".SH OPTIONS\n",
                        "\\fBPROGRAM\\fR",
                        "\\fB\\-\\-cycles=N\\fR",
                        ".SH EXIT STATUS\n",
                        "\\fB4\\fR");
        assertThat(page.lines().filter(line -> line.startsWith(".")))
                .allMatch(line -> line.matches("\\.(TH|SH|TP|nf|fi)( .*)?"));
    }
}
