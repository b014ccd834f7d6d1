package octurn.record;

import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import octurn.asm.Program;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.isa.Op;
import octurn.isa.Word;
import octurn.machine.Chip;
import octurn.machine.ClearEngine;
import octurn.machine.Core;
import octurn.machine.End;
import octurn.machine.Fault;
import octurn.machine.State;
import octurn.report.Sentences;
import octurn.run.Run;
import octurn.trace.Kind;
import octurn.trace.Sink;
import org.jspecify.annotations.Nullable;

/**
 * Puts a run down. First comes a part with the chip at the cycle at which the recording begins, then a part for each
 * block of cycles with all that changed in them; each part can be read by itself. Between them a recorder keeps no more
 * than one block, and the instructions and messages that occurred.
 *
 * <pre>{@code
 * Recorder recorder = new Recorder(program, scenario, limit, parts::add);
 * recorder.run().runTo(from);
 * recorder.begin();
 * recorder.run().runTo(to);
 * recorder.end();
 * }</pre>
 */
public final class Recorder {

    /** What an instruction's number is where a core has not begun any. */
    public static final int NONE = 0;

    /** Marks after which a block ends with the cycle; one that is read takes a few megabytes. */
    private static final int MARKS_A_BLOCK = 1 << 16;

    /** Takes the parts. */
    @FunctionalInterface
    public interface Parts {
        /**
         * Takes the next part.
         *
         * @param firstCycle the first cycle whose changes are in it; for the first part, the cycle at which the chip is
         *     what it says
         * @param deflated its bytes, deflated as RFC 1951 has it
         */
        void part(long firstCycle, byte[] deflated);
    }

    /**
     * An instruction that a core began or stood at.
     *
     * @param line of the program, or 0 where it comes from none
     * @param inShared whether it is in shared memory
     * @param address unsigned
     * @param word as it was then
     * @param text as a person reads it
     */
    public record Instruction(int line, boolean inShared, int address, int word, String text) {
        /** The mnemonic, or nothing for a word that is no instruction. */
        public String mnemonic() {
            Op op = Op.of(Word.op(word));
            return op == null ? "" : op.mnemonic();
        }
    }

    /**
     * What became of a core in fault.
     *
     * @param kind of fault, as in the run report
     * @param text a sentence without its full stop
     * @param hasInstruction whether there is an instruction that it is about
     */
    public record Message(String kind, String text, boolean hasInstruction) {}

    private record Key(int line, long place, int word) {}

    private final Program program;
    private final Design design;
    private final Parts parts;
    private final Sentences sentences;
    private final Run run;
    private @Nullable Chip chip;

    private final Lane[] lanes;
    private final Bytes pins = new Bytes();
    private final Bytes block = new Bytes();

    private final Map<Key, Integer> instructionNumbers = new HashMap<>();
    private final List<Instruction> instructions = new ArrayList<>();
    private final Map<Message, Integer> messageNumbers = new HashMap<>();
    private final List<Message> messages = new ArrayList<>();

    /** For each core: the cycle in which the instruction under way began, and from which on its cycles count. */
    private final long[] beginCycles;

    private final long[] sinceCycles;
    private final int[] wordsBegun;
    private final boolean[] hasBegun;

    private boolean recording;
    private long firstCycle;
    private long lastCycle;
    private int marks;
    private long allMarks;
    private int levels;
    private int clashes;
    private int levelsAtStart;
    private int clashesAtStart;
    private long lastPinCycle;
    /** The pins that changed in that cycle; before the recording begins. */
    private int flipped;

    private int everOnPins;
    private long endCycle = -1;
    private @Nullable End end;

    /**
     * A recorder with a run of its own, at the beginning of cycle 0, nothing of which is recorded yet.
     *
     * @param limit the cycle at which the run ends at the latest
     * @param parts takes what is recorded
     */
    public Recorder(Program program, Scenario scenario, long limit, Parts parts) {
        this.program = program;
        this.design = program.design();
        this.parts = parts;
        this.sentences = new Sentences(program);
        this.lanes = new Lane[design.cores()];
        for (int core = 0; core < lanes.length; core++) {
            lanes[core] = new Lane();
        }
        this.beginCycles = new long[lanes.length];
        this.sinceCycles = new long[lanes.length];
        this.wordsBegun = new int[lanes.length];
        this.hasBegun = new boolean[lanes.length];
        instructions.add(new Instruction(0, false, 0, 0, ""));
        Sink sink = this::event;
        this.run = Run.of(program, scenario, limit, (made, atMost) -> {
            chip = made;
            return new ClearEngine(made, atMost, sink);
        });
    }

    /** The run; to be taken to where the recording begins, and after {@link #begin} on to where it ends. */
    public Run run() {
        return run;
    }

    /** Whether the run was seen to end, and why; null while it goes on. */
    public @Nullable End ended() {
        return end;
    }

    /** The instructions by number; the first one stands for none. */
    public List<Instruction> instructions() {
        return Collections.unmodifiableList(instructions);
    }

    /** What became of cores in fault, by number. */
    public List<Message> messages() {
        return Collections.unmodifiableList(messages);
    }

    /** How many changes were recorded so far. */
    public long marks() {
        return allMarks;
    }

    /** The pins that were ever high, in a clash, driven by a core or given a level during the recording. */
    public int pinsInUse() {
        return everOnPins;
    }

    /** The first cycle that is not wholly in the parts handed out so far. */
    public long nextCycle() {
        return firstCycle;
    }

    private Chip chip() {
        return Objects.requireNonNull(chip, "the run has not begun");
    }

    private int instruction(Core core, int word) {
        int line = sentences.places().line(core, core.pcInShared(), core.pc());
        Key key = new Key(line, Kind.place(core.pc(), core.pcInShared()), word);
        Integer known = instructionNumbers.get(key);
        if (known != null) {
            return known;
        }
        String text = sentences.places().instruction(core, core.pcInShared(), core.pc(), word);
        instructions.add(new Instruction(line, core.pcInShared(), core.pc(), word, text));
        instructionNumbers.put(key, instructions.size() - 1);
        return instructions.size() - 1;
    }

    /** The instruction that a core which does none stands at. */
    private int standing(Core core) {
        int pc = core.pc();
        int words = core.pcInShared() ? design.sharedWords() : design.privateWords();
        if (core.state() == State.FAULT || pc < 0 || pc >= words) {
            return instruction(core, core.word());
        }
        return instruction(core, core.pcInShared() ? chip().sharedWord(pc) : core.privateWord(pc));
    }

    // ---- the beginning ----

    /** Begins the recording: hands out the chip at the run's present cycle. */
    public void begin() {
        Chip now = chip();
        long cycle = now.cycle();
        Bytes out = new Bytes();
        for (int number = 0; number < lanes.length; number++) {
            core(now.core(number), out);
        }
        for (int address = 0; address < design.sharedWords(); address++) {
            out.word(now.sharedWord(address));
        }
        levels = now.pinLevels();
        clashes = now.pinClashes();
        usePins(levels | clashes | now.pinsGiven());
        out.number(Integer.toUnsignedLong(levels));
        out.number(Integer.toUnsignedLong(clashes));
        out.number(now.lastAdmitted());
        out.number(lastPinCycle == cycle ? Integer.toUnsignedLong(flipped) : 0);
        parts.part(cycle, out.deflated());
        recording = true;
        beginBlock(cycle + 1);
    }

    private void core(Core core, Bytes out) {
        int number = core.number();
        boolean standsStill = core.state() == State.IDLE || core.state() == State.FAULT;
        int under = NONE;
        if (standsStill) {
            under = core.stateSince() == 0 && core.instructions() == 0 && core.state() == State.IDLE
                    ? NONE
                    : standing(core);
        } else if (hasBegun[number]) {
            under = instruction(core, wordsBegun[number]);
        }
        int requested = core.state().isWaiting() || core.state().isAdmitted() ? (int) core.requestAddress() : -1;
        lanes[number].begin(core.state(), under, requested);
        out.put(core.state().ordinal());
        out.number(under);
        out.number(core.state() == State.FAULT ? message(core) + 1 : 0);
        out.number(core.stateSince());
        out.number(beginCycles[number]);
        out.number(sinceCycles[number]);
        out.number(core.requestCycle());
        out.word(requested);
        for (int register = 0; register < 16; register++) {
            out.word(core.register(register));
        }
        out.number(Integer.toUnsignedLong(core.out()));
        out.number(Integer.toUnsignedLong(core.drive()));
        usePins(core.drive());
        for (int tally = 0; tally < 2; tally++) {
            out.word(chip().tally(number, tally));
            out.word(core.tallyMode(tally));
            out.word(core.tallySpan(tally));
            out.word(core.tallyLevel(tally));
        }
        for (int address = 0; address < design.privateWords(); address++) {
            out.word(core.privateWord(address));
        }
    }

    private void usePins(int used) {
        everOnPins |= used & design.pinMask();
    }

    private int message(Core core) {
        Fault fault = Objects.requireNonNull(core.fault(), "in fault without one");
        boolean hasInstruction = fault.kind() != Fault.Kind.OFF_THE_END && fault.kind() != Fault.Kind.BAD_IMAGE;
        Message message = new Message(fault.kind().text(), sentences.faultMessage(core), hasInstruction);
        Integer known = messageNumbers.putIfAbsent(message, messages.size());
        if (known == null) {
            messages.add(message);
            return messages.size() - 1;
        }
        return known;
    }

    // ---- the changes ----

    private void event(Kind kind, long cycle, int core, long a, long b) {
        if (kind == Kind.BEGIN) {
            beginCycles[core] = cycle;
            wordsBegun[core] = (int) b;
            hasBegun[core] = true;
        } else if (kind == Kind.FINISH || kind == Kind.START || kind == Kind.LOADING) {
            sinceCycles[core] = cycle;
            hasBegun[core] &= kind == Kind.FINISH;
        }
        if (kind == Kind.END) {
            endCycle = cycle;
            end = End.values()[(int) a];
        }
        if (!recording) {
            if (kind == Kind.PINS) {
                flipped = levels ^ (int) a;
                levels = (int) a;
                lastPinCycle = cycle;
            }
            return;
        }
        if (cycle > lastCycle && marks >= MARKS_A_BLOCK) {
            endBlock(cycle);
            beginBlock(cycle);
        }
        lastCycle = cycle;
        marks++;
        if (core >= 0) {
            write(kind, cycle, chip().core(core), a, b);
        } else if (kind == Kind.PINS) {
            pins(cycle, (int) a, (int) b);
        }
    }

    private void write(Kind kind, long cycle, Core core, long a, long b) {
        Lane lane = lanes[core.number()];
        switch (kind) {
            case STATE -> lane.state(State.values()[(int) a], cycle);
            case BEGIN -> lane.beginning(instruction(core, (int) b), cycle);
            case FINISH -> lane.finish(cycle);
            case REQUEST -> lane.request(State.values()[(int) a], (int) b, cycle);
            case ADMIT -> lane.admit(cycle);
            case GIVE_UP -> lane.giveUp(cycle);
            case REGISTER -> lane.register((int) a, (int) b, cycle);
            case SHARED_WRITE -> lane.sharedWord((int) a, (int) b, cycle);
            case PRIVATE_WRITE -> lane.privateWord((int) a, (int) b, cycle);
            case PORT -> {
                lane.port((int) a, (int) b, cycle);
                usePins(core.drive());
            }
            case LOADING -> lane.loading((int) a, (int) b, cycle);
            case START -> lane.start(cycle);
            case IDLE -> lane.idle((int) a, standing(core), cycle);
            case FAULT -> lane.fault(message(core), standing(core), cycle);
            case LET_GO -> lane.letGo(cycle);
            case SHARED_READ, PRIVATE_READ, PINS, END -> marks--;
        }
    }

    private void pins(long cycle, int newLevels, int newClashes) {
        pins.number(cycle - lastPinCycle);
        pins.number(Integer.toUnsignedLong(newLevels ^ levels));
        pins.number(Integer.toUnsignedLong(newClashes));
        lastPinCycle = cycle;
        levels = newLevels;
        clashes = newClashes;
        usePins(levels | clashes | chip().pinsGiven());
    }

    // ---- blocks ----

    private void beginBlock(long cycle) {
        firstCycle = cycle;
        lastCycle = cycle;
        lastPinCycle = cycle;
        marks = 0;
        pins.clear();
        levelsAtStart = levels;
        clashesAtStart = clashes;
        for (Lane lane : lanes) {
            lane.clear(cycle);
        }
    }

    private void endBlock(long next) {
        block.clear();
        for (Lane lane : lanes) {
            lane.settle(next);
            lane.writeTo(block);
        }
        block.number(Integer.toUnsignedLong(levelsAtStart));
        block.number(Integer.toUnsignedLong(clashesAtStart));
        block.put(pins);
        parts.part(firstCycle, block.deflated());
        allMarks += marks;
        firstCycle = next;
    }

    /** Ends the recording at the run's present cycle: hands out what is left. */
    public void end() {
        long next = chip().cycle() + 1;
        if (next > firstCycle) {
            endBlock(next);
        }
        recording = false;
    }

    /** The program that runs. */
    public Program program() {
        return program;
    }

    /** The cycle at which the run ended, or -1 if it goes on behind the recording. */
    public long endCycle() {
        return endCycle;
    }
}
