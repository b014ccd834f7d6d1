package octurn.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import octurn.asm.Program;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.machine.State;
import octurn.run.Moment;
import octurn.run.Progress;
import octurn.run.Run;
import octurn.run.Timeline;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class ReasonsTest {

    private static final Pattern HELPS = Pattern.compile("Doing less helps only from ([0-9]+) cycles? on");
    private static final Pattern FREE = Pattern.compile("put up to ([0-9]+) cycles? of other work");

    static IntStream works() {
        return IntStream.rangeClosed(0, 60);
    }

    /** Two accesses with so much work between them, on core 2. */
    private static Program program(int work) {
        return Runs.assembled(
                "core 2\n fetch r1, [0]\n" + " nop\n".repeat(work) + " fetch r1, [1]\n halt\n", Design.DEFAULT);
    }

    private static Timeline atSecondRequest(Program program) {
        Timeline timeline = Timeline.of(program, Scenario.QUIET, 10_000);
        while (timeline.chip().core(2).accesses() < 1 || timeline.chip().core(2).state() != State.WAIT) {
            timeline.moveTo(timeline.cycle() + 1, Progress.NONE);
            if (timeline.isOver() || timeline.chip().core(2).accesses() > 1) {
                return timeline;
            }
        }
        return timeline;
    }

    private static long[] waitAndEnd(int work) {
        Run run = Run.of(program(work), Scenario.QUIET, 10_000);
        run.finish();
        long first = 5; // Core 2 asks at 1, its slot opens at 6.
        return new long[] {run.chip().core(2).waitTotal() - first, run.chip().cycle()};
    }

    /** Derived, and checked here by doing what is advised: edit the program, run it, see. */
    @ParameterizedTest
    @MethodSource("works")
    void of_waitUnderRotation_advisesWhatHoldsWhenItIsDone(int work) {
        Program program = program(work);
        Timeline timeline = atSecondRequest(program);
        if (timeline.chip().core(2).state() != State.WAIT) {
            assertThat(waitAndEnd(work)[0]).isZero();
            return;
        }
        String text = String.join(" ", new Reasons(new Sentences(program)).of(timeline.moment(200, 200), 2));
        long[] now = waitAndEnd(work);

        Matcher free = FREE.matcher(text);
        assertThat(free.find()).as(text).isTrue();
        int more = Integer.parseInt(free.group(1));
        assertThat((long) more).isEqualTo(now[0]);
        assertThat(waitAndEnd(work + more)).containsExactly(0, now[1]);
        assertThat(waitAndEnd(work + more + 1)[1]).isGreaterThan(now[1]);

        Matcher helps = HELPS.matcher(text);
        if (helps.find()) {
            int less = Integer.parseInt(helps.group(1));
            assertThat(waitAndEnd(work - less)[0]).isZero();
            for (int some = 1; some < less; some++) {
                assertThat(waitAndEnd(work - some)).containsExactly(now[0] + some, now[1]);
            }
        } else {
            assertThat(text).containsAnyOf("was in use by its own access", "Doing less does not help here");
            for (int some = 1; some <= work; some++) {
                assertThat(waitAndEnd(work - some)[1]).isEqualTo(now[1]);
            }
        }
    }

    @Test
    void of_demandPolicy_namesRuleAndThoseAdmittedBefore() {
        Design priority = Runs.design(3, 4, new Admission.Priority(List.of(2, 0, 1)));
        Program program = Runs.assembled("core all\n fetch r1, [7]\n halt\n", priority);
        Timeline timeline = Timeline.of(program, Scenario.QUIET, 10_000);
        timeline.moveTo(6, Progress.NONE);

        List<String> reasons = new Reasons(new Sentences(program)).of(timeline.moment(100, 100), 1);

        assertThat(reasons)
                .contains(
                        "Whoever stands first in the order goes first: cores 2 and 0 can make core 1 wait for as long as"
                                + " they ask.")
                .contains("Admitted since it asked: core 2 at 1, core 0 at 5.");
    }

    @Test
    void of_coreThatDoesNotWait_saysSoAndWhereItWaitsMost() {
        Program program = program(3);
        Timeline timeline = Timeline.of(program, Scenario.QUIET, 10_000);
        timeline.moveTo(10_000, Progress.NONE);

        List<String> reasons = new Reasons(new Sentences(program)).of(timeline.moment(100, 100), 2);

        // Slot 6..8, then 3 nop and 1 of work: asks at 13, its slot opens at 30.
        assertThat(reasons)
                .contains("It does not wait in this cycle.")
                .contains("So far core 2 has made 2 accesses and waited 22 cycles for them; most at line 6: 1 of them,"
                        + " waits of 17 cycles, 17 in all.");
    }

    @Test
    void of_coreWithoutSlot_asksForOne() {
        Design design = Runs.design(2, 3, new Admission.Rotation(List.of(0)));
        Program program = Runs.assembled("core 1\n fetch r1, [0]\n halt\ncore 0\n pause 100\n halt\n", design);
        Timeline timeline = Timeline.of(program, Scenario.QUIET, 10_000);
        timeline.moveTo(6, Progress.NONE);
        Moment moment = timeline.moment(100, 100);

        assertThat(new Reasons(new Sentences(program)).of(moment, 1))
                .contains("The design's order leaves core 1 out. Give it a slot there.");
    }
}
