package octurn.machine;

import static octurn.isa.Codes.AGAIN;
import static octurn.isa.Codes.AWAIT;
import static octurn.isa.Codes.BUMP;
import static octurn.isa.Codes.CALL;
import static octurn.isa.Codes.CORE;
import static octurn.isa.Codes.DIV;
import static octurn.isa.Codes.DRIVE;
import static octurn.isa.Codes.FAR;
import static octurn.isa.Codes.FETCH;
import static octurn.isa.Codes.HALT;
import static octurn.isa.Codes.JUMP;
import static octurn.isa.Codes.JUMP_IF;
import static octurn.isa.Codes.LEVEL0;
import static octurn.isa.Codes.LEVEL1;
import static octurn.isa.Codes.LOAD;
import static octurn.isa.Codes.MODE0;
import static octurn.isa.Codes.MODE1;
import static octurn.isa.Codes.MUL;
import static octurn.isa.Codes.MULH;
import static octurn.isa.Codes.NEAR;
import static octurn.isa.Codes.OUT;
import static octurn.isa.Codes.PAUSE;
import static octurn.isa.Codes.PINS;
import static octurn.isa.Codes.POST;
import static octurn.isa.Codes.READ;
import static octurn.isa.Codes.REM;
import static octurn.isa.Codes.SET;
import static octurn.isa.Codes.SPAN0;
import static octurn.isa.Codes.SPAN1;
import static octurn.isa.Codes.START;
import static octurn.isa.Codes.STOP;
import static octurn.isa.Codes.STORE;
import static octurn.isa.Codes.SWAP;
import static octurn.isa.Codes.TALLY0;
import static octurn.isa.Codes.TALLY1;
import static octurn.isa.Codes.TIME;
import static octurn.isa.Codes.UNTIL;
import static octurn.isa.Codes.UPPER;
import static octurn.isa.Codes.WRITE;

import java.util.List;
import octurn.arbiter.Chooser;
import octurn.arbiter.Rotation;
import octurn.design.Admission;
import octurn.design.Cost;
import octurn.design.Design;
import octurn.isa.Word;
import octurn.trace.Kind;
import octurn.trace.Sink;
import org.jspecify.annotations.Nullable;

/**
 * The engine that explains: it tells all that happens to a {@link Sink}, and reads like the rules of the chip. It goes
 * from one cycle at which something happens to the next; what no core is due in costs nothing.
 *
 * <p>{@link #open} is the heart. The beginning of cycle t is worked through in the order that the rules give:
 *
 * <ol>
 *   <li>effects that end with cycle t-1, in ascending core number ({@link #finish});
 *   <li>{@code stop} and {@code start} that end with it, in ascending number of their issuers, and then what a person
 *       changes by hand;
 *   <li>the pins take their levels, sleepers look at them, cores start instructions and raise requests;
 *   <li>is the run at its end?
 *   <li>admission.
 * </ol>
 */
public final class ClearEngine implements Engine {

    private static final int NO_ADDRESS = -1;

    private final Chip chip;
    private final Core[] cores;
    private final long limit;
    private final @Nullable Sink sink;

    private final Cost cost;
    private final int plain;
    private final int slotCycles;
    final boolean ownPort;
    final @Nullable Rotation rotation;
    final @Nullable Chooser chooser;

    /** Cores whose {@code start} or {@code stop} ends in this step, bit i for core i. */
    int controlling;
    /** What a person changes by hand in the cycle being opened. */
    private List<Change> changes = List.of();

    /**
     * @param limit the cycle at which the run ends at the latest
     * @param sink who is told, or null for nobody
     */
    public ClearEngine(Chip chip, long limit, @Nullable Sink sink) {
        Design design = chip.design;
        Admission admission = design.admission();
        this.chip = chip;
        this.cores = chip.cores;
        this.limit = limit;
        this.sink = sink;
        this.cost = design.cost();
        this.plain = cost.plain();
        this.slotCycles = design.slotCycles();
        this.ownPort = admission instanceof Admission.OwnPort;
        this.rotation = admission instanceof Admission.Rotation inTurn
                ? new Rotation(slotCycles, inTurn.order(), design.cores())
                : null;
        this.chooser = ownPort || rotation != null ? null : Chooser.of(design);
    }

    @Override
    public Chip chip() {
        return chip;
    }

    @Override
    public void runTo(long cycle) {
        long target = Math.min(cycle, limit);
        while (chip.ended == null && chip.nextCycle <= target) {
            open(chip.nextCycle);
        }
        if (chip.ended == null && chip.cycle < target) {
            chip.moveTo(target);
        }
        if (chip.ended == null && chip.cycle == limit) {
            end(End.LIMIT);
        }
    }

    /**
     * Runs to the beginning of this cycle and lets a person change the chip there, before anything starts in it. If the
     * run ends before, nothing is changed.
     *
     * @throws IllegalArgumentException if the chip is at this cycle or beyond it, or has not what is to be changed
     */
    public void runTo(long cycle, List<Change> changes) {
        if (cycle < chip.cycle || (cycle == chip.cycle && chip.isOpen())) {
            throw new IllegalArgumentException("cycle %d is past: the chip is at %d".formatted(cycle, chip.cycle));
        }
        changes.forEach(change -> change.requireFits(chip.design));
        runTo(cycle - 1);
        if (chip.ended == null) {
            this.changes = changes;
            open(cycle);
            this.changes = List.of();
            runTo(cycle);
        }
    }

    private void open(long t) {
        chip.moveTo(t);
        for (Core core : cores) {
            if (core.dueCycle == t) {
                finish(core, t);
            }
        }
        if (controlling != 0) {
            controlCores(t);
        }
        if (!changes.isEmpty()) {
            changes.forEach(change -> apply(change, t));
        }
        if (chip.pins.isDue(t)) {
            updatePins(t);
        }
        for (Core core : cores) {
            if (core.dueCycle == t && core.due == Core.Due.WATCH) {
                watch(core, t);
            }
            if (core.dueCycle == t) {
                start(core, t);
            }
        }
        if (isAllIdle()) {
            end(End.ALL_IDLE);
        } else if (isStuck()) {
            end(End.STUCK);
        } else {
            admit(t);
        }
        long next = chip.pins.nextChange();
        for (Core core : cores) {
            next = Math.min(next, core.dueCycle);
        }
        chip.nextCycle = next;
    }

    // ---- 1: what ends with the cycle before t ----

    void finish(Core core, long t) {
        switch (core.due) {
            case EFFECT -> {
                if (Word.op(core.word) == HALT) {
                    countInstruction(core, t);
                    makeIdle(core, -1, t);
                } else {
                    takeEffect(core, t);
                    finishInstruction(core, t);
                }
            }
            case SLOT_END -> endSlot(core, t);
            case FAULT -> fault(core, core.comingFault, t);
            case LET_GO -> {
                letGo(core, t);
                core.schedule(Core.Due.NOTHING, Core.NEVER);
            }
            default -> {
                // Due at the beginning of t: see start.
            }
        }
    }

    /** The instruction is done: the next one is due. */
    void finishInstruction(Core core, long t) {
        countInstruction(core, t);
        core.pc = core.nextPc;
        core.pcInShared = core.nextInShared;
        core.codeInHand = false;
        core.schedule(Core.Due.BEGIN, t);
    }

    private void countInstruction(Core core, long t) {
        core.instructions++;
        tell(Kind.FINISH, t, core, Kind.place(core.pc, core.pcInShared), core.word);
    }

    /** The effect of an instruction that is neither an access nor {@code halt}. */
    private void takeEffect(Core core, long t) {
        int word = core.word;
        int rd = Word.rd(word);
        int[] r = core.registers;
        switch (Word.op(word)) {
            case SET -> setRegister(core, rd, Word.wide(word), t);
            case UPPER -> setRegister(core, rd, Alu.upper(r[rd], Word.upper(word)), t);
            case LOAD -> {
                int address = memoryAddress(core);
                tell(Kind.PRIVATE_READ, t, core, address, core.ram[address]);
                setRegister(core, rd, core.ram[address], t);
            }
            case STORE -> setPrivate(core, memoryAddress(core), r[rd], t);
            case CALL -> setRegister(core, 15, core.pc + 1, t);
            case AGAIN -> setRegister(core, rd, r[rd] - 1, t);
            case READ -> setRegister(core, rd, core.sample, t);
            case WRITE -> writePort(core, Word.low(word), r[rd], t);
            case JUMP_IF, JUMP, FAR, NEAR, PAUSE, UNTIL, AWAIT -> {
                // Where they lead, and how long they take, was settled at their start.
            }
            default -> setRegister(core, rd, Alu.compute(Word.op(word), r[Word.ra(word)], operandB(core)), t);
        }
    }

    private void endSlot(Core core, long t) {
        switch (core.state) {
            case CODE_SLOT -> {
                chip.release(t);
                core.word = chip.shared[core.pc];
                core.codeInHand = true;
                core.schedule(Core.Due.BEGIN, t);
            }
            case LOAD_SLOT -> {
                chip.release(t);
                loadWord(core, t);
            }
            default -> {
                int op = Word.op(core.word);
                if (op == START || op == STOP) {
                    controlling |= 1 << core.number;
                } else {
                    chip.release(t);
                    access(core, op, t);
                    finishInstruction(core, t);
                }
            }
        }
    }

    /** The effect of {@code fetch}, {@code post}, {@code swap}, {@code bump}. */
    void access(Core core, int op, long t) {
        int address = core.accessAddress;
        int rd = Word.rd(core.word);
        int mine = core.registers[rd];
        int theirs = chip.shared[address];
        if (Alu.readsShared(op)) {
            tell(Kind.SHARED_READ, t, core, address, theirs);
        }
        if (Alu.writesShared(op)) {
            int stored = Alu.posted(op, mine, theirs);
            chip.shared[address] = stored;
            tell(Kind.SHARED_WRITE, t, core, address, stored);
        }
        if (Alu.readsShared(op)) {
            setRegister(core, rd, theirs, t);
        }
    }

    /** One word of the image is in. */
    private void loadWord(Core core, long t) {
        long address = Integer.toUnsignedLong(core.imageAddress) + core.imageDone + 1;
        if (core.imageDone < 0) {
            long first = address + 1;
            int count = address < chip.shared.length ? chip.shared[(int) address] : 0;
            long words = Integer.toUnsignedLong(count);
            if (words == 0 || words > core.ram.length || first + words > chip.shared.length) {
                fault(core, Fault.Kind.BAD_IMAGE, t);
                return;
            }
            core.imageWords = count;
        } else {
            setPrivate(core, core.imageDone, chip.shared[(int) address], t);
            core.setOrigin(core.imageDone, (int) address);
        }
        core.imageDone++;
        core.schedule(core.imageDone == core.imageWords ? Core.Due.BEGIN : Core.Due.LOAD, t);
        if (core.due == Core.Due.BEGIN) {
            tell(Kind.START, t, core, 0, 0);
        }
    }

    // ---- 2: stop and start ----

    void controlCores(long t) {
        for (Core issuer : cores) {
            // A stop that came before in this step takes its target's bit away.
            if ((controlling >>> issuer.number & 1) != 0) {
                chip.release(t);
                if (Word.op(issuer.word) == STOP) {
                    stopCore(issuer, cores[issuer.registers[Word.rd(issuer.word)]], t);
                } else {
                    startCore(issuer, t);
                    finishInstruction(issuer, t);
                }
            }
        }
        controlling = 0;
    }

    private void stopCore(Core issuer, Core target, long t) {
        if (issuer == target) {
            countInstruction(issuer, t);
            makeIdle(issuer, issuer.number, t);
            return;
        }
        if (target.state != State.IDLE) {
            giveUpAccess(target, t);
            target.fault = null;
            makeIdle(target, issuer.number, t);
        }
        finishInstruction(issuer, t);
    }

    /** Withdraws the request of a core that is stopped; an access under way, or ending now as a control, is given up. */
    private void giveUpAccess(Core target, long t) {
        int bit = 1 << target.number;
        if (target.due == Core.Due.SLOT_END) {
            chip.release(t);
            controlling &= ~bit;
            tell(Kind.GIVE_UP, t, target, 0, 0);
        } else if (target.due == Core.Due.ADMISSION) {
            chip.requests &= ~bit;
            tell(Kind.GIVE_UP, t, target, 0, 0);
        }
    }

    private void startCore(Core issuer, long t) {
        int word = issuer.word;
        int wanted = issuer.registers[Word.rd(word)];
        Core chosen = null;
        for (Core core : cores) {
            if (core.state == State.IDLE && (wanted == -1 || wanted == core.number)) {
                chosen = core;
                break;
            }
        }
        int image = issuer.registers[Word.ra(word)];
        int handed = issuer.registers[Word.low(word)];
        setRegister(issuer, Word.rd(word), chosen == null ? -1 : chosen.number, t);
        if (chosen != null) {
            chosen.clear();
            tell(Kind.LOADING, t, chosen, issuer.number, Integer.toUnsignedLong(image));
            setRegister(chosen, 1, handed, t);
            chosen.pc = 0;
            chosen.pcInShared = false;
            chosen.imageAddress = image;
            chosen.imageDone = -1;
            enter(chosen, State.LOAD_WAIT, t);
            chosen.schedule(Core.Due.LOAD, t);
        }
    }

    private void makeIdle(Core core, int by, long t) {
        core.codeInHand = false;
        core.schedule(Core.Due.NOTHING, Core.NEVER);
        letGo(core, t);
        enter(core, State.IDLE, t);
        tell(Kind.IDLE, t, core, by, 0);
    }

    /** Pins and tallies of a core that becomes idle or faults. */
    private void letGo(Core core, long t) {
        core.out = 0;
        core.drive = 0;
        for (TallyUnit tally : core.tallies) {
            tally.clear(t);
        }
        chip.pins.changed = true;
        tell(Kind.LET_GO, t, core, 0, 0);
    }

    private void apply(Change change, long t) {
        if (change instanceof Change.Register it) {
            setRegister(cores[it.core()], it.register(), it.value(), t);
        } else if (change instanceof Change.PrivateWord it) {
            setPrivate(cores[it.core()], it.address(), it.value(), t);
        } else if (change instanceof Change.SharedWord it) {
            chip.shared[it.address()] = it.value();
            if (sink != null) {
                sink.event(Kind.SHARED_WRITE, t, -1, it.address(), it.value());
            }
        } else if (change instanceof Change.PinLevel it) {
            chip.pins.force(it.pin(), it.level());
        }
    }

    // ---- 3: what begins with cycle t ----

    void updatePins(long t) {
        int clashesBefore = chip.pins.clashes();
        boolean flipped = chip.pins.update(t, cores);
        if (sink != null && (flipped || chip.pins.clashes() != clashesBefore)) {
            sink.event(
                    Kind.PINS,
                    t,
                    -1,
                    Integer.toUnsignedLong(chip.pins.levels()),
                    Integer.toUnsignedLong(chip.pins.clashes()));
        }
        if (flipped) {
            for (Core core : cores) {
                if (core.state == State.SLEEP && core.due == Core.Due.WATCH) {
                    core.dueCycle = t;
                }
            }
        }
    }

    void start(Core core, long t) {
        switch (core.due) {
            case BEGIN -> begin(core, t);
            case REQUEST -> request(core, State.WAIT, t);
            case LOAD -> request(core, State.LOAD_WAIT, t);
            case SLEEP -> {
                enter(core, State.SLEEP, t);
                core.schedule(Core.Due.EFFECT, core.wakeCycle);
            }
            default -> {
                // Ends with a cycle: see finish; or is an admission.
            }
        }
    }

    void watch(Core core, long t) {
        if ((chip.pins.levels() & core.watched) == core.sample) {
            finishInstruction(core, t);
        } else {
            if (core.state != State.SLEEP) {
                enter(core, State.SLEEP, t);
            }
            core.dueCycle = Core.NEVER;
        }
    }

    /** The core would start an instruction at t. */
    private void begin(Core core, long t) {
        int pc = core.pc;
        if (Integer.compareUnsigned(pc, core.pcInShared ? chip.shared.length : core.ram.length) >= 0) {
            faultLate(core, Fault.Kind.OFF_THE_END, t);
        } else if (core.pcInShared && !core.codeInHand) {
            request(core, State.CODE_WAIT, t);
        } else {
            if (!core.pcInShared) {
                core.word = core.ram[pc];
            }
            if (Word.isInstruction(core.word)) {
                enter(core, State.WORK, t);
                tell(Kind.BEGIN, t, core, Kind.place(pc, core.pcInShared), core.word);
                startInstruction(core, t);
            } else {
                faultLate(core, Fault.Kind.NOT_AN_INSTRUCTION, t);
            }
        }
    }

    /** What is settled at an instruction's start: how long it takes, what it samples, where it leads, if it faults. */
    private void startInstruction(Core core, long t) {
        int word = core.word;
        int[] r = core.registers;
        core.nextPc = core.pc + 1;
        core.nextInShared = core.pcInShared;
        core.schedule(Core.Due.EFFECT, t + plain);
        switch (Word.op(word)) {
            case MUL, MULH -> core.dueCycle = t + cost.multiply();
            case DIV, REM -> {
                core.dueCycle = t + cost.divide();
                faultUnless(operandB(core) != 0, core, Fault.Kind.DIVIDE_BY_ZERO, t);
            }
            case LOAD, STORE -> {
                core.dueCycle = t + cost.privateAccess();
                boolean fits = Integer.compareUnsigned(memoryAddress(core), core.ram.length) < 0;
                faultUnless(fits, core, Fault.Kind.PRIVATE_ADDRESS, t);
            }
            case FETCH, POST, SWAP, BUMP -> {
                core.due = Core.Due.REQUEST;
                core.accessAddress = memoryAddress(core);
                boolean fits = Integer.compareUnsigned(core.accessAddress, chip.shared.length) < 0;
                faultUnless(fits, core, Fault.Kind.SHARED_ADDRESS, t);
            }
            case START, STOP -> {
                core.due = Core.Due.REQUEST;
                core.accessAddress = NO_ADDRESS;
                int target = r[Word.rd(word)];
                int lowest = Word.op(word) == START ? -1 : 0;
                faultUnless(target >= lowest && target < cores.length, core, Fault.Kind.NO_SUCH_CORE, t);
            }
            case JUMP_IF -> {
                int b = Word.hasConstant(word) ? Word.branchConstant(word) : r[Word.branchRegister(word)];
                if (Alu.holds(Word.rd(word), r[Word.ra(word)], b)) {
                    jump(core, core.pc + Word.branchOffset(word), core.pcInShared, t);
                }
            }
            case AGAIN -> {
                if (r[Word.rd(word)] != 1) {
                    jump(core, core.pc + Word.wide(word), core.pcInShared, t);
                }
            }
            case JUMP, CALL -> {
                int target = Word.jumpHasTarget(word) ? core.pc + Word.distance(word) : r[Word.low(word)];
                jump(core, target, core.pcInShared, t);
            }
            case FAR, NEAR -> {
                int target = Word.jumpHasTarget(word) ? Word.crossAddress(word) : r[Word.low(word)];
                jump(core, target, Word.op(word) == FAR, t);
            }
            case READ -> core.sample = readPort(core, Word.low(word), t);
            case WRITE -> {
                boolean isMode = Word.low(word) == MODE0 || Word.low(word) == MODE1;
                boolean legal = !isMode || TallyUnit.isLegalMode(r[Word.rd(word)], chip.design.pins());
                faultUnless(legal, core, Fault.Kind.BAD_TALLY, t);
            }
            case PAUSE -> sleepUntil(core, t + operandB(core));
            case UNTIL -> sleepUntil(core, t + plain + (operandB(core) - (int) (t + plain)));
            case AWAIT -> {
                core.due = Core.Due.WATCH;
                core.watched = r[Word.ra(word)];
                core.sample = operandB(core);
            }
            default -> {
                // Plain arithmetic and halt: nothing but their time.
            }
        }
    }

    private void jump(Core core, int target, boolean inShared, long t) {
        core.nextPc = target;
        core.nextInShared = inShared;
        core.dueCycle = t + cost.taken();
    }

    /** After the work, sleeps until this cycle if that is later. */
    private void sleepUntil(Core core, long wakeCycle) {
        if (wakeCycle > core.dueCycle) {
            core.due = Core.Due.SLEEP;
            core.wakeCycle = wakeCycle;
        }
    }

    void request(Core core, State waiting, long t) {
        enter(core, waiting, t);
        core.requestCycle = t;
        long admission = Core.NEVER;
        if (rotation != null) {
            admission = rotation.nextSlot(core.number, t);
        } else if (ownPort) {
            admission = t;
        } else {
            chip.requests |= 1 << core.number;
            chip.requestCycles[core.number] = t;
        }
        core.schedule(Core.Due.ADMISSION, admission);
        tell(Kind.REQUEST, t, core, waiting.ordinal(), core.requestAddress());
    }

    // ---- faults ----

    /** Unless all is well, the instruction works for the plain time, has no effect, and the core is in fault then. */
    private void faultUnless(boolean well, Core core, Fault.Kind kind, long t) {
        if (!well) {
            core.comingFault = kind;
            core.schedule(Core.Due.FAULT, t + plain);
        }
    }

    /** The core is in fault from t on; it let go of its pins at the end of the cycle before. */
    private void fault(Core core, Fault.Kind kind, long t) {
        core.codeInHand = false;
        core.schedule(Core.Due.NOTHING, Core.NEVER);
        letGo(core, t);
        enterFault(core, kind, t);
    }

    /** A fault found out only in its first cycle: the core lets go of its pins at the end of that cycle. */
    private void faultLate(Core core, Fault.Kind kind, long t) {
        core.codeInHand = false;
        core.schedule(Core.Due.LET_GO, t + 1);
        enterFault(core, kind, t);
    }

    private void enterFault(Core core, Fault.Kind kind, long t) {
        core.fault = new Fault(kind, core.number, t, core.pc, core.pcInShared, culprit(core, kind));
        enter(core, State.FAULT, t);
        tell(Kind.FAULT, t, core, kind.ordinal(), Kind.place(core.pc, core.pcInShared));
    }

    /** The number that a fault is about. */
    private int culprit(Core core, Fault.Kind kind) {
        return switch (kind) {
            case NOT_AN_INSTRUCTION -> core.word;
            case OFF_THE_END -> core.pc;
            case PRIVATE_ADDRESS, SHARED_ADDRESS -> memoryAddress(core);
            case NO_SUCH_CORE, BAD_TALLY -> core.registers[Word.rd(core.word)];
            case BAD_IMAGE -> core.imageAddress;
            case DIVIDE_BY_ZERO -> 0;
        };
    }

    // ---- 4: the end ----

    boolean isAllIdle() {
        for (Core core : cores) {
            if (core.state != State.IDLE && core.state != State.FAULT) {
                return false;
            }
        }
        return true;
    }

    /** Whether nothing can ever happen again; asked when some core is neither idle nor in fault. */
    boolean isStuck() {
        for (Core core : cores) {
            boolean watching = core.state == State.SLEEP && core.due == Core.Due.WATCH;
            boolean slotless = rotation != null && core.due == Core.Due.ADMISSION;
            boolean ended = core.state == State.IDLE || core.state == State.FAULT;
            boolean never = ended || ((watching || slotless) && core.dueCycle == Core.NEVER);
            boolean drives = core.state == State.FAULT && core.drive != 0;
            if (!never || drives || core.pulses()) {
                return false;
            }
        }
        return !chip.pins.outsideWillChange();
    }

    private void end(End reason) {
        chip.ended = reason;
        if (sink != null) {
            sink.event(Kind.END, chip.cycle, -1, reason.ordinal(), 0);
        }
    }

    // ---- 5: admission ----

    void admit(long t) {
        if (chooser != null) {
            if (chip.requests != 0 && chip.holders == 0) {
                int core = chooser.choose(chip.requests, chip.requestCycles, chip.arbiterMemory);
                chip.requests &= ~(1 << core);
                chip.arbiterMemory.lastAdmitted = core;
                admit(cores[core], t);
            }
            return;
        }
        for (Core core : cores) {
            if (core.due == Core.Due.ADMISSION && core.dueCycle == t) {
                admit(core, t);
            }
        }
    }

    void admit(Core core, long t) {
        chip.hold(t);
        chip.admitted |= 1 << core.number;
        tell(Kind.ADMIT, t, core, t - core.requestCycle, core.requestAddress());
        enter(core, core.state.admitted(), t);
        core.schedule(Core.Due.SLOT_END, t + slotCycles);
    }

    // ---- operands, registers, ports ----

    private static int operandB(Core core) {
        return Word.hasConstant(core.word) ? Word.constant(core.word) : core.registers[Word.low(core.word)];
    }

    private static int memoryAddress(Core core) {
        int word = core.word;
        return Word.hasConstant(word) ? core.registers[Word.ra(word)] + Word.constant(word) : Word.absolute(word);
    }

    private void setRegister(Core core, int register, int value, long t) {
        core.registers[register] = value;
        tell(Kind.REGISTER, t, core, register, value);
    }

    private void setPrivate(Core core, int address, int value, long t) {
        core.ram[address] = value;
        tell(Kind.PRIVATE_WRITE, t, core, address, value);
    }

    private int readPort(Core core, int port, long t) {
        TallyUnit tally = core.tallies[port < TALLY1 ? 0 : 1];
        return switch (port) {
            case PINS -> chip.pins.levels();
            case OUT -> core.out;
            case DRIVE -> core.drive;
            case TIME -> (int) t;
            case CORE -> core.number;
            case TALLY0, TALLY1 -> tally.valueAt(t, chip.pins.levels());
            case MODE0, MODE1 -> tally.modeWord();
            case SPAN0, SPAN1 -> tally.span;
            case LEVEL0, LEVEL1 -> tally.level;
            default -> throw new IllegalStateException("no port: " + port);
        };
    }

    /** Writes a port; the pins still have the levels of the cycle that ends. */
    private void writePort(Core core, int port, int value, long t) {
        TallyUnit tally = core.tallies[port < TALLY1 ? 0 : 1];
        int kept = value;
        if (port >= TALLY0) {
            tally.settle(t, chip.pins.levels());
        }
        switch (port) {
            case OUT -> core.out = kept = value & chip.design.pinMask();
            case DRIVE -> core.drive = kept = value & chip.design.pinMask();
            case TALLY0, TALLY1 -> tally.setValue(value, t);
            case MODE0, MODE1 -> tally.setMode(value);
            case SPAN0, SPAN1 -> tally.span = value;
            case LEVEL0, LEVEL1 -> tally.level = value;
            default -> throw new IllegalStateException("no port to write: " + port);
        }
        chip.pins.changed = true;
        tell(Kind.PORT, t, core, port, kept);
    }

    private void enter(Core core, State state, long t) {
        if (core.state != state) {
            tell(Kind.STATE, t, core, state.ordinal(), core.state.ordinal());
            core.enter(state, t);
        }
    }

    private void tell(Kind kind, long t, Core core, long a, long b) {
        if (sink != null) {
            sink.event(kind, t, core.number, a, b);
        }
    }
}
