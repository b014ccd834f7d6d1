package octurn.measure;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;
import java.util.stream.LongStream;
import octurn.arbiter.Rotation;
import octurn.design.Admission;
import octurn.design.Clock;
import octurn.design.Cost;
import octurn.design.Design;
import octurn.trace.Event;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * The rule of turns, as {@code docs/stalls.md} derives it, held against programs that are really edited and run again:
 * work is added before an access, or taken away, and the two runs are laid side by side.
 */
class TurnRuleTest {

    static LongStream seeds() {
        return LongStream.range(1, 151);
    }

    /** A random program: its lines, and which of them are pauses before an access that can be made shorter. */
    private static final class Edited {
        private final Design design;
        private final List<String> lines = new ArrayList<>();
        /** By the index of an access's line: that of the pause just before it. */
        private final Map<Integer, Integer> pauses = new TreeMap<>();

        private static final int PAUSE = 70;

        private Edited(long seed) {
            Random random = new Random(seed);
            int cores = 1 + random.nextInt(5);
            int slot = 1 + random.nextInt(5);
            List<Integer> order = new ArrayList<>(Design.plainOrder(cores));
            while (random.nextInt(3) > 0 && order.size() < 9) {
                order.add(random.nextInt(order.size() + 1), random.nextInt(cores));
            }
            design = new Design(
                    "edited",
                    cores,
                    1024,
                    1024,
                    slot,
                    new Admission.Rotation(order),
                    new Cost(1, 1 + random.nextInt(3), 1 + random.nextInt(3), 1 + random.nextInt(6), 9),
                    0,
                    Clock.DEFAULT);
            for (int core = 0; core < cores; core++) {
                lines.add("core " + core);
                section(random, core);
                lines.add("        halt");
            }
        }

        private void section(Random random, int core) {
            lines.add("        set   r1, " + (1 + random.nextInt(12)));
            lines.add("next:   nop");
            int accesses = 1 + random.nextInt(4);
            for (int i = 0; i < accesses; i++) {
                work(random);
                int pause = lines.size();
                lines.add("        pause " + PAUSE);
                pauses.put(lines.size(), pause);
                // All share one word, so an admission at another time shows in the values, too.
                lines.add("        " + List.of("bump", "swap", "fetch", "post").get(random.nextInt(4)) + " r3, [0]");
                lines.add("        add   r3, r3, " + (core + i));
            }
            work(random);
            lines.add("        again r1, next");
            lines.add("        store r3, [900]");
        }

        private void work(Random random) {
            for (int i = random.nextInt(4); i > 0; i--) {
                switch (random.nextInt(4)) {
                    case 0 -> lines.add("        mul   r4, r4, 3");
                    case 1 -> lines.add("        load  r5, [901]");
                    case 2 -> {
                        lines.add("        and   r6, r1, 1");
                        lines.add("        jump  s%d if r6 == 0".formatted(lines.size()));
                        lines.add("        mul   r6, r6, 7");
                        lines.add("s%d:".formatted(lines.size() - 2));
                    }
                    default -> lines.add("        nop");
                }
            }
        }

        private Measured run(List<String> text) {
            return Measured.of(String.join("\n", text) + "\n", design);
        }

        /** With so much work more just before the access in this line. */
        private List<String> longer(int access, long cycles) {
            List<String> text = new ArrayList<>(lines);
            for (long i = 0; i < cycles; i++) {
                text.add(access, "        nop");
            }
            return text;
        }

        /** With so much work less before it. */
        private List<String> shorter(int access, long cycles) {
            List<String> text = new ArrayList<>(lines);
            int pause = pauses.get(access);
            text.set(pause, "        pause " + (PAUSE - cycles));
            return text;
        }
    }

    /** The cycle of each admission and whose it was, in the order of time. */
    private static List<List<Long>> times(Measured measured) {
        return measured.admissions().stream()
                .map(event -> List.of(event.cycle(), (long) event.core()))
                .toList();
    }

    private static void assertSameAfterwards(Measured one, Measured other, String what) {
        assertThat(times(other)).as(what).isEqualTo(times(one));
        assertThat(other.report().cycles()).as(what).isEqualTo(one.report().cycles());
        assertThat(other.report().shared()).as(what).isEqualTo(one.report().shared());
        for (int core = 0; core < one.report().cores().size(); core++) {
            assertThat(other.report().cores().get(core).registers())
                    .as(what)
                    .isEqualTo(one.report().cores().get(core).registers());
        }
    }

    @ParameterizedTest
    @MethodSource("seeds")
    void workUpToTheLeastWait_addedBeforeAnAccess_changesNothingAfterIt(long seed) {
        Edited edited = new Edited(seed);
        Measured before = edited.run(edited.lines);
        for (AccessStalls stalls : before.stalls()) {
            long free = rule(stalls).freeCycles();
            for (long more : List.of(1L, free / 2, free)) {
                if (more <= free) {
                    Measured after = edited.run(edited.longer(stalls.line() - 1, more));
                    assertSameAfterwards(before, after, "seed %d, line %d, +%d".formatted(seed, stalls.line(), more));
                }
            }
        }
    }

    /** One cycle more than is free costs a turn: the first admission that moves comes at the core's next slot. */
    @ParameterizedTest
    @MethodSource("seeds")
    void workOneCycleMore_addedBeforeAnAccess_costsATurn(long seed) {
        Edited edited = new Edited(seed);
        Measured before = edited.run(edited.lines);
        Rotation rotation = rotation(edited.design);
        for (AccessStalls stalls : before.stalls()) {
            long more = rule(stalls).freeCycles() + 1;
            Measured after = edited.run(edited.longer(stalls.line() - 1, more));

            Event moved = firstMoved(before, after, stalls.core());
            long slotAfter = rotation.nextSlot(stalls.core(), moved.cycle() + 1);
            assertThat(admission(after, stalls.core(), index(before, moved)).cycle())
                    .as("seed %d, line %d", seed, stalls.line())
                    .isEqualTo(slotAfter);
        }
    }

    @ParameterizedTest
    @MethodSource("seeds")
    void workLessThanTheRuleAsks_takenAway_changesNothingAfterIt(long seed) {
        Edited edited = new Edited(seed);
        Measured before = edited.run(edited.lines);
        for (AccessStalls stalls : before.stalls()) {
            long least = rule(stalls).leastCycles();
            long less = least == 0 ? Edited.PAUSE - 1 : Math.min(least, Edited.PAUSE) - 1;
            Measured after = edited.run(edited.shorter(stalls.line() - 1, less));
            assertSameAfterwards(before, after, "seed %d, line %d, -%d".formatted(seed, stalls.line(), less));
        }
    }

    /** As much as the rule asks wins a turn: the first admission that moves comes at the core's slot before. */
    @ParameterizedTest
    @MethodSource("seeds")
    void workThatTheRuleAsks_takenAway_winsATurn(long seed) {
        Edited edited = new Edited(seed);
        Measured before = edited.run(edited.lines);
        Rotation rotation = rotation(edited.design);
        for (AccessStalls stalls : before.stalls()) {
            long less = rule(stalls).leastCycles();
            if (less == 0 || less >= Edited.PAUSE) {
                continue;
            }
            Measured after = edited.run(edited.shorter(stalls.line() - 1, less));

            Event moved = firstMoved(before, after, stalls.core());
            Event won = admission(after, stalls.core(), index(before, moved));
            String what = "seed %d, line %d, -%d".formatted(seed, stalls.line(), less);
            assertThat(won.cycle()).as(what).isLessThan(moved.cycle());
            assertThat(rotation.nextSlot(stalls.core(), won.cycle() + 1))
                    .as(what)
                    .isEqualTo(moved.cycle());
        }
    }

    private static TurnRule rule(AccessStalls stalls) {
        TurnRule rule = stalls.turns();
        assertThat(rule).isNotNull();
        return rule;
    }

    private static Rotation rotation(Design design) {
        Admission.Rotation admission = (Admission.Rotation) design.admission();
        return new Rotation(design.slotCycles(), admission.order(), design.cores());
    }

    private static List<Event> of(Measured measured, int core) {
        return measured.admissions().stream()
                .filter(event -> event.core() == core)
                .toList();
    }

    private static Event admission(Measured measured, int core, int index) {
        return of(measured, core).get(index);
    }

    private static int index(Measured measured, Event event) {
        return of(measured, event.core()).indexOf(event);
    }

    /** The core's first admission that comes at another time in the second run. */
    private static Event firstMoved(Measured before, Measured after, int core) {
        List<Event> one = of(before, core);
        List<Event> other = of(after, core);
        for (int i = 0; i < one.size(); i++) {
            if (one.get(i).cycle() != other.get(i).cycle()) {
                return one.get(i);
            }
        }
        throw new AssertionError("no admission of core %d moved".formatted(core));
    }
}
