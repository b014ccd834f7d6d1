package octurn.cli.stepper;

import static octurn.cli.stepper.Steppers.doing;
import static octurn.cli.stepper.Steppers.lesson;
import static octurn.cli.stepper.Steppers.text;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import octurn.cli.view.Look;
import octurn.cli.view.NumberBase;
import octurn.cli.view.Panel;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.run.Progress;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class StepperTest {

    private static final String COUNT = """
            core 0
                    set   r1, 3
            more:   set   r2, 1
                    bump  r2, [count]
                    write out, r2
                    again r1, more
                    halt
            core 1
                    set   r3, 7
                    write drive, r3
                    div   r1, r1, r0
            shared at 40
            count:  word  5
            """;

    private static Answer run(Stepper stepper, String command) {
        return stepper.run(command, Progress.NONE);
    }

    private static String refusal(Stepper stepper, String command) {
        Answer answer = run(stepper, command);
        assertThat(answer.kind()).as(answer.line()).isEqualTo(Answer.Kind.REFUSED);
        return answer.line();
    }

    // ---- moving ----

    /** Core 0 of {@code COUNT}: set, set, bump asks at 3 and holds 24..26, write at 27, again at 28..29, set at 30. */
    @ParameterizedTest
    @CsvSource({
        "step, 11",
        "step 5, 15",
        "back, 9",
        "back 5, 5",
        "back 50, 0",
        "instruction, 27",
        "instruction 2, 28",
        "instruction back, 2",
        "slot, 12",
        "slot 2, 15",
        "slot back, 9",
        "slot back 2, 6",
        "rotation, 34",
        "rotation back, 0",
        "next request, 32",
        "next admission, 24",
        "previous request, 3",
        "next idle, 78",
        "next admission any, 24",
        "line 5, 27",
        "line back 3, 1",
        "go 77, 77",
        "go +7, 17",
        "go -7, 3",
        "go 1us, 48",
        "begin, 0",
        "end, 78"
    })
    void move_fromCycle10_goesThere(String command, long cycle) {
        Stepper stepper = doing(text(COUNT), "go 10", command);

        assertThat(stepper.cycle()).isEqualTo(cycle);
    }

    @Test
    void next_pinFaultAndClash_areFound() {
        // Core 1: set at 0, write drive at 1: shows from 2 on; div faults at 3 and lets go of its pins.
        assertThat(doing(text(COUNT), "next fault").cycle()).isEqualTo(3);
        Stepper pins = text("""
                core 0
                 set r1, 4
                 write out, r1
                 write drive, r1
                 halt
                core 1
                 set r1, 4
                 nop
                 nop
                 write drive, r1
                 nop
                 halt
                """);
        // Core 0 drives pin 2 high from 3 to 3; core 1 drives it low from 4 on.
        assertThat(doing(pins, "next pin").cycle()).isEqualTo(3);
        assertThat(doing(pins, "next pin 2").cycle()).isEqualTo(4);
        assertThat(refusal(pins, "next clash")).isEqualTo("there is no clash from here to the end of the run");
        assertThat(refusal(pins, "previous fault")).isEqualTo("there is no fault from here back to the start");
        assertThat(pins.cycle()).isEqualTo(4);
    }

    @Test
    void slot_withoutRotation_goesToTheNextAdmission() {
        Stepper stepper = lesson("count-bump.turn", "next-waiting.design.json");

        // set, set, then all ask at 3: core 0 is admitted at 3, core 1 at 6.
        assertThat(doing(stepper, "slot").cycle()).isEqualTo(3);
        assertThat(doing(stepper, "slot 2").cycle()).isEqualTo(9);
        assertThat(doing(stepper, "slot back").cycle()).isEqualTo(6);
    }

    @Test
    void end_thenFurther_saysThatTheRunHasEnded() {
        Answer answer = run(doing(text(COUNT), "end"), "step");

        assertThat(answer.line()).isEqualTo("The run has ended at cycle 78: every core is idle or in fault.");
    }

    @Test
    void moveTo_interrupted_saysWhere() {
        Stepper stepper = text("core 0\nmore: jump more\n");

        Answer answer = stepper.run("go 1000000", (cycle, target) -> cycle < 100_000);

        assertThat(answer.line()).startsWith("interrupted at cycle 1");
        assertThat(stepper.cycle()).isBetween(100_000L, 200_000L);
    }

    // ---- looking ----

    @Test
    void look_commands_changeWhatIsShown() {
        Stepper stepper = doing(text(COUNT), "core 1", "show shared", "base hex", "wave 100", "select 4");

        Look look = stepper.look();
        assertThat(look.core()).isEqualTo(1);
        assertThat(look.panel()).isEqualTo(Panel.SHARED);
        assertThat(look.base()).isEqualTo(NumberBase.HEXADECIMAL);
        assertThat(look.cyclesAColumn()).isEqualTo(100);
        assertThat(look.line()).isEqualTo(4);
        doing(stepper, "core next", "core next", "core previous", "show next", "base next", "wave next", "select up");
        assertThat(stepper.look().core()).isEqualTo(2);
        assertThat(stepper.look().panel()).isEqualTo(Panel.PRIVATE);
        assertThat(stepper.look().base()).isEqualTo(NumberBase.BINARY);
        assertThat(stepper.look().cyclesAColumn()).isEqualTo(1000);
        doing(stepper, "show shared", "look count");
        assertThat(stepper.look().address()).isEqualTo(40);
        doing(stepper, "scroll up 3");
        assertThat(stepper.look().address()).isEqualTo(37);
        doing(stepper, "look follow");
        assertThat(stepper.look().address()).isEqualTo(Look.FOLLOW);
    }

    @Test
    void find_text_goesRoundTheSource() {
        Stepper stepper = doing(text(COUNT), "find WRITE");
        assertThat(stepper.look().line()).isEqualTo(5);
        doing(stepper, "find next");
        assertThat(stepper.look().line()).isEqualTo(10);
        doing(stepper, "find next");
        assertThat(stepper.look().line()).isEqualTo(5);
        doing(stepper, "find previous");
        assertThat(stepper.look().line()).isEqualTo(10);
        assertThat(refusal(stepper, "find nowhere")).isEqualTo("\"nowhere\" is nowhere in the source");
    }

    @Test
    void line_withoutNumber_takesTheChosenOne() {
        Stepper stepper = doing(text(COUNT), "select 6", "line");

        assertThat(stepper.cycle()).isEqualTo(28);
    }

    @Test
    void why_twice_comesAndGoes() {
        Stepper stepper = doing(text(COUNT), "go 10", "why");
        assertThat(stepper.look().overlay()).isEqualTo(Look.Overlay.WHY);
        doing(stepper, "step");
        assertThat(stepper.look().overlay()).isEqualTo(Look.Overlay.WHY);
        doing(stepper, "why");
        assertThat(stepper.look().overlay()).isEqualTo(Look.Overlay.NONE);
    }

    @Test
    void help_read_goesAwayWithTheNextCommand() {
        Stepper stepper = doing(text(COUNT), "help");
        assertThat(stepper.look().overlay()).isEqualTo(Look.Overlay.HELP);
        doing(stepper, "scroll down 3");
        assertThat(stepper.look().overlay()).isEqualTo(Look.Overlay.HELP);
        doing(stepper, "step");
        assertThat(stepper.look().overlay()).isEqualTo(Look.Overlay.NONE);
        assertThat(run(stepper, "help go").lines().get(0)).startsWith("go CYCLE");
    }

    // ---- stops ----

    @ParameterizedTest
    @CsvSource({
        "stop line 5, 27, stop 1: line 5",
        "stop at more, 1, stop 1: at 1 of core 0",
        "stop when r1 == 2, 30, stop 1: when r1 == 2 of core 0",
        "stop when r1<3, 30, stop 1: when r1 < 3 of core 0",
        "stop when shared[count] > 6, 51, stop 1: when shared[count] > 6",
        "stop when private[0] != 1, 78, no stop was met. The run has ended at cycle 78: every core is idle or in fault.",
        "stop change shared[40], 27, stop 1: change of shared[count]",
        "stop change r2, 2, stop 1: change of r2 of core 0",
        "stop pin 0 rises, 78, no stop was met. The run has ended at cycle 78: every core is idle or in fault.",
        "stop fault, 3, stop 1: fault of any core",
        "stop fault 1, 3, stop 1: fault of core 1"
    })
    void run_toAStop_restsThereAndSaysWhich(String stop, long cycle, String said) {
        Stepper stepper = doing(text(COUNT), stop);

        Answer answer = run(stepper, "run");

        assertThat(answer.line()).isEqualTo(said);
        assertThat(stepper.cycle()).isEqualTo(cycle);
    }

    /** Line 4 begins at 2, 31 and 55 (the second bump asks at 32, the third at 56). */
    @Test
    void run_againAndBack_goesFromStopToStop() {
        Stepper stepper = doing(text(COUNT), "stop line 4");
        List<Long> cycles = new ArrayList<>();
        for (String command : List.of("run", "run", "run", "run back", "run back")) {
            run(stepper, command);
            cycles.add(stepper.cycle());
        }

        assertThat(cycles.subList(0, 3)).isSorted().startsWith(2L);
        assertThat(cycles.get(3)).isEqualTo(cycles.get(1));
        assertThat(cycles.get(4)).isEqualTo(2);
        assertThat(run(stepper, "run back").line()).isEqualTo("no stop was met; this is the start of the run");
    }

    @Test
    void stop_pinEdges_areToldApart() {
        Stepper stepper =
                text("core 0\n set r1, 1\n write drive, r1\nmore: write out, r1\n write out, r0\n jump more\n");
        // out is 1 from 3 on, 0 from 4 on, then jump 4..5: 1 from 7 on.
        assertThat(doing(stepper, "stop pin 0 falls", "run").cycle()).isEqualTo(4);
        doing(stepper, "drop all", "stop pin 0 rises", "run");
        assertThat(stepper.cycle()).isEqualTo(7);
        doing(stepper, "drop 1", "stop pin 0", "run");
        assertThat(stepper.cycle()).isEqualTo(8);
    }

    @Test
    void stop_sameTwice_isTakenAway() {
        Stepper stepper = doing(text(COUNT), "stop line 4");

        assertThat(run(stepper, "stop line 4").line()).isEqualTo("no stop any more: line 4");
        assertThat(refusal(stepper, "run"))
                .isEqualTo("there are no stops; set one with o or stop, or go to the end with end");
    }

    // ---- changes ----

    @Test
    void set_registerWordAndPin_changeTheRunUntilRestored() {
        Stepper stepper = doing(text(COUNT), "go 10", "set r1 1", "set shared[count] = 100", "set pin 5 1");
        assertThat(stepper.timeline().chip().pinLevels() >>> 5).isEqualTo(1);
        doing(stepper, "end");
        assertThat(stepper.timeline().chip().sharedWord(40)).isEqualTo(101);
        assertThat(run(stepper, "alterations").lines())
                .containsExactly(
                        "1: r1 of core 0 = 1 from cycle 10 on",
                        "2: shared[count] = 100 from cycle 10 on",
                        "3: pin 5 is given 1 from cycle 10 on");

        doing(stepper, "restore 1", "end");
        assertThat(stepper.timeline().chip().sharedWord(40)).isEqualTo(103);
        doing(stepper, "restore all", "end");
        assertThat(stepper.timeline().chip().sharedWord(40)).isEqualTo(8);
        assertThat(refusal(stepper, "restore all")).isEqualTo("nothing is altered");
    }

    @Test
    void undo_anything_takesItBackAndRedoBringsItAgain() {
        Stepper stepper = doing(text(COUNT), "go 10", "core 1", "set r1 9", "stop fault", "end");

        doing(stepper, "undo", "undo", "undo");
        assertThat(stepper.cycle()).isEqualTo(10);
        assertThat(stepper.state().stops()).isEmpty();
        assertThat(stepper.state().alterations()).isEmpty();
        assertThat(stepper.timeline().alterations()).isEmpty();
        assertThat(stepper.core()).isEqualTo(1);
        doing(stepper, "undo");
        assertThat(stepper.core()).isZero();
        doing(stepper, "undo");
        assertThat(stepper.cycle()).isZero();
        assertThat(refusal(stepper, "undo")).isEqualTo("there is nothing to undo");
        doing(stepper, "redo", "redo", "redo");
        assertThat(stepper.timeline().alterations()).hasSize(1);
        assertThat(stepper.cycle()).isEqualTo(10);
    }

    // ---- bookmarks, playing ----

    @Test
    void mark_thenGo_comesBack() {
        Stepper stepper = doing(text(COUNT), "go 10", "mark", "mark ask", "go 50", "go ask");
        assertThat(stepper.cycle()).isEqualTo(10);
        assertThat(run(stepper, "marks").lines()).containsExactly("m1: cycle 10", "ask: cycle 10");
        doing(stepper, "unmark ask");
        assertThat(refusal(stepper, "go ask")).isEqualTo("\"ask\" is neither a cycle nor a bookmark");
        assertThat(refusal(stepper, "mark 1")).startsWith("a bookmark's name is a letter");
    }

    @Test
    void play_stopAndEnd_bringItToRest() {
        Stepper stepper = doing(text(COUNT), "stop line 5", "play 50");
        assertThat(stepper.playingSpeed()).isEqualTo(50);
        stepper.playOn(20);
        assertThat(stepper.cycle()).isEqualTo(20);
        stepper.playOn(20);
        assertThat(stepper.cycle()).isEqualTo(27);
        assertThat(stepper.playingSpeed()).isZero();
        doing(stepper, "drop all", "play", "faster");
        assertThat(stepper.playingSpeed()).isEqualTo(100);
        stepper.playOn(1000);
        assertThat(stepper.cycle()).isEqualTo(78);
        assertThat(stepper.playingSpeed()).isZero();
        assertThat(refusal(stepper, "play")).isEqualTo("the run is at its end; begin goes back to its start");
    }

    @Test
    void play_thenAMove_pauses() {
        Stepper stepper = doing(text(COUNT), "play", "core 1");
        assertThat(stepper.playingSpeed()).isPositive();
        doing(stepper, "step");
        assertThat(stepper.playingSpeed()).isZero();
    }

    // ---- scripts ----

    private static final class Kept implements ScriptFiles {
        private final Map<String, List<String>> files = new HashMap<>();

        @Override
        public List<String> read(String name) {
            List<String> lines = files.get(name);
            if (lines == null) {
                throw ScriptFiles.refusal(name + ": there is no such file");
            }
            return lines;
        }

        @Override
        public void check(String name) {
            if (name.startsWith("/")) {
                throw ScriptFiles.refusal(name + ": permission denied");
            }
        }

        @Override
        public void write(String name, List<String> lines) {
            files.put(name, List.copyOf(lines));
        }
    }

    private static Stepper with(ScriptFiles files) {
        Stepper plain = text(COUNT);
        return new Stepper(
                octurn.run.Timeline.of(plain.timeline().program(), Scenario.QUIET, 1000), files, Steppers.UNICODE);
    }

    @Test
    void record_thenFollow_comesToTheSamePlace() {
        Kept files = new Kept();
        Stepper first = with(files);
        doing(first, "go 5", "record tour", "next request", "core 1", "help", "show pins", "bac 2", "record end");

        assertThat(files.files.get("tour")).containsExactly("go 5", "next request", "core 1", "show pins", "bac 2");
        Stepper second = doing(with(files), "follow tour");
        assertThat(second.cycle()).isEqualTo(first.cycle());
        assertThat(second.look().panel()).isEqualTo(Panel.PINS);
    }

    @Test
    void follow_mistakeInTheScript_namesItsLine() {
        Kept files = new Kept();
        files.write("bad", List.of("# a comment", "step", "fly", "step"));
        Stepper stepper = with(files);

        assertThat(refusal(stepper, "follow bad"))
                .isEqualTo("line 3 of the script, \"fly\": there is no command \"fly\"; help lists all");
        assertThat(stepper.cycle()).isEqualTo(1);
        files.write("loop", List.of("follow loop"));
        assertThat(refusal(stepper, "follow loop")).contains("a script cannot follow another one");
        files.write("writes", List.of("record other"));
        assertThat(refusal(stepper, "follow writes")).contains("a script cannot record");
        assertThat(refusal(stepper, "record /etc/x")).isEqualTo("/etc/x: permission denied");
        assertThat(refusal(stepper, "record end")).isEqualTo("nothing is being recorded");
    }

    @Test
    void close_recordingUnderWay_isWritten() {
        Kept files = new Kept();
        Stepper stepper = doing(with(files), "record tour", "step");

        assertThat(stepper.close()).isEmpty();
        assertThat(files.files.get("tour")).containsExactly("go 0", "step");
    }

    // ---- mistakes ----

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "stpe | there is no command \"stpe\"; did you mean step?",
                "s | there is no command \"s\"; help lists all",
                "step x | how many: \"x\" is no number",
                "step 0 | how many: 0 is not 1..9007199254740991",
                "step 1 2 | \"2\" is too much here",
                "go | a cycle or a bookmark is missing",
                "go 99999999999999999999 | cycle: \"99999999999999999999\" is too large, or has no digits",
                "core 8 | core: 8 is not 0..7",
                "next | what to look for is missing: request, admission, pin, clash, fault, idle",
                "next requset | what to look for cannot be \"requset\"; did you mean request?: request, admission, pin,"
                        + " clash, fault, idle",
                "next pin 16 | pin: 16 is not 0..15",
                "show nothing | the panel cannot be \"nothing\": registers, shared, private, pins, tallies, turns",
                "line 99 | line: 99 is not 1..13",
                "stop when r16 == 1 | there is no register r16: r0..r15",
                "stop when shared[cuont] == 1 | shared address: there is no label \"cuont\" there; did you mean count?",
                "stop when r1 = 1 | \"r1 = 1\" is no condition; r1 == 5 and shared[count] > 10 are",
                "stop when shared[16384] == 1 | shared address: 16384 is not 0..16383",
                "set r1 | a value is missing",
                "set r1 4294967296 | value: 4294967296 is not -2147483648..4294967295",
                "set foo 1 | \"foo\" is no word of the chip; r0..r15, private[..] and shared[..] are",
                "set pin 3 2 | the level cannot be \"2\": 0, 1, free",
                "look 20000 | shared address: 20000 is not 0..16383",
                "drop 1 | there are no stops",
                "unmark x | there are no bookmarks",
                "redo | there is nothing to do again"
            })
    void run_mistake_isSaidInOneLineAndChangesNothing(String command, String message) {
        Stepper stepper = text(COUNT);
        State before = stepper.state();

        assertThat(refusal(stepper, command)).isEqualTo(message);
        assertThat(stepper.state()).isEqualTo(before);
    }

    @Test
    void run_emptyLineAndComment_doNothing() {
        Stepper stepper = text(COUNT);

        assertThat(run(stepper, "").kind()).isEqualTo(Answer.Kind.DONE);
        assertThat(run(stepper, "  # a remark").kind()).isEqualTo(Answer.Kind.DONE);
        assertThat(run(stepper, "quit").kind()).isEqualTo(Answer.Kind.QUIT);
    }

    @Test
    void pins_chipWithout_areRefused() {
        Design d = Design.DEFAULT;
        Design none = new Design("none", 8, 1024, 1024, 3, d.admission(), d.cost(), 0, d.clock());
        Stepper stepper = Steppers.of(
                "t.turn",
                "core 0\n halt\n".getBytes(java.nio.charset.StandardCharsets.UTF_8),
                none,
                Scenario.QUIET,
                Steppers.UNICODE);

        assertThat(refusal(stepper, "next pin 1")).isEqualTo("this chip has no pins");
        doing(stepper, "show pins", "tell pins");
    }
}
