package octurn.record;

import java.util.Arrays;
import octurn.machine.State;

/**
 * What one core does during a block: what happens goes to one row of bytes, the values that come of it to another. Loops
 * do the same things over and over with other values, so the first row packs to almost nothing; and as values are foretold
 * from those that the same instruction had before, a counter's packs well, too.
 */
final class Lane {

    /** Cycles since the last mark that fit beside its kind. */
    private static final int MOST_BESIDE = 6;

    private static final int CYCLES_FOLLOW = 7;

    private final Bytes marks = new Bytes();
    private final Bytes values = new Bytes();
    private final int[] followers = new int[Foretold.INSTRUCTIONS];
    private final Foretold foretold = new Foretold();

    private long lastCycle;
    private State stateAtStart = State.IDLE;
    /** The state that follows from what has been written. */
    private State known = State.IDLE;
    /** The state that the core is in, and since when. */
    private State state = State.IDLE;

    private long stateCycle;

    private int instruction;
    private int instructionAtStart;
    /** The shared address of the last request. */
    private int requested;

    private int requestedAtStart;

    /** Begins a block at this cycle. */
    void clear(long firstCycle) {
        marks.clear();
        values.clear();
        Arrays.fill(followers, 0);
        foretold.clear();
        lastCycle = firstCycle;
        stateAtStart = known;
        instructionAtStart = instruction;
        requestedAtStart = requested;
    }

    /** At the beginning of a recording: what the core is doing. */
    void begin(State now, int instructionUnderWay, int requestedAddress) {
        known = now;
        state = now;
        instruction = instructionUnderWay;
        requested = requestedAddress;
    }

    void state(State entered, long cycle) {
        settle(cycle);
        state = entered;
        stateCycle = cycle;
    }

    /** Writes down a change of state that followed from nothing else, once all of its cycle has been told. */
    void settle(long before) {
        if (known != state && stateCycle < before) {
            mark(Mark.STATE, stateCycle);
            marks.put(state.ordinal());
            known = state;
        }
    }

    /** Notes the state that follows from what has just been written; if it is another, that is told before or after. */
    private void follows(State next, long cycle) {
        known = next;
        if (stateCycle < cycle) {
            state = next;
            stateCycle = cycle;
        }
    }

    private void mark(Mark mark, long cycle) {
        long since = cycle - lastCycle;
        lastCycle = cycle;
        boolean beside = since <= MOST_BESIDE;
        marks.put(mark.ordinal() | ((beside ? (int) since : CYCLES_FOLLOW) << Mark.BITS));
        if (!beside) {
            marks.number(since);
        }
    }

    private void value(int channel, int value) {
        values.word(foretold.miss(instruction, channel, value));
    }

    void beginning(int which, long cycle) {
        settle(cycle);
        int place = Foretold.place(instruction);
        if (followers[place] == which + 1) {
            mark(Mark.BEGIN, cycle);
        } else {
            mark(Mark.BEGIN_OTHER, cycle);
            marks.number(which);
            followers[place] = which + 1;
        }
        instruction = which;
        follows(State.WORK, cycle);
    }

    void finish(long cycle) {
        settle(cycle);
        mark(Mark.FINISH, cycle);
    }

    void request(State waiting, int address, long cycle) {
        settle(cycle);
        mark(Mark.REQUEST, cycle);
        marks.put(waiting.ordinal());
        value(Foretold.REQUESTED, address);
        requested = address;
        follows(waiting, cycle);
    }

    void admit(long cycle) {
        settle(cycle);
        mark(Mark.ADMIT, cycle);
        // What is admitted is the next state after what waits.
        follows(State.values()[known.ordinal() + 1], cycle);
    }

    void giveUp(long cycle) {
        settle(cycle);
        mark(Mark.GIVE_UP, cycle);
    }

    void register(int register, int value, long cycle) {
        settle(cycle);
        mark(Mark.REGISTER, cycle);
        marks.put(register);
        value(Foretold.REGISTER, value);
    }

    void sharedWord(int address, int value, long cycle) {
        settle(cycle);
        mark(Mark.SHARED_WORD, cycle);
        values.word(address - requested);
        value(Foretold.WRITTEN, value);
    }

    void privateWord(int address, int value, long cycle) {
        settle(cycle);
        mark(Mark.PRIVATE_WORD, cycle);
        value(Foretold.ADDRESS, address);
        value(Foretold.WRITTEN, value);
    }

    void port(int port, int value, long cycle) {
        settle(cycle);
        mark(Mark.PORT, cycle);
        marks.put(port);
        value(Foretold.WRITTEN, value);
    }

    void loading(int by, int image, long cycle) {
        settle(cycle);
        mark(Mark.LOADING, cycle);
        marks.number(by);
        marks.word(image);
    }

    void start(long cycle) {
        settle(cycle);
        mark(Mark.START, cycle);
        follows(State.WORK, cycle);
    }

    void idle(int by, int which, long cycle) {
        settle(cycle);
        mark(Mark.IDLE, cycle);
        marks.number(by + 1);
        marks.number(which);
        instruction = which;
        follows(State.IDLE, cycle);
    }

    void fault(int message, int which, long cycle) {
        settle(cycle);
        mark(Mark.FAULT, cycle);
        marks.number(message);
        marks.number(which);
        instruction = which;
        follows(State.FAULT, cycle);
    }

    void letGo(long cycle) {
        settle(cycle);
        mark(Mark.LET_GO, cycle);
    }

    void writeTo(Bytes block) {
        block.put(stateAtStart.ordinal());
        block.number(instructionAtStart);
        block.word(requestedAtStart);
        block.put(marks);
        block.put(values);
    }

    /** What to expect of values: that each goes on from the one before it in the same instruction by the same step. */
    private static final class Foretold {
        /** Instructions whose numbers differ by a multiple of this share their expectations. */
        static final int INSTRUCTIONS = 1024;

        static final int REGISTER = 0;
        static final int REQUESTED = 1;
        static final int ADDRESS = 2;
        static final int WRITTEN = 3;

        private final int[] last = new int[4 * INSTRUCTIONS];
        private final int[] step = new int[4 * INSTRUCTIONS];

        static int place(int instruction) {
            return instruction & (INSTRUCTIONS - 1);
        }

        void clear() {
            Arrays.fill(last, 0);
            Arrays.fill(step, 0);
        }

        /** By how much a value misses what was expected. */
        int miss(int instruction, int channel, int value) {
            int at = 4 * place(instruction) + channel;
            int miss = value - (last[at] + step[at]);
            step[at] = value - last[at];
            last[at] = value;
            return miss;
        }
    }
}
