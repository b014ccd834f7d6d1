package octurn.run;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.LongStream;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.asm.Program;
import octurn.design.Design;
import octurn.design.Input;
import octurn.design.Scenario;
import octurn.machine.Change;
import octurn.machine.End;
import octurn.machine.State;
import octurn.reference.RandomPrograms;
import octurn.run.Timeline.Outcome;
import octurn.trace.Event;
import octurn.trace.Kind;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class TimelineTest {

    private static final long CYCLES = 200;

    /** Enough for a handful of small keyframes. */
    private static final long TINY_BUDGET = 60_000;

    static LongStream seeds() {
        return LongStream.rangeClosed(1, 30);
    }

    // ---- laws, on random programs ----

    @ParameterizedTest
    @MethodSource("seeds")
    void events_allFromTheStart_makeTheLastChipOfTheFirst(long seed) {
        RandomPrograms.Generated generated = RandomPrograms.of(seed);
        Program program = assemble(generated.text(), generated.design());
        Fold fold = new Fold(program);
        Run run = Run.of(program, generated.scenario(), generated.limit(), fold);

        for (long cycle = 0; cycle < CYCLES && !run.isOver(); cycle += 7) {
            run.runTo(cycle);
            fold.assertIs(run.chip());
        }
        run.finish();
        fold.assertIs(run.chip());
    }

    @ParameterizedTest
    @MethodSource("seeds")
    void run_withAndWithoutListener_endsTheSame(long seed) {
        RandomPrograms.Generated generated = RandomPrograms.of(seed);
        Program program = assemble(generated.text(), generated.design());
        Run quiet = Run.of(program, generated.scenario(), generated.limit());
        Run told = Run.of(program, generated.scenario(), generated.limit(), (kind, cycle, core, a, b) -> {});

        quiet.finish();
        told.finish();

        assertThat(ChipText.of(told.chip())).isEqualTo(ChipText.of(quiet.chip()));
    }

    @ParameterizedTest
    @MethodSource("seeds")
    void moveTo_anyCycleInAnyOrder_isWhereAPlainRunIs(long seed) {
        RandomPrograms.Generated generated = RandomPrograms.of(seed);
        Program program = assemble(generated.text(), generated.design());
        Run run = Run.of(program, generated.scenario(), generated.limit());
        List<String> chips = new ArrayList<>();
        do {
            run.runTo(chips.size());
            chips.add(ChipText.of(run.chip()));
        } while (chips.size() < CYCLES && !run.isOver());
        run.finish();
        Timeline timeline = Timeline.of(program, generated.scenario(), generated.limit(), TINY_BUDGET);
        Random random = new Random(seed);

        timeline.moveTo(Long.MAX_VALUE, Progress.NONE);
        assertThat(ChipText.of(timeline.chip())).isEqualTo(ChipText.of(run.chip()));
        for (int i = 0; i < 80; i++) {
            int cycle = random.nextInt(chips.size());
            assertThat(timeline.moveTo(cycle, Progress.NONE)).isEqualTo(cycle);
            assertThat(ChipText.of(timeline.chip())).isEqualTo(chips.get(cycle));
        }
    }

    @ParameterizedTest
    @MethodSource("seeds")
    void events_ofAnyStretch_areThoseThatARunTells(long seed) {
        RandomPrograms.Generated generated = RandomPrograms.of(seed);
        Program program = assemble(generated.text(), generated.design());
        List<Event> all = new ArrayList<>();
        Run run = Run.of(
                program,
                generated.scenario(),
                generated.limit(),
                (kind, cycle, core, a, b) -> all.add(new Event(kind, cycle, core, a, b)));
        run.finish();
        Timeline timeline = Timeline.of(program, generated.scenario(), generated.limit());
        Random random = new Random(seed);

        for (int i = 0; i < 20; i++) {
            long from = random.nextInt((int) run.chip().cycle() + 1);
            long to = from + random.nextInt(300);
            timeline.moveTo(from + random.nextInt(50), Progress.NONE);
            assertThat(timeline.events(from, to)).isEqualTo(between(all, from, to));
            List<Event> pins = timeline.pinEvents(from, to);
            assertThat(pins.subList(1, pins.size())).isEqualTo(pinEvents(between(all, from + 1, to)));
            List<Event> before = pinEvents(between(all, 0, from + 1));
            long levels = before.isEmpty() ? 0 : before.get(before.size() - 1).a();
            assertThat(pins.get(0).cycle()).isEqualTo(from);
            assertThat(pins.get(0).a()).isEqualTo(levels);
        }
    }

    private static List<Event> pinEvents(List<Event> events) {
        return events.stream().filter(event -> event.kind() == Kind.PINS).toList();
    }

    @ParameterizedTest
    @MethodSource("seeds")
    void alter_thenTakenBack_isTheRunBefore(long seed) {
        RandomPrograms.Generated generated = RandomPrograms.of(seed);
        Program program = assemble(generated.text(), generated.design());
        Timeline timeline = Timeline.of(program, generated.scenario(), generated.limit());
        long cycle = timeline.moveTo(CYCLES, Progress.NONE);
        String before = ChipText.of(timeline.chip());

        timeline.alter(List.of(
                new Alteration(cycle / 2, new Change.SharedWord(3, 77)),
                new Alteration(0, new Change.Register(0, 2, -1)),
                new Alteration(cycle, new Change.PrivateWord(0, 15, 5))));
        assertThat(timeline.alterations()).extracting(Alteration::cycle).containsExactly(0L, cycle / 2, cycle);
        long altered = timeline.cycle();
        String there = ChipText.of(timeline.chip());
        timeline.moveTo(0, Progress.NONE);
        timeline.moveTo(altered, Progress.NONE);
        assertThat(ChipText.of(timeline.chip())).isEqualTo(there);

        timeline.alter(List.of());
        timeline.moveTo(cycle, Progress.NONE);
        assertThat(ChipText.of(timeline.chip())).isEqualTo(before);
    }

    @ParameterizedTest
    @MethodSource("seeds")
    void seek_anyEvent_findsTheNearestInEitherDirection(long seed) {
        RandomPrograms.Generated generated = RandomPrograms.of(seed);
        Program program = assemble(generated.text(), generated.design());
        Random random = new Random(seed);
        Timeline timeline = Timeline.of(program, generated.scenario(), generated.limit());
        long end = timeline.moveTo(Long.MAX_VALUE, Progress.NONE);
        List<Event> all = timeline.events(0, end + 1);

        for (int i = 0; i < 8; i++) {
            Kind kind = Kind.values()[random.nextInt(Kind.values().length)];
            long here = timeline.moveTo((long) (random.nextDouble() * end), Progress.NONE);
            List<Watch> watches = List.of(Watch.event((k, core, a, b) -> k == kind));
            long next = all.stream()
                    .filter(event -> event.kind() == kind && event.cycle() > here)
                    .mapToLong(Event::cycle)
                    .findFirst()
                    .orElse(-1);
            long previous = all.stream()
                    .filter(event -> event.kind() == kind && event.cycle() < here)
                    .mapToLong(Event::cycle)
                    .reduce(-1, (first, second) -> second);

            Timeline.Sought forward = timeline.seekNext(watches, Progress.NONE);
            assertThat(forward.outcome()).isEqualTo(next < 0 ? Outcome.NOT_FOUND : Outcome.FOUND);
            assertThat(timeline.cycle()).isEqualTo(next < 0 ? here : next);
            timeline.moveTo(here, Progress.NONE);
            Timeline.Sought back = timeline.seekPrevious(watches, Progress.NONE);
            assertThat(back.outcome()).isEqualTo(previous < 0 ? Outcome.NOT_FOUND : Outcome.FOUND);
            assertThat(timeline.cycle()).isEqualTo(previous < 0 ? here : previous);
        }
    }

    // ---- one by one ----

    private static final String ENDLESS = """
            core 0
                    set   r1, 0
            next:   add   r1, r1, 1
                    post  r1, [r2]
                    jump  next
            """;

    @Test
    void moveTo_beyondTheEnd_staysAtTheEnd() {
        Timeline timeline = timeline("core 0\n nop\n halt\n", 1000);

        assertThat(timeline.moveTo(500, Progress.NONE)).isEqualTo(2);
        assertThat(timeline.isOver()).isTrue();
        assertThat(timeline.chip().ended()).isEqualTo(End.ALL_IDLE);
    }

    @Test
    void moveTo_interrupted_staysWhereItGotTo() {
        Timeline timeline = timeline(ENDLESS, 10_000_000);

        long reached = timeline.moveTo(5_000_000, (cycle, target) -> cycle < 300_000);

        assertThat(reached).isBetween(300_000L, 500_000L);
        assertThat(timeline.cycle()).isEqualTo(reached);
    }

    @Test
    void moveTo_farWithSmallBudget_keepsToIt() {
        long budget = 1 << 20;
        Timeline timeline = Timeline.of(assemble(ENDLESS, Design.DEFAULT), Scenario.QUIET, 100_000_000, budget);

        timeline.moveTo(3_000_000, Progress.NONE);

        assertThat(timeline.keyframeBytes()).isPositive().isLessThanOrEqualTo(budget);
        timeline.moveTo(2_999_999, Progress.NONE);
        assertThat(timeline.chip().core(0).cyclesIn(State.IDLE, timeline.cycle()))
                .isZero();
    }

    @Test
    void keyframes_largestDesign_fitTheDefaultBudget() {
        Design largest = new Design(
                "largest",
                32,
                65_536,
                131_072,
                3,
                Design.DEFAULT.admission(),
                Design.DEFAULT.cost(),
                32,
                Design.DEFAULT.clock());
        String sweep = """
                core all
                        set   r2, 16
                next:   store r2, [r2]
                        add   r2, r2, 1
                        jump  next if r2 u< r3
                        set   r2, 16
                        set   r3, 65535
                        jump  next
                """;
        Timeline timeline = Timeline.of(assemble(sweep, largest), Scenario.QUIET, 100_000_000);

        timeline.moveTo(200_000, Progress.NONE);

        assertThat(timeline.keyframeBytes()).isPositive().isLessThanOrEqualTo(Timeline.DEFAULT_BUDGET);
        assertThat(timeline.moveTo(199_999, Progress.NONE)).isEqualTo(199_999);
    }

    @Test
    void alter_register_isSeenByAnInstructionThatStartsInThatCycle() {
        // set, then at cycle 1 a jump that looks at r1
        Timeline timeline = timeline("""
                core 0
                        set   r1, 5
                        jump  else if r1 == 7
                        set   r2, 1
                        halt
                else:   set   r2, 2
                        halt
                """, 1000);
        timeline.moveTo(1, Progress.NONE);

        timeline.alter(List.of(new Alteration(1, new Change.Register(0, 1, 7))));

        assertThat(timeline.cycle()).isEqualTo(1);
        assertThat(timeline.chip().core(0).register(1)).isEqualTo(7);
        timeline.moveTo(1000, Progress.NONE);
        assertThat(timeline.chip().core(0).register(2)).isEqualTo(2);
    }

    @Test
    void alter_pin_wakesACoreThatWasStuck() {
        Timeline timeline = timeline("""
                core 0
                        set   r1, 4
                        await r1, 4
                        halt
                """, 1000);
        long stuck = timeline.moveTo(1000, Progress.NONE);
        assertThat(timeline.chip().ended()).isEqualTo(End.STUCK);

        timeline.alter(List.of(new Alteration(stuck, new Change.PinLevel(2, 1))));
        timeline.moveTo(1000, Progress.NONE);

        assertThat(timeline.chip().ended()).isEqualTo(End.ALL_IDLE);
        assertThat(timeline.chip().pinLevels()).isEqualTo(4);
        timeline.alter(List.of(
                new Alteration(stuck, new Change.PinLevel(2, 1)),
                new Alteration(stuck + 1, new Change.PinLevel(2, Input.NOTHING))));
        timeline.moveTo(stuck, Progress.NONE);
        assertThat(timeline.chip().pinLevels()).isEqualTo(4);
        timeline.moveTo(stuck + 1, Progress.NONE);
        assertThat(timeline.chip().pinLevels()).isZero();
    }

    @Test
    void alter_whatTheDesignLacks_isRefusedAndChangesNothing() {
        Timeline timeline = timeline(ENDLESS, 1000);

        assertThatThrownBy(() -> timeline.alter(List.of(new Alteration(1, new Change.SharedWord(16_384, 1)))))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("shared address: 16384, not 0..16383");
        assertThat(timeline.alterations()).isEmpty();
    }

    /** Arithmetic: set 1, add 1, post 1 + 21 waiting + 3 (request at 3, slot at 24), jump 2. */
    @Test
    void placeCycles_firstRound_areThoseOfTheRules() {
        Timeline timeline = timeline(ENDLESS, 1000);

        timeline.moveTo(29, Progress.NONE);

        assertThat(LongStream.rangeClosed(0, 3)
                        .map(address -> timeline.placeCycles().cycles(0, false, (int) address)))
                .containsExactly(1L, 1L, 25L, 2L);
        assertThat(timeline.placeCycles().since(0)).isEqualTo(29);
        timeline.moveTo(2, Progress.NONE);
        assertThat(timeline.placeCycles().cycles(0, false, 2)).isZero();
    }

    private static List<Event> between(List<Event> all, long from, long to) {
        return all.stream()
                .filter(event -> event.cycle() >= from && event.cycle() < to)
                .toList();
    }

    private static Timeline timeline(String text, long limit) {
        return Timeline.of(assemble(text, Design.DEFAULT), Scenario.QUIET, limit);
    }

    private static Program assemble(String text, Design design) {
        Assembly assembly = Assembler.assemble("test.turn", text.getBytes(StandardCharsets.UTF_8), design);
        if (assembly instanceof Assembly.Assembled assembled) {
            return assembled.program();
        }
        throw new AssertionError(assembly);
    }
}
