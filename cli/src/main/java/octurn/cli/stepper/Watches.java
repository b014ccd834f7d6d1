package octurn.cli.stepper;

import java.util.Objects;
import java.util.Set;
import octurn.isa.Condition;
import octurn.machine.Alu;
import octurn.machine.Chip;
import octurn.report.Places;
import octurn.run.Watch;
import octurn.trace.Kind;
import org.jspecify.annotations.Nullable;

/** What can be waited for in a run. */
final class Watches {

    /** Any core, where one could be named. */
    static final int ANY = -1;

    private static final Set<Kind> INSTRUCTION = Set.of(Kind.BEGIN, Kind.IDLE, Kind.FAULT, Kind.LOADING);

    private Watches() {}

    /** A kind of event, of one core or of any. */
    static Watch event(Kind wanted, int core) {
        return Watch.event((kind, eventCore, a, b) -> kind == wanted && (core == ANY || eventCore == core));
    }

    /** A request for data, for code or for loading. */
    static Watch request(int core) {
        return event(Kind.REQUEST, core);
    }

    /** A core begins an instruction, or ceases to do any. */
    static Watch instruction(int core) {
        return Watch.event((kind, eventCore, a, b) -> eventCore == core && INSTRUCTION.contains(kind));
    }

    /** A core begins an instruction of this line of the program. */
    static Watch line(int line, int core, Places places) {
        return new Watch() {
            private boolean met;

            @Nullable
            private Chip chip;

            @Override
            public void begin(Chip now) {
                chip = now;
                met = false;
            }

            @Override
            public void event(Kind kind, long cycle, int eventCore, long a, long b) {
                met |= kind == Kind.BEGIN
                        && (core == ANY || eventCore == core)
                        && places.line(Objects.requireNonNull(chip).core(eventCore), Kind.inShared(a), Kind.address(a))
                                == line;
            }

            @Override
            public boolean isMet(long cycle) {
                boolean answer = met;
                met = false;
                return answer;
            }
        };
    }

    /** A core begins the instruction at this address. */
    static Watch address(boolean inShared, int address, int core) {
        long place = Kind.place(address, inShared);
        return Watch.event(
                (kind, eventCore, a, b) -> kind == Kind.BEGIN && a == place && (core == ANY || eventCore == core));
    }

    /** A condition on a word becomes true. */
    static Watch condition(Target target, Condition condition, int value) {
        return new WordWatch(target) {
            private boolean held;

            @Override
            void begin(int word) {
                held = Alu.holds(condition.code(), word, value);
            }

            @Override
            boolean isMet(int word) {
                boolean before = held;
                held = Alu.holds(condition.code(), word, value);
                return held && !before;
            }
        };
    }

    /** A word gets another value. */
    static Watch change(Target target) {
        return new WordWatch(target) {
            private int before;

            @Override
            void begin(int word) {
                before = word;
            }

            @Override
            boolean isMet(int word) {
                boolean changed = word != before;
                before = word;
                return changed;
            }
        };
    }

    /** Keeps the value of one word by the events that change it. */
    private abstract static class WordWatch implements Watch {
        private final Target target;
        private int word;

        private WordWatch(Target target) {
            this.target = target;
        }

        abstract void begin(int value);

        abstract boolean isMet(int value);

        @Override
        public void begin(Chip chip) {
            word = target.value(chip);
            begin(word);
        }

        @Override
        public void event(Kind kind, long cycle, int core, long a, long b) {
            if (target.isChangedBy(kind, core, a)) {
                word = target.valueAfter(kind, b);
            }
        }

        @Override
        public boolean isMet(long cycle) {
            return isMet(word);
        }
    }

    /** What a pin can do. */
    enum Edge {
        RISES,
        FALLS,
        CHANGES
    }

    /** Pins of this mask do something. */
    static Watch pins(int mask, Edge edge) {
        return levels(mask, edge, false);
    }

    /** A clash begins at any pin. */
    static Watch clash() {
        return levels(-1, Edge.RISES, true);
    }

    private static Watch levels(int mask, Edge edge, boolean clashes) {
        return new Watch() {
            private int before;
            private int now;

            @Override
            public void begin(Chip chip) {
                before = clashes ? chip.pinClashes() : chip.pinLevels();
                now = before;
            }

            @Override
            public void event(Kind kind, long cycle, int core, long a, long b) {
                if (kind == Kind.PINS) {
                    now = (int) (clashes ? b : a);
                }
            }

            @Override
            public boolean isMet(long cycle) {
                int rising = now & ~before;
                int falling = before & ~now;
                before = now;
                return (switch (edge) {
                                    case RISES -> rising;
                                    case FALLS -> falling;
                                    case CHANGES -> rising | falling;
                                }
                                & mask)
                        != 0;
            }
        };
    }
}
