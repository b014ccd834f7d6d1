package octurn.cli.stepper;

import static octurn.cli.stepper.Steppers.lesson;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.StringReader;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

class ConversationTest {

    private final List<String> said = new ArrayList<>();

    private boolean talk(Stepper stepper, String commands) throws IOException {
        return new Conversation(stepper).run(new BufferedReader(new StringReader(commands)), said::addAll);
    }

    @Test
    void run_moves_tellCycleTurnAndCore() throws IOException {
        assertThat(talk(lesson("eight-cores.turn"), "core 5\nnext request\n")).isTrue();

        // Four instructions, one of work: core 5 asks at 5; its first slot opens at 15.
        assertThat(said)
                .containsExactly(
                        "eight-cores.turn on \"eight in turn\". One command a line; help lists them.",
                        "Cycle 0, 0.000 \u00b5s.",
                        "Slot 0 is core 0's, cycle 1 of 3, and is not used.",
                        "Core 0 works on line 14: read r1, core.",
                        "Cycle 0, 0.000 \u00b5s.",
                        "Slot 0 is core 0's, cycle 1 of 3, and is not used.",
                        "Core 5 works on line 14: read r1, core.",
                        "Cycle 5, 0.104 \u00b5s.",
                        "Slot 1 is core 1's, cycle 3 of 3, and is not used.",
                        "Core 5 asked for shared word 5 (soil+5) at cycle 5. Its slot opens at 15: 10 cycles to wait. Line"
                                + " 18: fetch r5, [r2].");
    }

    @Test
    void run_why_tellsTheReasonsEachTime() throws IOException {
        talk(lesson("eight-cores.turn"), "core 5\ngo 57\nwhy\nwhy\n");

        assertThat(said)
                .filteredOn(line -> line.startsWith("It asked"))
                .containsExactly(
                        "It asked 6 cycles after its slot at 39 had opened, so it waits for the one at 63: 18 cycles.",
                        "It asked 6 cycles after its slot at 39 had opened, so it waits for the one at 63: 18 cycles.");
    }

    @Test
    void run_mistakes_areToldAndRemembered() throws IOException {
        assertThat(talk(lesson("eight-cores.turn"), "fly\n" + "x".repeat(3000) + "\nstop line 18\nrun\n"))
                .isFalse();

        assertThat(said)
                .contains(
                        "Not done: there is no command \"fly\"; help lists all.",
                        "Not done: a command of 3000 characters is too long.",
                        "Stop 1: line 18. Enter runs there.",
                        "Stop 1: line 18.");
    }

    @Test
    void run_quit_endsIt() throws IOException {
        talk(lesson("eight-cores.turn"), "quit\nstep\n");

        assertThat(said).hasSize(4);
    }

    @Test
    void run_tell_tellsEveryPart() throws IOException {
        StringBuilder commands = new StringBuilder("go 57\ncore 5\ntell\n");
        Looks.TOLD.forEach(what -> commands.append("tell ").append(what).append('\n'));
        assertThat(talk(lesson("eight-cores.turn"), commands.toString())).isTrue();

        assertThat(said)
                .contains(
                        "r4 = 9, r5 = 8, r6 = 0, r7 = 0",
                        "shared word 0 (soil) = 512",
                        "private word 4 (round) = 1766457344",
                        "All pins are low, and nobody drives them.",
                        "tally0 = 0, mode off, span 0, level 0",
                        "The next slot of core 5 opens at cycle 63.",
                        "> 18: round:  fetch r5, [r2]",
                        "Core 7 asked for shared word 7 (soil+7) at cycle 51. Its slot opens at 69: 12 of 18 cycles still to"
                                + " wait. Line 18: fetch r5, [r2].")
                .anyMatch(line -> line.contains("\u2503wwwwwwSSS"));
    }

    @Test
    void run_twice_saysTheSame() throws IOException {
        String commands = "core 3\nrotation\ntell screen\nset r5 3\nend\nwhy\n";
        talk(lesson("spin-lock.turn"), commands);
        List<String> first = List.copyOf(said);
        said.clear();
        talk(lesson("spin-lock.turn"), commands);

        assertThat(said).isEqualTo(first);
    }
}
