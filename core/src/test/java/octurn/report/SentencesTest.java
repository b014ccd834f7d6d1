package octurn.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import octurn.asm.Program;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.run.Moment;
import octurn.run.Progress;
import octurn.run.Timeline;
import org.junit.jupiter.api.Test;

class SentencesTest {

    private static final String COUNT = """
            core 0, 3
                    set   r2, 1
                    bump  r2, [count]
                    mul   r3, r2, 5
                    halt
            shared at 40
            count:  word  0
            """;

    private static String sentence(String text, Design design, int core, long cycle) {
        Program program = Runs.assembled(text, design);
        Timeline timeline = Timeline.of(program, Scenario.QUIET, 10_000);
        timeline.moveTo(cycle, Progress.NONE);
        return new Sentences(program).of(timeline.moment(100, 100), core);
    }

    private static String sentence(String text, int core, long cycle) {
        return sentence(text, Design.DEFAULT, core, cycle);
    }

    private static String turn(String text, Design design, long cycle) {
        Program program = Runs.assembled(text, design);
        Timeline timeline = Timeline.of(program, Scenario.QUIET, 10_000);
        timeline.moveTo(cycle, Progress.NONE);
        return new Sentences(program).turn(timeline.moment(100, 100));
    }

    // The numbers follow from the rules: set 0, bump 1, request at 2; core 3's slots open at 9, 33, .., core 0's at 24.

    @Test
    void of_workBeforeAnAccess_tellsTheWaitToCome() {
        assertThat(sentence(COUNT, 3, 1))
                .isEqualTo(
                        "Core 3 works on line 3: bump r2, [count]. From cycle 2 on it asks for shared word 40 (count)."
                                + " Its slot opens at 9: that will be a wait of 7 cycles.");
    }

    @Test
    void of_firstCycleOfAWait_tellsAllOfIt() {
        assertThat(sentence(COUNT, 3, 2))
                .isEqualTo("Core 3 asked for shared word 40 (count) at cycle 2. Its slot opens at 9: 7 cycles to wait."
                        + " Line 3: bump r2, [count].");
    }

    @Test
    void of_laterInAWait_tellsWhatIsLeft() {
        assertThat(sentence(COUNT, 0, 20))
                .isEqualTo("Core 0 asked for shared word 40 (count) at cycle 2. Its slot opens at 24: 4 of 22 cycles"
                        + " still to wait. Line 3: bump r2, [count].");
    }

    @Test
    void of_slot_tellsHowFarIntoIt() {
        assertThat(sentence(COUNT, 3, 10))
                .isEqualTo("Core 3 holds the memory for shared word 40 (count): cycle 2 of 3. It had waited 7 cycles."
                        + " Line 3: bump r2, [count].");
    }

    @Test
    void of_longWork_tellsHowFarIntoIt() {
        assertThat(sentence(COUNT, 3, 14)).isEqualTo("Core 3 works on line 4: mul r3, r2, 5 (cycle 3 of 4).");
    }

    @Test
    void of_idleCores_tellsWhy() {
        assertThat(sentence(COUNT, 3, 20)).isEqualTo("Core 3 is idle since cycle 17: it halted in line 5.");
        assertThat(sentence(COUNT, 1, 20))
                .isEqualTo("Core 1 is idle: the program has no section for it, and no core has started it.");
    }

    @Test
    void of_endOfTheRun_saysSoFirst() {
        assertThat(sentence(COUNT, 0, 10_000))
                .isEqualTo(
                        "The run has ended at cycle 32: every core is idle or in fault. Core 0 is idle since cycle 32: it"
                                + " halted in line 5.");
    }

    @Test
    void of_faultToComeAndFault_tellsIt() {
        String text = "core 0\n set r1, 3\n div r1, r1, r0\n";
        assertThat(sentence(text, 0, 1))
                .isEqualTo(
                        "Core 0 works on line 3: div r1, r1, r0. That is a fault: from cycle 2 on it does nothing any"
                                + " more.");
        assertThat(sentence(text, 0, 2))
                .isEqualTo(
                        "The run has ended at cycle 2: every core is idle or in fault. Core 0 is in fault since cycle 2:"
                                + " a division by 0. Line 3: div r1, r1, r0.");
    }

    @Test
    void of_sleepers_tellUntilWhen() {
        assertThat(sentence("core 0\n pause 100\n halt\n", 0, 30))
                .isEqualTo("Core 0 sleeps until cycle 100. 70 cycles to go. Line 2: pause 100.");
        assertThat(sentence("core 0\n set r1, 4\n await r1, 4\n halt\ncore 1\n pause 90\n halt\n", 0, 30))
                .isEqualTo(
                        "Core 0 sleeps until pin 2 is high. That does not come before cycle 130. Line 3: await r1, 4.");
    }

    @Test
    void of_codeInSharedMemory_tellsThatItWaitsForCode() {
        String text = """
                core 1
                        far   there
                shared
                there:  nop
                        halt
                """;
        assertThat(sentence(text, 1, 2))
                .isEqualTo(
                        "Core 1 asked for its next instruction, in shared word 0 (there) at cycle 2. Its slot opens at 3:"
                                + " 1 cycle to wait. Line 4: nop.");
        assertThat(sentence(text, 1, 3))
                .startsWith(
                        "Core 1 holds the memory for its next instruction, in shared word 0 (there): cycle 1 of 3.");
    }

    @Test
    void of_loading_tellsWhichWord() {
        String text = """
                core 0
                        set   r1, -1
                        set   r2, child
                        start r1, r2, r0
                        halt
                image child
                        halt
                """;
        // set, set, start: request at 3, slot 24..26; core 1 asks from 27 on, its slot opens at 27.
        assertThat(sentence(text, 1, 27))
                .startsWith("Core 1 holds the memory for a word of its image, shared word 0 (child): cycle 1 of 3.");
        assertThat(sentence(text, 1, 31))
                .isEqualTo(
                        "Core 1 asked for a word of its image, shared word 1 (child+1) at cycle 30. Its slot opens at 51:"
                                + " 20 of 21 cycles still to wait. It is being started.");
    }

    @Test
    void of_demandPolicy_tellsWhoIsBefore() {
        Design firstCome = Runs.design(3, 4, new Admission.FirstCome());
        String text = "core all\n fetch r1, [7]\n halt\n";
        // All ask at 1: core 0 holds 1..4, core 1 5..8, core 2 is admitted at 9.
        assertThat(sentence(text, firstCome, 2, 3))
                .isEqualTo(
                        "Core 2 asked for shared word 7 at cycle 1. Core 0 holds the memory until cycle 4; in line with"
                                + " it: core 1. It is admitted at cycle 9: 6 of 8 cycles still to wait. Line 2: fetch r1, [7].");
        assertThat(turn(text, firstCome, 3))
                .isEqualTo("Core 0 holds the memory, cycle 3 of 4. In line: cores 1 and 2.");
        assertThat(turn(text, firstCome, 0)).isEqualTo("The memory is free.");
    }

    @Test
    void of_coreWithoutSlot_saysThatItWaitsForEver() {
        Design design = Runs.design(2, 3, new Admission.Rotation(List.of(0)));
        assertThat(sentence("core 1\n fetch r1, [0]\n halt\ncore 0\n pause 100\n halt\n", design, 1, 5))
                .contains("The order has no slot for it: it will never be admitted.");
    }

    @Test
    void turn_rotation_tellsSlotAndUse() {
        assertThat(turn(COUNT, Design.DEFAULT, 10)).isEqualTo("Slot 3 is core 3's, cycle 2 of 3, and is in use.");
        assertThat(turn(COUNT, Design.DEFAULT, 3)).isEqualTo("Slot 1 is core 1's, cycle 1 of 3, and is not used.");
    }

    @Test
    void instruction_changedSinceItWasWritten_isReadFromItsWord() {
        String text = """
                core 0
                        load  r1, [here]
                        store r1, [target]
                target: nop
                        halt
                here:   add   r5, r6, 7
                """;
        assertThat(sentence(text, 0, 4)).isEqualTo("Core 0 works on line 4: add r5, r6, 7.");
    }

    @Test
    void states_ofAMoment_areThoseOfTheRun() {
        Program program = Runs.assembled(COUNT, Design.DEFAULT);
        Timeline timeline = Timeline.of(program, Scenario.QUIET, 10_000);
        timeline.moveTo(12, Progress.NONE);
        Moment moment = timeline.moment(12, 30);

        StringBuilder states = new StringBuilder();
        for (octurn.machine.State state : moment.states(3)) {
            states.append(state == null ? ' ' : state.text().charAt(0));
        }

        // 2 of work, 7 of waiting, 3 of slot, 5 of work; the run ends at 32.
        assertThat(states).hasToString("wwwwwwwwwssswwwwwiiiiiiiiiiiiiii" + " ".repeat(10));
    }
}
