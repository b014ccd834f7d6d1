package octurn.machine;

import static octurn.machine.TestDesign.design;
import static octurn.machine.TestDesign.ownPort;
import static octurn.machine.TestDesign.rotation;
import static octurn.machine.TestDesign.under;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalLong;
import java.util.Set;
import octurn.asm.Program;
import octurn.design.Admission;
import octurn.design.Input;
import octurn.design.Scenario;
import octurn.run.Run;
import octurn.trace.Event;
import octurn.trace.Kind;
import org.junit.jupiter.api.Test;

/**
 * What the engine that explains tells: which events, at which cycle, in which order. An event's cycle is the first from
 * whose beginning on it holds.
 */
class EventsTest {

    private static final int HALT = 0xC8000000;
    private static final int NOP = 0x20020000;

    private static List<Event> events(TestDesign design, Scenario scenario, String text) {
        Program program = Trial.assemble(design.build(), text);
        List<Event> events = new ArrayList<>();
        Run.of(
                        program,
                        scenario,
                        scenario.limit().orElse(10_000),
                        (kind, cycle, core, a, b) -> events.add(new Event(kind, cycle, core, a, b)))
                .finish();
        return events;
    }

    private static List<Event> events(TestDesign design, String text) {
        return events(design, Scenario.QUIET, text);
    }

    private static List<Event> of(List<Event> events, int core, Kind... kinds) {
        Set<Kind> wanted = Set.of(kinds);
        return events.stream()
                .filter(event -> event.core() == core && (wanted.isEmpty() || wanted.contains(event.kind())))
                .toList();
    }

    private static Event event(long cycle, int core, Kind kind, long a, long b) {
        return new Event(kind, cycle, core, a, b);
    }

    private static Event state(long cycle, int core, State from, State to) {
        return event(cycle, core, Kind.STATE, to.ordinal(), from.ordinal());
    }

    /** A word as events carry it: sign and all. */
    private static final int FETCH_R1_5 = 0x1A << 26 | 1 << 22 | 5;

    @Test
    void fetch_fromStartToEnd_isToldInOrder() {
        // Core 1: work in 0, up at 1, in at 3, done at 6, halt in 6, idle from 7.
        List<Event> events = events(design(), """
                core 1
                        fetch r1, [5]
                        halt
                shared at 5
                        word  77
                """);

        assertThat(events)
                .containsExactly(
                        event(0, 1, Kind.BEGIN, 0, FETCH_R1_5),
                        state(1, 1, State.WORK, State.WAIT),
                        event(1, 1, Kind.REQUEST, State.WAIT.ordinal(), 5),
                        event(3, 1, Kind.ADMIT, 2, 5),
                        state(3, 1, State.WAIT, State.SLOT),
                        event(6, 1, Kind.SHARED_READ, 5, 77),
                        event(6, 1, Kind.REGISTER, 1, 77),
                        event(6, 1, Kind.FINISH, 0, FETCH_R1_5),
                        state(6, 1, State.SLOT, State.WORK),
                        event(6, 1, Kind.BEGIN, 1, HALT),
                        event(7, 1, Kind.FINISH, 1, HALT),
                        event(7, 1, Kind.LET_GO, 0, 0),
                        state(7, 1, State.WORK, State.IDLE),
                        event(7, 1, Kind.IDLE, -1, 0),
                        event(7, -1, Kind.END, End.ALL_IDLE.ordinal(), 0));
    }

    @Test
    void accesses_tellWhatTheyReadAndWrote() {
        List<Event> events = events(ownPort(), """
                core 0
                        set   r1, 5
                        post  r1, [3]
                        bump  r1, [3]
                        swap  r1, [4]
                        halt
                """);

        assertThat(of(events, 0, Kind.SHARED_READ, Kind.SHARED_WRITE, Kind.REGISTER))
                .containsExactly(
                        event(1, 0, Kind.REGISTER, 1, 5),
                        event(5, 0, Kind.SHARED_WRITE, 3, 5),
                        event(9, 0, Kind.SHARED_READ, 3, 5),
                        event(9, 0, Kind.SHARED_WRITE, 3, 10),
                        event(9, 0, Kind.REGISTER, 1, 5),
                        event(13, 0, Kind.SHARED_READ, 4, 0),
                        event(13, 0, Kind.SHARED_WRITE, 4, 5),
                        event(13, 0, Kind.REGISTER, 1, 0));
    }

    @Test
    void privateWordsAndPorts_areTold() {
        List<Event> events = events(design().pins(4), """
                core 0
                        set   r1, -1
                        store r1, [9]
                        load  r2, [9]
                        write out, r1
                        write span1, r1
                        read  r3, out
                        halt
                """);

        assertThat(of(events, 0, Kind.PRIVATE_READ, Kind.PRIVATE_WRITE, Kind.PORT, Kind.REGISTER))
                .containsExactly(
                        event(1, 0, Kind.REGISTER, 1, -1),
                        event(3, 0, Kind.PRIVATE_WRITE, 9, -1),
                        event(5, 0, Kind.PRIVATE_READ, 9, -1),
                        event(5, 0, Kind.REGISTER, 2, -1),
                        // As kept: four pins.
                        event(6, 0, Kind.PORT, 1, 15),
                        event(7, 0, Kind.PORT, 14, -1),
                        event(8, 0, Kind.REGISTER, 3, 15));
    }

    @Test
    void sharedCode_isAskedForAndAdmittedAsCode() {
        List<Event> events = events(ownPort(), """
                core 0
                        far   there
                shared at 7
                there:  halt
                """);

        assertThat(of(events, 0))
                .containsExactly(
                        event(0, 0, Kind.BEGIN, 0, 0x24 << 26 | 1 << 25 | 7),
                        event(2, 0, Kind.FINISH, 0, 0x24 << 26 | 1 << 25 | 7),
                        state(2, 0, State.WORK, State.CODE_WAIT),
                        event(2, 0, Kind.REQUEST, State.CODE_WAIT.ordinal(), 7),
                        event(2, 0, Kind.ADMIT, 0, 7),
                        state(2, 0, State.CODE_WAIT, State.CODE_SLOT),
                        state(5, 0, State.CODE_SLOT, State.WORK),
                        event(5, 0, Kind.BEGIN, Kind.place(7, true), HALT),
                        event(6, 0, Kind.FINISH, Kind.place(7, true), HALT),
                        event(6, 0, Kind.LET_GO, 0, 0),
                        state(6, 0, State.WORK, State.IDLE),
                        event(6, 0, Kind.IDLE, -1, 0));
    }

    @Test
    void start_tellsLoadingWordsAndTheStart() {
        // set, set, start works in 2, slot 3..5; count 6..8, word 9..11, halt in 12.
        List<Event> events = events(ownPort(), """
                core 0
                        set   r1, 1
                        set   r2, helper
                        start r1, r2, r2
                        halt
                shared
                        space 40
                image helper
                        halt
                """);

        assertThat(of(events, 1))
                .containsExactly(
                        event(6, 1, Kind.LOADING, 0, 40),
                        event(6, 1, Kind.REGISTER, 1, 40),
                        state(6, 1, State.IDLE, State.LOAD_WAIT),
                        event(6, 1, Kind.REQUEST, State.LOAD_WAIT.ordinal(), 40),
                        event(6, 1, Kind.ADMIT, 0, 40),
                        state(6, 1, State.LOAD_WAIT, State.LOAD_SLOT),
                        state(9, 1, State.LOAD_SLOT, State.LOAD_WAIT),
                        event(9, 1, Kind.REQUEST, State.LOAD_WAIT.ordinal(), 41),
                        event(9, 1, Kind.ADMIT, 0, 41),
                        state(9, 1, State.LOAD_WAIT, State.LOAD_SLOT),
                        event(12, 1, Kind.PRIVATE_WRITE, 0, HALT),
                        event(12, 1, Kind.START, 0, 0),
                        state(12, 1, State.LOAD_SLOT, State.WORK),
                        event(12, 1, Kind.BEGIN, 0, HALT),
                        event(13, 1, Kind.FINISH, 0, HALT),
                        event(13, 1, Kind.LET_GO, 0, 0),
                        state(13, 1, State.WORK, State.IDLE),
                        event(13, 1, Kind.IDLE, -1, 0));
        // The request of a start has no address; rd is written as the other core begins to load.
        assertThat(of(events, 0, Kind.REQUEST, Kind.ADMIT, Kind.REGISTER).subList(2, 5))
                .containsExactly(
                        event(3, 0, Kind.REQUEST, State.WAIT.ordinal(), -1),
                        event(3, 0, Kind.ADMIT, 0, -1),
                        event(6, 0, Kind.REGISTER, 1, 1));
    }

    @Test
    void start_thatFindsNobody_tellsItsRegisterAlone() {
        List<Event> events = events(ownPort().cores(1), """
                core 0
                        start r1, r2, r3
                        halt
                """);

        assertThat(of(events, 0, Kind.REGISTER, Kind.LOADING)).containsExactly(event(4, 0, Kind.REGISTER, 1, -1));
    }

    @Test
    void stop_ofAWaitingCore_givesUpItsRequest() {
        // Core 0 of order 0 0 0 1: set 0, stop works in 1, up at 2, in at 3..5. Core 1 is up at 1 for the slot at 9.
        List<Event> events = events(rotation(0, 0, 0, 1).cores(2), """
                core 0
                        set   r1, 1
                        stop  r1
                        halt
                core 1
                        fetch r1, [0]
                        halt
                """);

        assertThat(of(events, 1))
                .containsExactly(
                        event(0, 1, Kind.BEGIN, 0, 0x1A << 26 | 1 << 22),
                        state(1, 1, State.WORK, State.WAIT),
                        event(1, 1, Kind.REQUEST, State.WAIT.ordinal(), 0),
                        event(6, 1, Kind.GIVE_UP, 0, 0),
                        event(6, 1, Kind.LET_GO, 0, 0),
                        state(6, 1, State.WAIT, State.IDLE),
                        event(6, 1, Kind.IDLE, 0, 0));
    }

    @Test
    void stop_ofACoreInItsSlot_givesUpTheAccess() {
        List<Event> events = events(ownPort(), """
                core 0
                        set   r1, 1
                        stop  r1
                        halt
                core 1
                        nop
                        nop
                        fetch r1, [0]
                        halt
                """);

        // Up and in at 3; stopped with the end of 4.
        assertThat(of(events, 1, Kind.ADMIT, Kind.GIVE_UP, Kind.SHARED_READ, Kind.IDLE))
                .containsExactly(
                        event(3, 1, Kind.ADMIT, 0, 0), event(5, 1, Kind.GIVE_UP, 0, 0), event(5, 1, Kind.IDLE, 0, 0));
    }

    @Test
    void stop_ofACoreThatNeitherWaitsNorHolds_givesUpNothing() {
        List<Event> events = events(ownPort(), """
                core 0
                        set   r1, 1
                        stop  r1
                        halt
                core 1
                        pause 100
                """);

        assertThat(of(events, 1, Kind.GIVE_UP)).isEmpty();
        assertThat(of(events, 1, Kind.IDLE)).containsExactly(event(5, 1, Kind.IDLE, 0, 0));
    }

    @Test
    void stop_ofTheOtherStopper_givesUpItsStop() {
        List<Event> events = events(ownPort(), """
                core 0
                        set   r1, 1
                        stop  r1
                        halt
                core 1
                        nop
                        stop  r0
                        halt
                """);

        assertThat(of(events, 1, Kind.GIVE_UP, Kind.FINISH))
                .containsExactly(event(1, 1, Kind.FINISH, 0, NOP), event(5, 1, Kind.GIVE_UP, 0, 0));
    }

    @Test
    void stop_ofItself_isFinishedAndIdleByItself() {
        List<Event> events = events(ownPort(), """
                core 0
                        stop  r0
                """);

        assertThat(of(events, 0, Kind.FINISH, Kind.LET_GO, Kind.IDLE))
                .containsExactly(
                        event(4, 0, Kind.FINISH, 0, 0x31 << 26),
                        event(4, 0, Kind.LET_GO, 0, 0),
                        event(4, 0, Kind.IDLE, 0, 0));
    }

    @Test
    void faultOfAnInstruction_letsGoAndIsTold() {
        List<Event> events = events(design(), """
                core 0
                        nop
                        div   r1, r1, 0
                """);

        assertThat(of(events, 0).subList(3, 7))
                .containsExactly(
                        event(1, 0, Kind.BEGIN, 1, 0x0C << 26 | 1 << 22 | 1 << 18 | 1 << 17),
                        event(2, 0, Kind.LET_GO, 0, 0),
                        state(2, 0, State.WORK, State.FAULT),
                        event(2, 0, Kind.FAULT, Fault.Kind.DIVIDE_BY_ZERO.ordinal(), 1));
    }

    @Test
    void lateFault_letsGoOneCycleLater() {
        List<Event> events = events(design(), """
                core 0
                        nop
                        word  5
                core 1
                        pause 5
                        halt
                """);

        assertThat(of(events, 0))
                .containsExactly(
                        event(0, 0, Kind.BEGIN, 0, NOP),
                        event(1, 0, Kind.REGISTER, 0, 0),
                        event(1, 0, Kind.FINISH, 0, NOP),
                        state(1, 0, State.WORK, State.FAULT),
                        event(1, 0, Kind.FAULT, Fault.Kind.NOT_AN_INSTRUCTION.ordinal(), 1),
                        event(2, 0, Kind.LET_GO, 0, 0));
    }

    @Test
    void pins_areToldWhenALevelOrAClashChanges() {
        // The outside: pin 0 high from 2 on. Core 0 drives it low from 4, high from 6; lets go with the end of 7.
        List<Event> events = events(
                design(),
                new Scenario(OptionalLong.empty(), List.of(new Input.Changes(0, List.of(new Input.Change(2, 1))))),
                """
                core 0
                        set   r1, 1
                        nop
                        nop
                        write drive, r1
                        nop
                        write out, r1
                        nop
                        halt
                """);

        assertThat(of(events, -1, Kind.PINS))
                .containsExactly(
                        event(2, -1, Kind.PINS, 1, 0),
                        // Low against high.
                        event(4, -1, Kind.PINS, 0, 1),
                        event(6, -1, Kind.PINS, 1, 0));
    }

    @Test
    void pins_clashThatComesWithoutALevel_isTold() {
        // Driven high from 3; the outside gives low from 6: the level stays.
        List<Event> events = events(
                design(),
                new Scenario(OptionalLong.empty(), List.of(new Input.Changes(0, List.of(new Input.Change(6, 0))))),
                """
                core 0
                        set   r1, 1
                        write out, r1
                        write drive, r1
                        pause 10
                        halt
                """);

        assertThat(of(events, -1, Kind.PINS))
                .containsExactly(
                        event(3, -1, Kind.PINS, 1, 0), event(6, -1, Kind.PINS, 1, 1), event(14, -1, Kind.PINS, 0, 0));
    }

    @Test
    void pinLevels_ofPin31_areToldUnsigned() {
        List<Event> events = events(design().pins(32), """
                core 0
                        set   r1, -1
                        write out, r1
                        write drive, r1
                        halt
                """);

        assertThat(of(events, -1, Kind.PINS))
                .containsExactly(event(3, -1, Kind.PINS, 0xFFFF_FFFFL, 0), event(4, -1, Kind.PINS, 0, 0));
    }

    @Test
    void pulse_isToldAtEachEdge() {
        // Span 4, level 1, in force from 7 on; the core halts in 16.
        List<Event> events = events(design(), """
                core 0
                        set   r1, 1
                        write drive, r1
                        write level0, r1
                        set   r1, 4
                        write span0, r1
                        set   r1, 6
                        write mode0, r1
                        pause 8
                        halt
                """);

        assertThat(of(events, -1, Kind.PINS))
                .extracting(Event::cycle, Event::a)
                .containsExactly(
                        tuple(7L, 1L), tuple(8L, 0L), tuple(11L, 1L), tuple(12L, 0L), tuple(15L, 1L), tuple(16L, 0L));
    }

    @Test
    void sleep_isAState() {
        List<Event> events = events(design(), """
                core 0
                        pause 4
                        until 10
                        halt
                """);

        assertThat(of(events, 0, Kind.STATE))
                .containsExactly(
                        state(1, 0, State.WORK, State.SLEEP),
                        state(4, 0, State.SLEEP, State.WORK),
                        state(5, 0, State.WORK, State.SLEEP),
                        state(10, 0, State.SLEEP, State.WORK),
                        state(11, 0, State.WORK, State.IDLE));
    }

    @Test
    void await_finishesAtTheCycleOfItsTruth() {
        List<Event> events = events(
                design(),
                new Scenario(OptionalLong.empty(), List.of(new Input.Changes(0, List.of(new Input.Change(9, 1))))),
                """
                core 0
                        set   r1, 1
                        await r1, 1
                        halt
                """);

        assertThat(of(events, 0, Kind.FINISH)).extracting(Event::cycle).containsExactly(1L, 9L, 10L);
        assertThat(of(events, 0, Kind.BEGIN)).extracting(Event::cycle).containsExactly(0L, 1L, 9L);
    }

    @Test
    void end_tellsItsReason() {
        String endless = """
                core 0
                more:   jump  more
                """;
        List<Event> limited = events(design(), new Scenario(OptionalLong.of(7), List.of()), endless);
        assertThat(limited.get(limited.size() - 1)).isEqualTo(event(7, -1, Kind.END, End.LIMIT.ordinal(), 0));

        List<Event> stuck = events(design(), """
                core 0
                        set   r1, 1
                        await r1, 1
                """);
        assertThat(stuck.get(stuck.size() - 1)).isEqualTo(event(2, -1, Kind.END, End.STUCK.ordinal(), 0));
    }

    // ---- the order within a cycle ----

    @Test
    void oneCycle_effectsThenControlThenPinsThenStartsThenAdmission() {
        // At 5: core 2's write has shown (it ends with 4), core 0's stop of core 3 ends with 4, core 1 starts a nop,
        // core 4's request is raised and admitted.
        List<Event> events = events(ownPort(), """
                core 0
                        set   r1, 3
                        stop  r1
                        halt
                core 1
                        pause 5
                        halt
                core 2
                        set   r1, 1
                        write drive, r1
                        pause 2
                        write out, r1
                        halt
                core 3
                        pause 50
                core 4
                        pause 4
                        fetch r1, [0]
                        halt
                """);

        assertThat(events.stream().filter(event -> event.cycle() == 5).map(event -> event.kind() + " " + event.core()))
                .containsExactly(
                        // Effects, in ascending core number.
                        "FINISH 1",
                        "PORT 2",
                        "FINISH 2",
                        // The stop.
                        "LET_GO 3",
                        "STATE 3",
                        "IDLE 3",
                        "FINISH 0",
                        // Pins.
                        "PINS -1",
                        // What starts, in ascending core number.
                        "STATE 0",
                        "BEGIN 0",
                        "STATE 1",
                        "BEGIN 1",
                        "BEGIN 2",
                        "STATE 4",
                        "REQUEST 4",
                        // Admission.
                        "ADMIT 4",
                        "STATE 4");
    }

    @Test
    void admissions_underAChoosingPolicy_areOneAtATime() {
        List<Event> events = events(under(new Admission.NextWaiting()), """
                core 0..2
                        fetch r1, [0]
                        halt
                """);

        assertThat(events.stream().filter(event -> event.kind() == Kind.ADMIT))
                .containsExactly(
                        event(1, 0, Kind.ADMIT, 0, 0), event(4, 1, Kind.ADMIT, 3, 0), event(7, 2, Kind.ADMIT, 6, 0));
    }

    @Test
    void cycles_neverDecrease() {
        List<Event> events = events(design(), """
                core all
                        read  r1, core
                more:   bump  r2, [r1]
                        mul   r3, r3, r1
                        again r1, more
                        halt
                """);

        assertThat(events).extracting(Event::cycle).isSorted();
    }
}
