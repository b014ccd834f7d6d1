package octurn.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.stream.LongStream;
import octurn.asm.Program;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.isa.Codes;
import octurn.machine.Fault;
import octurn.machine.State;
import octurn.machine.Trial;
import octurn.reference.RandomPrograms;
import octurn.reference.RandomPrograms.Generated;
import octurn.report.RunReport.CoreReport;
import octurn.run.Run;
import octurn.trace.Event;
import octurn.trace.Kind;
import octurn.trace.Sink;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The counters of the report are a fold of the events: computed again from these alone they are the same. */
class FoldedReportTest {

    static LongStream seeds() {
        return LongStream.rangeClosed(1, 60);
    }

    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void events_foldedToCounts_areThoseOfTheReport(long seed) {
        Generated generated = RandomPrograms.of(seed);
        Program program = Trial.assemble(generated.design(), generated.text());
        Fold fold = new Fold(program);
        Run run = Run.of(program, generated.scenario(), generated.limit(), fold);
        run.finish();
        RunReport report = RunReports.of(run);
        fold.finish(report.cycles());

        assertThat(fold.busyCycles(report.cycles())).as(generated::toString).isEqualTo(report.busyCycles());
        assertThat(fold.clashCycles).as(generated::toString).isEqualTo(report.clashCycles());
        for (CoreReport core : report.cores()) {
            Fold.Core folded = fold.cores.get(core.core());
            assertThat(folded.states)
                    .as("core %d of %s", core.core(), generated)
                    .isEqualTo(core.states());
            assertThat(folded.state).isEqualTo(core.state());
            assertThat(folded.instructions).isEqualTo(core.instructions());
            assertThat(folded.histogram).isEqualTo(core.waits().histogram());
            assertThat(folded.clashes).isEqualTo(core.clashes());
            if (generated.design().admission() instanceof Admission.Rotation) {
                assertThat(folded.admissions).isEqualTo(core.turnsUsed());
            }
            assertThat(folded.fault == null ? null : folded.fault.toString())
                    .isEqualTo(
                            core.fault() == null
                                    ? null
                                    : new Fold.FoldedFault(
                                                    core.fault().kind(),
                                                    core.fault().cycle(),
                                                    Kind.place(
                                                            core.fault().address(),
                                                            core.fault().inShared()))
                                            .toString());
            assertThat(folded.spots.entrySet().stream()
                            .map(spot -> spot.getKey() + " " + spot.getValue())
                            .toList())
                    .isEqualTo(report.hotSpots().stream()
                            .filter(spot -> spot.core() == core.core())
                            .map(spot -> Kind.place(spot.address(), spot.inShared()) + " "
                                    + new Fold.Spot(spot.count(), spot.total(), spot.min(), spot.max()))
                            .toList());
        }
    }

    /** What is known from the events so far. */
    private static final class Fold implements Sink {

        private record FoldedFault(Fault.Kind kind, long cycle, long place) {}

        private record Spot(long count, long total, long min, long max) {
            Spot plus(long wait) {
                return new Spot(count + 1, total + wait, Math.min(min, wait), Math.max(max, wait));
            }
        }

        private static final class Core {
            private State state;
            private long since;
            private final Map<State, Long> states = new EnumMap<>(State.class);
            private long instructions;
            private State asking = State.IDLE;
            private long place;
            private long admissions;
            private long clashes;
            private final SortedMap<Long, Long> histogram = new TreeMap<>();
            private final SortedMap<Long, Spot> spots = new TreeMap<>();
            private FoldedFault fault;
            private long drive;
            private long holdsFrom = -1;

            private Core(State state) {
                this.state = state;
                for (State each : State.values()) {
                    states.put(each, 0L);
                }
            }

            private void enter(State next, long cycle) {
                states.merge(state, cycle - since, Long::sum);
                since = cycle;
                state = next;
            }
        }

        private final Design design;
        private final List<Core> cores = new ArrayList<>();
        private final List<Event> last = new ArrayList<>();
        /** Cycles in which an access held the memory. */
        private final Set<Long> busy = new HashSet<>();

        private long clashes;
        private long clashCycles;
        private long now;

        private Fold(Program program) {
            design = program.design();
            for (int i = 0; i < design.cores(); i++) {
                cores.add(new Core(program.core(i) == null ? State.IDLE : State.WORK));
            }
        }

        @Override
        public void event(Kind kind, long cycle, int core, long a, long b) {
            if (cycle > now) {
                pass(cycle);
            }
            if (core < 0) {
                if (kind == Kind.PINS) {
                    clashes = b;
                }
                return;
            }
            Core it = cores.get(core);
            switch (kind) {
                case STATE -> it.enter(State.values()[(int) a], cycle);
                case BEGIN -> it.place = a;
                case FINISH -> it.instructions++;
                case REQUEST -> it.asking = State.values()[(int) a];
                case ADMIT -> last.add(new Event(kind, cycle, core, a, b));
                case GIVE_UP -> release(it, cycle);
                case PORT -> it.drive = a == Codes.DRIVE ? b : it.drive;
                case LET_GO -> it.drive = 0;
                case FAULT -> it.fault = new FoldedFault(Fault.Kind.values()[(int) a], cycle, b);
                case IDLE -> it.fault = null;
                default -> {
                    // Changes what the chip holds, and no count.
                }
            }
        }

        /** The cycles now .. cycle-1 are over, and with them what was admitted at their beginning counts. */
        private void pass(long cycle) {
            for (Event admission : last) {
                Core it = cores.get(admission.core());
                it.admissions++;
                it.holdsFrom = admission.cycle();
                if (it.asking == State.WAIT) {
                    long wait = admission.a();
                    it.histogram.merge(wait, 1L, Long::sum);
                    it.spots.merge(it.place, new Spot(1, wait, wait, wait), (spot, one) -> spot.plus(wait));
                }
            }
            last.clear();
            for (Core it : cores) {
                if (it.holdsFrom >= 0 && cycle >= it.holdsFrom + design.slotCycles()) {
                    release(it, it.holdsFrom + design.slotCycles());
                }
                it.clashes += (it.drive & clashes) != 0 ? cycle - now : 0;
            }
            clashCycles += clashes != 0 ? cycle - now : 0;
            now = cycle;
        }

        private void release(Core it, long cycle) {
            for (long held = it.holdsFrom; held >= 0 && held < cycle; held++) {
                busy.add(held);
            }
            it.holdsFrom = -1;
        }

        private void finish(long cycles) {
            if (cycles > now) {
                pass(cycles);
            }
            for (Core it : cores) {
                it.enter(it.state, cycles);
                release(it, cycles);
            }
        }

        private long busyCycles(long cycles) {
            return busy.stream().filter(cycle -> cycle < cycles).count();
        }
    }
}
