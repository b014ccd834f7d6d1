package octurn.machine;

import java.util.Arrays;
import java.util.List;
import java.util.SortedMap;
import octurn.trace.Kind;
import org.jspecify.annotations.Nullable;

/**
 * One core: its registers and private RAM, what it is doing, and what it has done so far.
 *
 * <p>A core is not stepped through its cycles. What will happen to it next is {@link #due}, at the beginning of cycle
 * {@link #dueCycle}; until then it stays in its {@link #state}.
 */
public final class Core {

    /** What {@link #origin} answers for a word of the core's own section of the program. */
    public static final int FROM_PROGRAM = -1;

    /** What {@link #origin} answers for a word that neither the program nor a loaded image put there. */
    public static final int FROM_NOWHERE = -2;

    /** A cycle that never comes. */
    static final long NEVER = Long.MAX_VALUE;

    /** What happens to a core next. */
    enum Due {
        /** Nothing, unless another core acts on it. */
        NOTHING,
        /** The instruction under way takes effect and is finished. */
        EFFECT,
        /** The work of an access instruction is done: it raises its request. */
        REQUEST,
        /** The work of an instruction that faults is done. */
        FAULT,
        /** The work of a pause or until is done: it sleeps until {@link #wakeCycle}. */
        SLEEP,
        /** The work of an await is done, or it sleeps: it looks at the pins. */
        WATCH,
        /** An instruction starts, or its code is asked for. */
        BEGIN,
        /** A core that was chosen by a start raises its first request. */
        LOAD,
        /** Its request can be admitted. Under the policies that choose, the time is not known in advance. */
        ADMISSION,
        /** Its slot ends: the access, the code or the word of the image is done. */
        SLOT_END,
        /** The first cycle of a fault that was found out late is over: it lets go of its pins. */
        LET_GO
    }

    final int number;
    final int[] registers = new int[16];
    final int[] ram;
    final TallyUnit[] tallies = {new TallyUnit(), new TallyUnit()};
    int out;
    int drive;

    int pc;
    boolean pcInShared;
    State state = State.IDLE;

    @Nullable
    Fault fault;
    /** With {@link Due#FAULT}: which fault comes. */
    Fault.Kind comingFault = Fault.Kind.NOT_AN_INSTRUCTION;

    Due due = Due.NOTHING;
    long dueCycle = NEVER;

    /** The instruction under way; with {@link #codeInHand}, one that was fetched from shared memory and has not started. */
    int word;

    boolean codeInHand;
    /** What read and await sampled at their start: the port's value; the value that the pins shall have. */
    int sample;
    /** The pins that an await looks at. */
    int watched;
    /** Where a jump leads; elsewhere the next instruction. */
    int nextPc;

    boolean nextInShared;
    /** The shared address of a data access. */
    int accessAddress;
    /** When a pause or until ends. */
    long wakeCycle;
    /** When the request under way was raised. */
    long requestCycle;
    /** While loading: the image's address, its count, and how many of its words are in; -1 before the count is. */
    int imageAddress;

    int imageWords;
    int imageDone;

    private int @Nullable [] origins;

    private final long[] stateCycles = new long[State.values().length];
    private long stateSince;
    long instructions;
    long accesses;
    long waitTotal;
    long turnsUsed;
    final WaitCounts waits = new WaitCounts();
    final AccessSites sites = new AccessSites();

    Core(int number, int privateWords) {
        this.number = number;
        this.ram = new int[privateWords];
    }

    /** Its number, from 0. */
    public int number() {
        return number;
    }

    /** What it does in the present cycle. */
    public State state() {
        return state;
    }

    /** The value of {@code r0}..{@code r15}. */
    public int register(int register) {
        return registers[register];
    }

    /** A word of its private RAM. */
    public int privateWord(int address) {
        return ram[address];
    }

    /** The instruction that it is doing or about to do, halted at, was stopped in or faulted at; unsigned. */
    public int pc() {
        return pc;
    }

    /** Whether the program counter is in shared memory. */
    public boolean pcInShared() {
        return pcInShared;
    }

    /** The word of the instruction that it is doing; of use while it does one. */
    public int word() {
        return word;
    }

    /** What ended it, or null. */
    public @Nullable Fault fault() {
        return fault;
    }

    /** Its output latch. */
    public int out() {
        return out;
    }

    /** The mask of the pins that it drives. */
    public int drive() {
        return drive;
    }

    /** When its request under way was raised; of use while its state {@link State#isWaiting}. */
    public long requestCycle() {
        return requestCycle;
    }

    /** The shared address that its data access is for; of use for fetch, post, swap and bump under way. */
    public int accessAddress() {
        return accessAddress;
    }

    /**
     * The shared address that its request or its slot under way is for, whatever for; -1 for start and stop, which have
     * none. Of use while its state {@link State#isWaiting} or {@link State#isAdmitted}.
     */
    public long requestAddress() {
        return switch (state) {
            case CODE_WAIT, CODE_SLOT -> Integer.toUnsignedLong(pc);
            case LOAD_WAIT, LOAD_SLOT -> Integer.toUnsignedLong(imageAddress) + imageDone + 1;
            default -> accessAddress;
        };
    }

    /** The cycle at whose beginning something is due to happen to it, or Long.MAX_VALUE where that is not known. */
    public long dueCycle() {
        return dueCycle;
    }

    /** The mode word of tally 0 or 1. */
    public int tallyMode(int tally) {
        return tallies[tally].modeWord();
    }

    /** The span of tally 0 or 1. */
    public int tallySpan(int tally) {
        return tallies[tally].span;
    }

    /** The level of tally 0 or 1. */
    public int tallyLevel(int tally) {
        return tallies[tally].level;
    }

    /** Instructions that finished. */
    public long instructions() {
        return instructions;
    }

    /** Data accesses that were admitted. */
    public long accesses() {
        return accesses;
    }

    /** The waits of those accesses, summed up, in cycles. */
    public long waitTotal() {
        return waitTotal;
    }

    /** How many of those accesses waited how many cycles, ascending. */
    public SortedMap<Long, Long> waitHistogram() {
        return waits.toMap();
    }

    /** The instructions that made those accesses, private before shared, then by address. */
    public List<AccessSite> accessSites() {
        return sites.list(number);
    }

    /** Slots of its own in which it was admitted, whatever for; under rotation. */
    public long turnsUsed() {
        return turnsUsed;
    }

    /** Cycles spent in a state before this cycle, which is the present one. */
    public long cyclesIn(State which, long cycle) {
        return stateCycles[which.ordinal()] + (which == state ? cycle - stateSince : 0);
    }

    /** The cycle from which on it is in its state. */
    public long stateSince() {
        return stateSince;
    }

    /**
     * Where the word at this private address came from: the shared address that it was loaded from,
     * {@link #FROM_PROGRAM} or {@link #FROM_NOWHERE}.
     */
    public int origin(int address) {
        return origins == null ? FROM_PROGRAM : origins[address];
    }

    void setOrigin(int address, int sharedAddress) {
        if (origins != null) {
            origins[address] = sharedAddress;
        }
    }

    void enter(State newState, long cycle) {
        stateCycles[state.ordinal()] += cycle - stateSince;
        stateSince = cycle;
        state = newState;
    }

    void schedule(Due what, long cycle) {
        due = what;
        dueCycle = cycle;
    }

    /** Counts the admission that the slot under way began with: any as a turn used, one for data as an access. */
    void countAdmission() {
        turnsUsed++;
        if (state == State.SLOT) {
            int origin = pcInShared ? FROM_PROGRAM : origin(pc);
            countAccess(Kind.place(pc, pcInShared), origin, stateSince - requestCycle, 1);
        }
    }

    /** Counts admitted data accesses of the instruction at this private address that all waited so long. */
    void countAccesses(int address, long wait, long times) {
        turnsUsed += times;
        countAccess(Kind.place(address, false), origin(address), wait, times);
    }

    private void countAccess(long place, int origin, long wait, long times) {
        accesses += times;
        waitTotal += wait * times;
        waits.add(wait, times);
        sites.add(place, origin, wait, times);
    }

    /** Counts cycles that passed in this state while the core's state field stays {@link State#WORK}. */
    void spend(State which, long cycles) {
        stateCycles[which.ordinal()] += cycles;
        stateCycles[State.WORK.ordinal()] -= cycles;
    }

    /** Whether one of its tallies is in pulse mode. */
    boolean pulses() {
        return tallies[0].mode == TallyUnit.PULSE || tallies[1].mode == TallyUnit.PULSE;
    }

    /** Registers and private RAM become 0, and all that is known of where words came from is forgotten. */
    void clear() {
        Arrays.fill(registers, 0);
        Arrays.fill(ram, 0);
        if (origins == null) {
            origins = new int[ram.length];
        }
        Arrays.fill(origins, FROM_NOWHERE);
    }

    /** A copy of where the words came from, or null while all are from the program. */
    @Nullable
    Pages saveOrigins(@Nullable Pages before) {
        return origins == null ? null : Pages.copyOf(origins, before);
    }

    void copyOriginsFrom(@Nullable Pages saved) {
        if (saved == null) {
            origins = null;
        } else {
            if (origins == null) {
                origins = new int[ram.length];
            }
            saved.copyTo(origins);
        }
    }

    /** Takes over everything but the private RAM and where its words came from. */
    void copyRestFrom(Core other) {
        System.arraycopy(other.registers, 0, registers, 0, registers.length);
        for (int i = 0; i < tallies.length; i++) {
            tallies[i].copyFrom(other.tallies[i]);
        }
        out = other.out;
        drive = other.drive;
        pc = other.pc;
        pcInShared = other.pcInShared;
        state = other.state;
        fault = other.fault;
        comingFault = other.comingFault;
        due = other.due;
        dueCycle = other.dueCycle;
        word = other.word;
        codeInHand = other.codeInHand;
        sample = other.sample;
        watched = other.watched;
        nextPc = other.nextPc;
        nextInShared = other.nextInShared;
        accessAddress = other.accessAddress;
        wakeCycle = other.wakeCycle;
        requestCycle = other.requestCycle;
        imageAddress = other.imageAddress;
        imageWords = other.imageWords;
        imageDone = other.imageDone;
        System.arraycopy(other.stateCycles, 0, stateCycles, 0, stateCycles.length);
        stateSince = other.stateSince;
        instructions = other.instructions;
        accesses = other.accesses;
        waitTotal = other.waitTotal;
        turnsUsed = other.turnsUsed;
        waits.copyFrom(other.waits);
        sites.copyFrom(other.sites);
    }
}
