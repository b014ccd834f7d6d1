package octurn.excerpt;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Random;
import java.util.stream.LongStream;
import octurn.asm.Program;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.excerpt.Excerpt.Deed;
import octurn.excerpt.Excerpt.Handover;
import octurn.excerpt.Excerpt.Lane;
import octurn.excerpt.Excerpt.Level;
import octurn.excerpt.Excerpt.Stretch;
import octurn.excerpt.Excerpt.Wave;
import octurn.machine.End;
import octurn.machine.State;
import octurn.machine.Trial;
import octurn.measure.Measured;
import octurn.reference.RandomPrograms;
import octurn.reference.RandomPrograms.Generated;
import octurn.run.Moment;
import octurn.run.Progress;
import octurn.run.Run;
import octurn.run.Timeline;
import octurn.trace.Event;
import octurn.trace.Kind;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class RecorderTest {

    private static Excerpt take(Program program, long from, long to, long cyclesAColumn) {
        return Recorder.take(program, Scenario.QUIET, Run.DEFAULT_LIMIT, from, to, cyclesAColumn, Recorder.Mover.PLAIN);
    }

    private static Excerpt take(String text, long from, long to) {
        return take(Measured.assemble(text, Design.DEFAULT), from, to, 1);
    }

    // ---- small programs, worked out by hand ----

    /** The worked example of the chip's rules: works in cycle 0, waits 1..23, holds 24..26, goes on at 27. */
    @Test
    void stretches_ofTheWorkedExample_areThoseOfTheRules() {
        Lane lane = take("core 0\n fetch r1, [0]\n halt\n", 0, 100).lanes().get(0);

        assertThat(lane.stretches())
                .containsExactly(
                        new Stretch(State.WORK, 0, 1, 0, true),
                        new Stretch(State.WAIT, 1, 24, 1, true),
                        new Stretch(State.SLOT, 24, 27, 24, true),
                        new Stretch(State.WORK, 27, 28, 27, true));
        assertThat(lane.deeds())
                .containsExactly(new Deed(0, 27, true, "", "fetch r1, [0]", 2), new Deed(27, 28, true, "", "halt", 3));
        assertThat(lane.cycles()).isEqualTo(Map.of(State.WORK, 2L, State.WAIT, 23L, State.SLOT, 3L));
    }

    @Test
    void excerpt_pastTheEnd_endsWithTheRun() {
        Excerpt excerpt = take("core 0\n fetch r1, [0]\n halt\n", 0, 100);

        assertThat(excerpt.to()).isEqualTo(28);
        assertThat(excerpt.ended()).isEqualTo(End.ALL_IDLE);
    }

    @Test
    void excerpt_beyondTheEnd_isEmptyAndTellsWhereTheRunEnded() {
        Excerpt excerpt = take("core 0\n halt\n", 50, 100);

        assertThat(excerpt.cycles()).isZero();
        assertThat(excerpt.to()).isEqualTo(1);
        assertThat(excerpt.lanes()).isEmpty();
    }

    @Test
    void excerpt_insideAWait_knowsWhenItBeganAndThatItGoesOn() {
        Lane lane = take("core 0\nhere: fetch r1, [0]\n halt\n", 5, 10).lanes().get(0);

        assertThat(lane.stretches()).containsExactly(new Stretch(State.WAIT, 5, 10, 1, false));
        assertThat(lane.deeds()).containsExactly(new Deed(5, 10, false, "here", "fetch r1, [0]", 2));
    }

    /** Core 0's slot is 24..26, core 1's 27..29: what the one posts is there from 27 on, the other has it from 30 on. */
    @Test
    void handovers_postThenFetch_goFromSlotEndToSlotEnd() {
        Excerpt excerpt = take("""
                core 0
                  set r1, 42
                  post r1, [box]
                  halt
                core 1
                  pause 5
                  fetch r2, [box]
                  fetch r2, [box]
                  halt
                shared
                box: word 7
                """, 0, 100);

        assertThat(excerpt.handovers()).containsExactly(new Handover(0, "box", 42, 0, 27, 1, 30));
    }

    @Test
    void handovers_ofOneCoreToItself_areNone() {
        assertThat(take("core 0\n set r1, 1\n post r1, [0]\n fetch r2, [0]\n halt\n", 0, 200)
                        .handovers())
                .isEmpty();
    }

    @Test
    void handovers_bumpsInTurn_goFromEachCoreToTheNext() {
        Excerpt excerpt = take("core 0..2\n set r1, 1\n bump r1, [9]\n halt\n", 0, 100);

        // Cores 1 and 2 come in time for the slots that begin at 3 and 6; core 0 has to wait for the one at 24.
        assertThat(excerpt.handovers())
                .containsExactly(new Handover(9, "", 1, 1, 6, 2, 9), new Handover(9, "", 2, 2, 9, 0, 27));
    }

    @Test
    void wave_ofAPinThatIsDriven_changesTheCycleAfterTheWrite() {
        Wave wave = take("core 0\n set r1, 4\n write out, r1\n write drive, r1\n pause 5\n halt\n", 0, 100)
                .waves()
                .get(2);

        assertThat(wave.levels()).containsExactly(new Level(0, 3, false, false), new Level(3, 9, true, false));
        assertThat(wave.edges()).isEqualTo(1);
        assertThat(wave.highCycles()).isEqualTo(6);
    }

    @Test
    void deed_ofACoreInFault_isTheKindOfFault() {
        Lane lane = take("core 0\n div r1, r1, 0\n halt\ncore 1\n pause 20\n halt\n", 0, 10)
                .lanes()
                .get(0);

        assertThat(lane.deeds()).extracting(Deed::text).containsExactly("div r1, r1, 0", "divide-by-zero");
        assertThat(lane.stretches().get(1)).isEqualTo(new Stretch(State.FAULT, 1, 10, 1, false));
    }

    @Test
    void deed_ofALoadedImage_hasItsLabel() {
        Excerpt excerpt = take("""
                core 0
                  set r1, -1
                  set r2, job
                  start r1, r2, r3
                  halt
                image job
                more: set r4, 5
                loop: again r4, loop
                  halt
                """, 0, 400);

        assertThat(excerpt.lanes().get(0).deeds()).extracting(Deed::label).containsOnly("");
        List<Deed> loaded = excerpt.lanes().stream()
                .flatMap(lane -> lane.deeds().stream())
                .filter(deed -> !deed.label().isEmpty())
                .toList();
        assertThat(loaded.get(0).label()).isEqualTo("more");
        assertThat(loaded.get(0).text()).isEqualTo("set r4, 5");
        assertThat(loaded.get(1).label()).isEqualTo("loop");
    }

    @Test
    void take_numbersOutOfRange_areRefused() {
        Program program = Measured.assemble("core 0\n halt\n", Design.DEFAULT);

        assertThatThrownBy(() -> take(program, 5, 5, 1)).hasMessageContaining("from 5 to 5");
        assertThatThrownBy(() -> take(program, -1, 5, 1)).hasMessageContaining("from -1");
        assertThatThrownBy(() -> take(program, 0, 1_000_000, 1)).hasMessageContaining("too few");
        assertThatThrownBy(() -> take(program, 0, 10, 0)).hasMessageContaining("too few");
    }

    // ---- random programs ----

    static LongStream seeds() {
        return LongStream.rangeClosed(1, 60);
    }

    /** Somewhere in a random run. */
    private record Place(Generated generated, Program program, long from, long to) {
        static Place of(long seed) {
            Generated generated = RandomPrograms.of(seed);
            Program program = Trial.assemble(generated.design(), generated.text());
            Run run = Run.of(program, generated.scenario(), generated.limit());
            run.finish();
            long end = Math.max(2, run.chip().cycle());
            Random random = new Random(seed);
            long from = random.nextInt(4) == 0 ? 0 : random.nextLong(end);
            return new Place(generated, program, from, from + 1 + random.nextLong(400));
        }

        Excerpt take(long cyclesAColumn) {
            return Recorder.take(
                    program, generated.scenario(), generated.limit(), from, to, cyclesAColumn, Recorder.Mover.PLAIN);
        }

        Timeline timeline() {
            Timeline timeline = Timeline.of(program, generated.scenario(), generated.limit());
            timeline.moveTo(from, Progress.NONE);
            return timeline;
        }
    }

    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void lanes_ofRandomPrograms_addUpToTheCyclesOfTheChip(long seed) {
        Place place = Place.of(seed);
        Excerpt excerpt = place.take(1);
        Run run = Run.of(
                place.program(), place.generated().scenario(), place.generated().limit());
        run.runTo(place.from());
        List<Map<State, Long>> before = counts(run);
        run.runTo(place.to());
        List<Map<State, Long>> after = counts(run);

        for (Lane lane : excerpt.lanes()) {
            Map<State, Long> spent = new EnumMap<>(State.class);
            after.get(lane.core()).forEach((state, cycles) -> {
                long there = cycles - before.get(lane.core()).get(state);
                if (there > 0) {
                    spent.put(state, there);
                }
            });
            assertThat(lane.cycles()).as("%s", place).isEqualTo(spent);
            long sum =
                    lane.cycles().values().stream().mapToLong(Long::longValue).sum();
            assertThat(sum).isEqualTo(excerpt.cycles());
        }
    }

    private static List<Map<State, Long>> counts(Run run) {
        List<Map<State, Long>> all = new ArrayList<>();
        for (int core = 0; core < run.program().design().cores(); core++) {
            Map<State, Long> counts = new EnumMap<>(State.class);
            for (State state : State.values()) {
                counts.put(
                        state, run.chip().core(core).cyclesIn(state, run.chip().cycle()));
            }
            all.add(counts);
        }
        return all;
    }

    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void stretches_ofRandomPrograms_areTheStatesOfTheStepper(long seed) {
        Place place = Place.of(seed);
        Excerpt excerpt = place.take(1);
        Moment moment = place.timeline().moment(0, place.to() - place.from());

        for (Lane lane : excerpt.lanes()) {
            List<State> states = new ArrayList<>();
            long at = excerpt.from();
            for (Stretch stretch : lane.stretches()) {
                assertThat(stretch.from()).as("no gap, %s", place).isEqualTo(at);
                for (; at < stretch.to(); at++) {
                    states.add(stretch.state());
                }
            }
            assertThat(states)
                    .as("core %d, %s", lane.core(), place)
                    .isEqualTo(Arrays.stream(moment.states(lane.core()))
                            .filter(Objects::nonNull)
                            .toList());
        }
    }

    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void columns_ofRandomPrograms_areTheSumsOfTheStretches(long seed) {
        Place place = Place.of(seed);
        Excerpt exact = place.take(1);
        long scale = 2 + seed % 13;
        Excerpt merged = place.take(scale);

        assertThat(merged.to()).isEqualTo(exact.to());
        assertThat(merged.ended()).isEqualTo(exact.ended());
        for (Lane lane : merged.lanes()) {
            assertThat(lane.cycles()).isEqualTo(exact.lanes().get(lane.core()).cycles());
            List<Map<State, Long>> sums = new ArrayList<>();
            for (int column = 0; column < merged.columns(); column++) {
                sums.add(new EnumMap<>(State.class));
            }
            for (Stretch stretch : exact.lanes().get(lane.core()).stretches()) {
                for (long cycle = stretch.from(); cycle < stretch.to(); cycle++) {
                    sums.get((int) ((cycle - exact.from()) / scale)).merge(stretch.state(), 1L, Long::sum);
                }
            }
            assertThat(lane.columns()).as("core %d, %s", lane.core(), place).isEqualTo(sums);
        }
        for (Wave wave : merged.waves()) {
            Wave other = exact.waves().get(wave.pin());
            assertThat(wave.edges()).isEqualTo(other.edges());
            assertThat(wave.clashes()).isEqualTo(other.clashes());
            assertThat(wave.columns().stream()
                            .mapToLong(Excerpt.WaveColumn::highCycles)
                            .sum())
                    .isEqualTo(other.highCycles());
            assertThat(wave.columns().stream()
                            .mapToLong(Excerpt.WaveColumn::edges)
                            .sum())
                    .isEqualTo(other.edges());
        }
    }

    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void deedsPinsAndHandovers_ofRandomPrograms_areThoseOfTheEvents(long seed) {
        Place place = Place.of(seed);
        Excerpt excerpt = place.take(1);
        List<Event> events = place.timeline().events(place.from(), excerpt.to() + 1);

        for (Lane lane : excerpt.lanes()) {
            List<Long> begins = events.stream()
                    .filter(event ->
                            event.kind() == Kind.BEGIN && event.core() == lane.core() && event.cycle() < excerpt.to())
                    .map(Event::cycle)
                    .toList();
            assertThat(lane.deeds().stream()
                            .filter(deed -> deed.begins() && !isFault(lane, deed))
                            .map(Deed::from)
                            .toList())
                    .as("core %d, %s", lane.core(), place)
                    .isEqualTo(begins);
        }
        for (Handover handover : excerpt.handovers()) {
            assertThat(handover.from()).isNotEqualTo(handover.to());
            Map<Integer, Event> last = new HashMap<>();
            for (Event event : events) {
                if (event.kind() == Kind.SHARED_READ
                        && event.cycle() == handover.readAt()
                        && event.core() == handover.to()
                        && event.a() == handover.address()) {
                    break;
                }
                if (event.kind() == Kind.SHARED_WRITE) {
                    last.put((int) event.a(), event);
                }
            }
            Event write = Objects.requireNonNull(last.get(handover.address()));
            assertThat(write.core()).isEqualTo(handover.from());
            assertThat(write.cycle()).isEqualTo(handover.writtenAt());
            assertThat((int) write.b()).isEqualTo(handover.value());
        }
        for (Wave wave : excerpt.waves()) {
            assertThat(wave.levels().stream()
                            .mapToLong(level -> level.to() - level.from())
                            .sum())
                    .isEqualTo(excerpt.cycles());
        }
    }

    private static boolean isFault(Lane lane, Deed deed) {
        return lane.stretches().stream()
                .anyMatch(stretch -> stretch.state() == State.FAULT && stretch.from() == deed.from());
    }

    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void listen_inTheMidstOfARun_isToldAsFromTheBeginning(long seed) {
        Place place = Place.of(seed);
        Generated generated = place.generated();
        List<Event> all = new ArrayList<>();
        Run.of(place.program(), generated.scenario(), generated.limit(), (kind, cycle, core, a, b) -> {
                    if (cycle > place.from()) {
                        all.add(new Event(kind, cycle, core, a, b));
                    }
                })
                .finish();

        List<Event> late = new ArrayList<>();
        Run run = Run.of(place.program(), generated.scenario(), generated.limit());
        run.runTo(place.from());
        run.listen((kind, cycle, core, a, b) -> late.add(new Event(kind, cycle, core, a, b)));
        run.finish();

        assertThat(late).as("%s", place).isEqualTo(all);
    }
}
