package octurn.cli.stepper;

import static octurn.cli.stepper.Steppers.doing;
import static octurn.cli.stepper.Steppers.lesson;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import octurn.run.Progress;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

class CommandTableTest {

    private static final CommandTable TABLE = new CommandTable();
    private static final Path GUIDE = Path.of("..", "docs", "stepper.md");

    /** What may follow a command, so that each is tried once with and without. */
    private static final Set<String> NEED_WORDS = Set.of(
            "next",
            "previous",
            "go",
            "core",
            "show",
            "base",
            "look",
            "scroll",
            "select",
            "find",
            "wave",
            "pulses",
            "serial",
            "stop",
            "drop",
            "set",
            "restore",
            "unmark",
            "record",
            "follow");

    static List<String> names() {
        return TABLE.names();
    }

    static Set<String> keys() {
        return TABLE.keyNames();
    }

    private static Stepper stepper() {
        return doing(lesson("eight-cores.turn"), "go 57", "stop line 18", "mark m1", "set r1 1");
    }

    @ParameterizedTest
    @MethodSource("keys")
    void key_any_givesACommandThatIsUnderstood(String key) {
        String line = TABLE.line(key);
        Stepper stepper = stepper();

        if (line.endsWith(" ")) {
            assertThat(TABLE.find(line.strip().split(" ", -1)[0])).isNotNull();
        } else {
            Answer answer = stepper.run(line, Progress.NONE);
            // Some have nothing to go to here; but all are understood.
            assertThat(answer.line())
                    .doesNotContain("there is no command")
                    .doesNotContain("is missing")
                    .doesNotContain("too much")
                    .doesNotContain("cannot be");
        }
    }

    @ParameterizedTest
    @MethodSource("names")
    void command_withoutWords_isDoneOrSaysWhatIsMissing(String name) {
        Answer answer = stepper().run(name, Progress.NONE);

        if (NEED_WORDS.contains(name)) {
            assertThat(answer.kind()).isEqualTo(Answer.Kind.REFUSED);
            assertThat(answer.line()).containsAnyOf("is missing", "no number");
        } else {
            assertThat(answer.line()).doesNotContain("is missing");
        }
    }

    @ParameterizedTest
    @MethodSource("names")
    void command_any_hasHelpOnItsOwn(String name) {
        Answer answer = stepper().run("help " + name, Progress.NONE);

        assertThat(answer.kind()).isEqualTo(Answer.Kind.TEXT);
        assertThat(answer.lines().get(0)).startsWith(name);
        assertThat(answer.lines().get(1)).isNotBlank();
    }

    @Test
    void help_all_namesEveryCommandAndKey() {
        String help = String.join("\n", TABLE.help());

        assertThat(TABLE.names()).allSatisfy(name -> assertThat(help).contains(name));
        assertThat(TABLE.keyNames())
                .filteredOn(key -> !key.matches("[0-9]"))
                .allSatisfy(key -> assertThat(help).contains(" " + key + " "));
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "'' | step",
                "ins | instruction",
                "next ad | admission",
                "next pin a | any",
                "show sh | shared",
                "stop when shared[p | shared[percent]",
                "stop when r1 u | u<",
                "stop pin 3 r | rises",
                "go m | m1",
                "core 7 | 7",
                "drop a | all",
                "restore 1 | 1",
                "set pin 3 f | free",
                "help wa | wave",
                "tell sc | screen",
                "look per | percent"
            })
    void offers_beginning_containWhatMayCome(String text, String offer) {
        assertThat(TABLE.offers(stepper(), text)).contains(offer);
    }

    @Test
    void offers_nonsense_areNone() {
        assertThat(TABLE.offers(stepper(), "xyz ")).isEmpty();
        assertThat(TABLE.offers(stepper(), "step 3 ")).isEmpty();
    }

    @Test
    void sensible_unknownCommand_isWrongFromItsFirstLetter() {
        assertThat(TABLE.sensible("ste")).isEqualTo(3);
        assertThat(TABLE.sensible("step 4")).isEqualTo(6);
        assertThat(TABLE.sensible(" fly 4")).isEqualTo(1);
        assertThat(TABLE.sensible("fly")).isZero();
    }

    @Test
    void find_beginningOfOneName_isEnough() {
        assertThat(TABLE.find("inst")).extracting(Command::name).isEqualTo("instruction");
        assertThat(TABLE.find("stop")).extracting(Command::name).isEqualTo("stop");
        assertThat(TABLE.find("re")).isNull();
    }

    /** The guide's table of keys and commands, as Markdown. */
    static String guideTable() {
        StringBuilder text = new StringBuilder();
        Command.Group group = null;
        for (Command command : TABLE.all()) {
            if (command.group() != group) {
                group = command.group();
                text.append("\n### ").append(group.title()).append("\n\n");
                text.append("| keys | command | what it does |\n|---|---|---|\n");
            }
            String keys = List.of(CommandTable.keyText(command).split(" ", -1)).stream()
                    .filter(key -> !key.isEmpty())
                    .map(key -> "`" + key + "`")
                    .collect(Collectors.joining(" "));
            text.append("| %s | `%s` | %s |\n"
                    .formatted(
                            keys,
                            CommandTable.usage(command).replace("|", "\\|"),
                            command.help().replace("|", "\\|")));
        }
        return text.toString();
    }

    /** To write the table anew: {@code mvn -pl cli test -Dtest=CommandTableTest -Docturn.screens=write}. */
    @Test
    void guide_tableOfCommands_isThatOfTheProgram() throws IOException {
        String guide = Files.readString(GUIDE);
        String begin = "<!-- commands -->\n";
        String end = "<!-- end of commands -->";
        int from = guide.indexOf(begin) + begin.length();
        int to = guide.indexOf(end);
        if (System.getProperty("octurn.screens", "").equals("write")) {
            Files.writeString(GUIDE, guide.substring(0, from) + guideTable() + "\n" + guide.substring(to));
            guide = Files.readString(GUIDE);
            to = guide.indexOf(end);
        }

        assertThat(guide.substring(from, to)).isEqualTo(guideTable() + "\n");
    }
}
