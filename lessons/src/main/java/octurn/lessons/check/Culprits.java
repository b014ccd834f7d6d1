package octurn.lessons.check;

import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.IntPredicate;
import octurn.isa.Disassembler;
import octurn.lessons.value.Measured;
import octurn.lessons.value.Numbers;
import octurn.machine.Chip;
import octurn.machine.Core;
import octurn.machine.State;
import octurn.report.Places;
import octurn.run.Run;
import octurn.trace.Kind;
import octurn.trace.Sink;
import org.jspecify.annotations.Nullable;

/** Finds the line and the cycle at which something went wrong, by a second run that is listened to. */
final class Culprits {

    private final Measured run;

    Culprits(Measured run) {
        this.run = run;
    }

    /** What a word was to be at the end. */
    record Wanted(int address, int value) {}

    /** A write that a word should not have had, or should have had. */
    record Write(Wanted wanted, Culprit culprit) {}

    /**
     * Of some words that are wrong at the end, the write that went wrong first: to a word that had been right, the first
     * after which it was wrong for good; to one that never was, the last.
     *
     * @param core whose private RAM, or -1 for shared memory
     */
    Write wrongWrite(int core, List<Wanted> wrong) {
        Chip begin = run.againTo(0).chip();
        Kind kind = core < 0 ? Kind.SHARED_WRITE : Kind.PRIVATE_WRITE;
        Histories histories = new Histories(kind, core);
        for (Wanted wanted : wrong) {
            int address = wanted.address();
            histories.add(
                    wanted,
                    core < 0 ? begin.sharedWord(address) : begin.core(core).privateWord(address));
        }
        run.again(histories, () -> false);
        return histories.first();
    }

    /** The same for a register. */
    Culprit wrongRegister(int core, int register, int wanted) {
        Histories histories = new Histories(Kind.REGISTER, core);
        histories.add(new Wanted(register, wanted), 0);
        run.again(histories, () -> false);
        return histories.first().culprit();
    }

    /** What a core does in this cycle, of those that are neither idle nor in fault the first. */
    Culprit at(long cycle) {
        Run second = run.againTo(cycle);
        for (int i = 0; i < run.design().cores(); i++) {
            Core core = second.chip().core(i);
            if (core.state() != State.IDLE && core.state() != State.FAULT) {
                int line = run.places().line(core);
                String words = "In cycle %s core %d was%s, %s."
                        .formatted(Numbers.grouped(second.chip().cycle()), i, atLine(line), doing(core.state()));
                return new Culprit(line, second.chip().cycle(), words);
            }
        }
        return Culprit.NONE;
    }

    private static String doing(State state) {
        return switch (state) {
            case WAIT, CODE_WAIT, LOAD_WAIT -> "waiting for its turn";
            case SLOT, CODE_SLOT, LOAD_SLOT -> "holding the memory";
            case SLEEP -> "asleep";
            case WORK, IDLE, FAULT -> "at work";
        };
    }

    /** The access at which the sum of waits went over. */
    Culprit waitsOver(double most, int core, List<Integer> lines) {
        return wait(core, lines, new WaitTest() {
            private double sum;

            @Override
            public boolean isOver(long wait) {
                sum += wait;
                return sum > most;
            }
        });
    }

    /** The first access that waited longer. */
    Culprit waitOver(double most, int core, List<Integer> lines) {
        return wait(core, lines, wait -> wait > most);
    }

    private Culprit wait(int core, List<Integer> lines, WaitTest test) {
        Waits waits = new Waits(core, lines, test);
        run.again(waits, () -> waits.found != null);
        return waits.found == null ? Culprit.NONE : waits.found;
    }

    @FunctionalInterface
    private interface WaitTest {
        boolean isOver(long wait);
    }

    /** The first of these instructions that any core began; none if there is none. */
    Culprit firstOf(IntPredicate words) {
        Begun begun = new Begun(words);
        run.again(begun, () -> begun.found != null);
        return begun.found == null ? Culprit.NONE : begun.found;
    }

    /** What was written to a port when a pin first had a clash. */
    Culprit firstClash() {
        Clashes clashes = new Clashes();
        run.again(clashes, () -> clashes.found != null);
        return clashes.found == null ? Culprit.NONE : clashes.found;
    }

    /** The core that drives a pin in this cycle, of several the first. */
    Culprit driving(int pin, long cycle) {
        if (cycle < 0) {
            return Culprit.NONE;
        }
        Run second = run.againTo(cycle);
        for (int i = 0; i < run.design().cores(); i++) {
            Core core = second.chip().core(i);
            if ((core.drive() >>> pin & 1) == 1) {
                int line = run.places().line(core);
                String words = "Core %d, which drives the pin, was%s then.".formatted(i, atLine(line));
                return new Culprit(line, cycle, words);
            }
        }
        return new Culprit(0, cycle, "No core drives the pin then.");
    }

    /** As in {@code  at line 12 (post r2, [count])}; empty for no line. */
    String atLine(int line) {
        if (line == 0) {
            return "";
        }
        String text = run.program().sourceLine(line);
        String code = text.substring(0, Places.commentAt(text)).strip().replaceAll("\\s+", " ");
        return " at line %d (%s)".formatted(line, code);
    }

    /** Knows at which line each core is. */
    private abstract class Following implements Sink {
        private final long[] places = new long[run.design().cores()];
        private final boolean[] begun = new boolean[run.design().cores()];

        @Override
        public void event(Kind kind, long cycle, int core, long a, long b) {
            if (kind == Kind.BEGIN) {
                places[core] = a;
                begun[core] = true;
            } else if (kind == Kind.LOADING) {
                begun[core] = false;
            }
        }

        int line(int core) {
            return core < 0 || !begun[core]
                    ? 0
                    : run.places().line(run.chip().core(core), Kind.inShared(places[core]), Kind.address(places[core]));
        }
    }

    /** What was written to some words or registers, in one kind of event. */
    private final class Histories extends Following {
        private final Kind kind;
        private final int core;
        private final Map<Integer, History> byAddress = new TreeMap<>();

        Histories(Kind kind, int core) {
            this.kind = kind;
            this.core = core;
        }

        void add(Wanted wanted, int atFirst) {
            byAddress.put(wanted.address(), new History(wanted, wanted.value() == atFirst));
        }

        @Override
        public void event(Kind happened, long cycle, int who, long a, long b) {
            super.event(happened, cycle, who, a, b);
            History history = happened == kind && (core < 0 || core == who) ? byAddress.get((int) a) : null;
            if (history != null) {
                // Told from the cycle after the one at whose end it took effect.
                history.add(new Written(cycle - 1, who, line(who), (int) b));
            }
        }

        Write first() {
            History first = byAddress.values().stream()
                    .min(Comparator.comparingLong(History::wrongCycle))
                    .orElseThrow();
            return new Write(first.wanted, first.culprit());
        }
    }

    /** A number that was written. */
    private record Written(long cycle, int core, int line, int value) {}

    /** What was written to one word or register. */
    private final class History {
        private final Wanted wanted;
        private boolean right;
        private boolean everRight;
        private @Nullable Written wrong;

        History(Wanted wanted, boolean right) {
            this.wanted = wanted;
            this.right = right;
            this.everRight = right;
        }

        void add(Written written) {
            boolean now = written.value() == wanted.value();
            if (!now && (right || !everRight)) {
                wrong = written;
            }
            right = now;
            everRight |= now;
        }

        long wrongCycle() {
            return wrong == null ? Long.MAX_VALUE : wrong.cycle();
        }

        Culprit culprit() {
            Written found = wrong;
            if (found == null) {
                return new Culprit(0, -1, "Nothing was ever written there.");
            }
            String who = "core %d wrote %d in cycle %s%s"
                    .formatted(found.core(), found.value(), Numbers.grouped(found.cycle()), atLine(found.line()));
            String words = everRight ? "It had been right until %s." : "It never was right; at last %s.";
            return new Culprit(found.line(), found.cycle(), words.formatted(who));
        }
    }

    /** Looks for the first access whose wait is over a bound. */
    private final class Waits extends Following {
        private final int core;
        private final List<Integer> lines;
        private final WaitTest test;
        private final boolean[] accessing = new boolean[run.design().cores()];
        private @Nullable Culprit found;

        Waits(int core, List<Integer> lines, WaitTest test) {
            this.core = core;
            this.lines = lines;
            this.test = test;
        }

        @Override
        public void event(Kind kind, long cycle, int who, long a, long b) {
            super.event(kind, cycle, who, a, b);
            if (kind == Kind.REQUEST) {
                accessing[who] = a == State.WAIT.ordinal();
            }
            boolean counts = kind == Kind.ADMIT && accessing[who] && (core < 0 || core == who) && found == null;
            if (counts && (lines.isEmpty() || lines.contains(line(who))) && test.isOver(a)) {
                String words = "It goes over in cycle %s, when core %d is admitted after %s cycles%s."
                        .formatted(Numbers.grouped(cycle), who, Numbers.grouped(a), atLine(line(who)));
                found = new Culprit(line(who), cycle, words);
            }
        }
    }

    /** Looks for the first instruction of some kind. */
    private final class Begun extends Following {
        private final IntPredicate words;
        private @Nullable Culprit found;

        Begun(IntPredicate words) {
            this.words = words;
        }

        @Override
        public void event(Kind kind, long cycle, int core, long a, long b) {
            super.event(kind, cycle, core, a, b);
            if (kind == Kind.BEGIN && found == null && words.test((int) b)) {
                String said = "In cycle %s core %d begins %s%s."
                        .formatted(
                                Numbers.grouped(cycle),
                                core,
                                Disassembler.text((int) b, Kind.address(a)),
                                atLine(line(core)));
                found = new Culprit(line(core), cycle, said);
            }
        }
    }

    /** Looks for the first clash, and for the write to a port that brought it about. */
    private final class Clashes extends Following {
        private long writeCycle = -1;
        private int writer;
        private int writtenAtLine;
        private @Nullable Culprit found;

        @Override
        public void event(Kind kind, long cycle, int core, long a, long b) {
            super.event(kind, cycle, core, a, b);
            if (kind == Kind.PORT) {
                writeCycle = cycle;
                writer = core;
                writtenAtLine = line(core);
            } else if (kind == Kind.PINS && b != 0 && found == null) {
                String words = "The first time in cycle %s on pin %d"
                        .formatted(Numbers.grouped(cycle), Long.numberOfTrailingZeros(b));
                boolean byWrite = writeCycle == cycle;
                found = byWrite
                        ? new Culprit(
                                writtenAtLine,
                                cycle,
                                words + ", by core %d%s.".formatted(writer, atLine(writtenAtLine)))
                        : new Culprit(0, cycle, words + ".");
            }
        }
    }
}
