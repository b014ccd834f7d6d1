package octurn.reference;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import octurn.asm.Block;
import octurn.asm.Program;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.design.Input;
import octurn.design.Scenario;
import octurn.machine.End;
import octurn.machine.Fault;
import octurn.machine.State;
import octurn.report.RunReport;
import org.jspecify.annotations.Nullable;

/**
 * The chip, naively: every core in every cycle, one rule after the other. It is written from the rules alone, so that
 * the engine, which skips what nothing happens in, can be held against it. Speed and brevity are no aims.
 *
 * <p>A cycle t is: the pins of t; instructions that start at t, and requests that go up at t; has the run ended; who is
 * admitted at t; one state a core is counted; at the end of t the tallies step, effects apply, and {@code stop} and
 * {@code start} come last.
 */
final class ReferenceModel {

    /** What a core is in the midst of. */
    private enum Doing {
        /** Not started, halted or stopped. */
        IDLE,
        FAULT,
        /** An instruction would start at the next beginning of a cycle. */
        NEXT,
        /** Its code word has come from shared memory and starts at the next beginning of a cycle. */
        FETCHED,
        /** Work and fixed sleep, until {@code last}. */
        INSTRUCTION,
        /** The work of an await is done and its condition was false so far. */
        AWAIT,
        /** A request is up, or its slot runs: data, code, image. */
        DATA_REQUEST,
        DATA_SLOT,
        CODE_REQUEST,
        CODE_SLOT,
        LOAD_REQUEST,
        LOAD_SLOT
    }

    /** Waits of admitted accesses. */
    private static final class Waiting {
        long count;
        long total;
        long min = -1;
        long max = -1;
        final SortedMap<Long, Long> histogram = new TreeMap<>();

        void add(long wait) {
            count++;
            total += wait;
            min = min < 0 ? wait : Math.min(min, wait);
            max = Math.max(max, wait);
            histogram.merge(wait, 1L, Long::sum);
        }
    }

    /** An instruction's place, for the hot spots. */
    private record Place(int core, boolean inShared, int address) {}

    private static final class Spot {
        final Waiting waits = new Waiting();
        final int line;

        Spot(int line) {
            this.line = line;
        }
    }

    private static final class Tally {
        int value;
        int mode;
        int span;
        int level;

        int kind() {
            return mode & 0xFF;
        }

        int pin() {
            return mode >>> 8 & 31;
        }

        boolean puttingOut() {
            return kind() == 6 && Integer.compareUnsigned(value, level) < 0;
        }
    }

    private static final class Core {
        final int number;
        final int[] r = new int[16];
        final int[] ram;
        /** The file's line that each private word came from, 0 for none. */
        final int[] lines;

        Doing doing = Doing.IDLE;
        int pc;
        boolean inShared;
        int out;
        int drive;
        final Tally[] tallies = {new Tally(), new Tally()};

        /** The word that came by a code fetch. */
        int fetched;
        /** The last cycle of the work, the fixed hold or the slot in progress. */
        long last;
        /** The last work cycle of the instruction in progress; sleep comes after it. */
        long workLast;
        /** The cycle at which the request went up. */
        long requestedAt;
        /** Whether the instruction in progress raises a request after its work. */
        boolean access;
        /** Whether it sleeps for its condition after its work. */
        boolean awaits;

        int awaitMask;
        int awaitValue;
        /** What the instruction does at the end of its last cycle; sampled values are bound in it. */
        Runnable effect = () -> {};
        /** Where to go on after it. */
        int nextPc;

        boolean nextInShared;
        /** For stop and start: what they do in step 2. */
        @Nullable
        Runnable late;
        /** Whether the late effect is due in this step 2. */
        boolean lateDue;
        /** Whether the core was made idle in this step 2. */
        boolean madeIdle;

        int imageAddress;
        /** Words of the image still to come; -1 before the count is read. */
        long imageLeft;

        int imageNext;

        RunReport.@Nullable FaultReport fault;
        long instructions;
        final Map<State, Long> states = new EnumMap<>(State.class);
        final Waiting waits = new Waiting();
        long offered;
        long used;
        long clashes;

        Core(int number, int words) {
            this.number = number;
            ram = new int[words];
            lines = new int[words];
            for (State state : State.values()) {
                states.put(state, 0L);
            }
        }
    }

    private final Program program;
    private final Design design;
    private final Scenario scenario;
    private final long limit;
    private final int plain;
    private final int pinMask;
    private final Core[] cores;
    private final int[] shared;
    private final int[] sharedLines;
    private final Map<Place, Spot> spots = new TreeMap<>(Comparator.comparingInt(Place::core)
            .thenComparing(Place::inShared)
            .thenComparing((a, b) -> Integer.compareUnsigned(a.address(), b.address())));

    /** The cycle. */
    private long t;

    private int pins;
    private int pinsBefore;
    private long busyCycles;
    private long clashCycles;
    private int admittedLast;
    private int lottery;

    private ReferenceModel(Program program, Scenario scenario, long limit) {
        this.program = program;
        this.design = program.design();
        this.scenario = scenario;
        this.limit = limit;
        plain = design.cost().plain();
        pinMask = design.pins() == 32 ? -1 : (1 << design.pins()) - 1;
        shared = new int[design.sharedWords()];
        sharedLines = new int[design.sharedWords()];
        cores = new Core[design.cores()];
        for (int i = 0; i < cores.length; i++) {
            cores[i] = new Core(i, design.privateWords());
        }
        // Before the first admission, the core admitted last counts as the highest-numbered one.
        admittedLast = cores.length - 1;
        if (design.admission() instanceof Admission.Lottery settings) {
            lottery = (int) settings.seed();
        }
        for (Block block : program.blocks()) {
            if (block.kind() == Block.Kind.CORE) {
                for (int number : block.cores()) {
                    // Every core that has a section starts at its private address 0; the others are idle.
                    cores[number].doing = Doing.NEXT;
                    System.arraycopy(block.words(), 0, cores[number].ram, 0, block.words().length);
                    System.arraycopy(block.lines(), 0, cores[number].lines, 0, block.words().length);
                }
            } else {
                System.arraycopy(block.words(), 0, shared, block.address(), block.words().length);
                System.arraycopy(block.lines(), 0, sharedLines, block.address(), block.words().length);
            }
        }
    }

    /** Runs the program to its end, or to the limit. */
    static RunReport run(Program program, Scenario scenario, long limit) {
        return new ReferenceModel(program, scenario, limit).run();
    }

    private RunReport run() {
        while (true) {
            pins = levels();
            for (Core core : cores) {
                begin(core);
            }
            End end = end();
            if (end != null) {
                // An admission at `cycles` itself is shown in the state and counted nowhere.
                admit(false);
                return report(end);
            }
            admit(true);
            count();
            step();
            pinsBefore = pins;
            t++;
        }
    }

    // ---- pins ----

    /** What the outside gives the pin at a cycle: 0, 1, or -1 for nothing. */
    private int outside(int pin, long cycle) {
        for (Input input : scenario.inputs()) {
            if (input.pin() == pin) {
                return outside(input, cycle);
            }
        }
        return -1;
    }

    private static int outside(Input input, long cycle) {
        if (input instanceof Input.Changes wave) {
            int level = -1;
            for (Input.Change change : wave.changes()) {
                if (cycle >= change.at()) {
                    level = change.level();
                }
            }
            return level;
        }
        if (input instanceof Input.Square wave) {
            if (cycle < wave.from()) {
                return -1;
            }
            return cycle < wave.until() && (cycle - wave.from()) % wave.period() < wave.high() ? 1 : 0;
        }
        Input.Serial line = (Input.Serial) input;
        byte[] bytes = line.text().getBytes(StandardCharsets.UTF_8);
        long bit = cycle < line.from() ? -1 : (cycle - line.from()) / line.cyclesPerBit();
        if (bit < 0 || bit >= 10L * bytes.length) {
            return 1;
        }
        int place = (int) (bit % 10);
        return place == 0 ? 0 : place == 9 ? 1 : bytes[(int) (bit / 10)] >> (place - 1) & 1;
    }

    /** Whether what the outside gives differs, at some cycle after this one, from the cycle before it. */
    private static boolean changesAfter(Input input, long cycle) {
        List<Long> candidates = new ArrayList<>();
        if (input instanceof Input.Changes wave) {
            wave.changes().forEach(change -> candidates.add(change.at()));
        } else if (input instanceof Input.Square wave) {
            candidates.add(wave.from());
            candidates.add(wave.until());
            // The edges of the period that holds the cycle, and of the next one, tell for all that follow.
            long start = cycle < wave.from() ? wave.from() : cycle - (cycle - wave.from()) % wave.period();
            candidates.add(start + wave.high());
            candidates.add(start + wave.period());
            candidates.add(start + wave.period() + wave.high());
        } else {
            Input.Serial line = (Input.Serial) input;
            int bits = 10 * line.text().getBytes(StandardCharsets.UTF_8).length;
            for (int i = 0; i <= bits; i++) {
                candidates.add(line.from() + i * line.cyclesPerBit());
            }
        }
        return candidates.stream()
                .anyMatch(c -> c > cycle && c != Long.MAX_VALUE && outside(input, c) != outside(input, c - 1));
    }

    private boolean drives(Core core, int pin) {
        return (core.drive >>> pin & 1) != 0;
    }

    /** Bit i of the latch, or 1 if one of its tallies in pulse mode on the pin is putting out 1. */
    private int drivenValue(Core core, int pin) {
        int value = core.out >>> pin & 1;
        for (Tally tally : core.tallies) {
            if (tally.puttingOut() && tally.pin() == pin) {
                value = 1;
            }
        }
        return value;
    }

    /** The pins in this cycle, with latches, masks and tallies as of its beginning. */
    private int levels() {
        int levels = 0;
        for (int pin = 0; pin < design.pins(); pin++) {
            boolean driven = false;
            int level = 0;
            for (Core core : cores) {
                if (drives(core, pin)) {
                    driven = true;
                    level |= drivenValue(core, pin);
                }
            }
            if (!driven) {
                level = outside(pin, t) == 1 ? 1 : 0;
            }
            levels |= level << pin;
        }
        return levels;
    }

    private void countClashes() {
        boolean any = false;
        boolean[] touched = new boolean[cores.length];
        for (int pin = 0; pin < design.pins(); pin++) {
            boolean[] seen = new boolean[2];
            boolean driven = false;
            for (Core core : cores) {
                if (drives(core, pin)) {
                    driven = true;
                    seen[drivenValue(core, pin)] = true;
                }
            }
            int outside = outside(pin, t);
            if (driven && outside >= 0) {
                seen[outside] = true;
            }
            if (driven && seen[0] && seen[1]) {
                any = true;
                for (Core core : cores) {
                    touched[core.number] |= drives(core, pin);
                }
            }
        }
        clashCycles += any ? 1 : 0;
        for (Core core : cores) {
            core.clashes += touched[core.number] ? 1 : 0;
        }
    }

    // ---- the beginning of a cycle ----

    private void begin(Core core) {
        // The next instruction of an await starts at the first cycle u at which the condition holds: it has finished
        // at u, not at the end of u-1.
        if (core.doing == Doing.INSTRUCTION && core.awaits && t == core.workLast + 1) {
            core.doing = Doing.AWAIT;
        }
        if (core.doing == Doing.AWAIT && (pins & core.awaitMask) == core.awaitValue) {
            finish(core);
        }
        if (core.doing == Doing.NEXT) {
            if (core.inShared) {
                // A program counter outside shared memory faults at t, with no request.
                if (outsideOf(shared, core.pc)) {
                    fault(core, Fault.Kind.OFF_THE_END, t);
                } else {
                    core.doing = Doing.CODE_REQUEST;
                    core.requestedAt = t;
                }
            } else if (outsideOf(core.ram, core.pc)) {
                fault(core, Fault.Kind.OFF_THE_END, t);
            } else {
                start(core, core.ram[core.pc]);
            }
        } else if (core.doing == Doing.FETCHED) {
            start(core, core.fetched);
        } else if (core.doing == Doing.INSTRUCTION && core.access && t == core.workLast + 1) {
            // Raises its request at the beginning of cycle q = t + cost.plain.
            core.doing = Doing.DATA_REQUEST;
            core.requestedAt = t;
        }
    }

    private static boolean outsideOf(int[] memory, int address) {
        return Integer.compareUnsigned(address, memory.length) >= 0;
    }

    /** The instruction starts at t: everything but words of memory is sampled here. */
    private void start(Core core, int word) {
        if (!Words.isInstruction(word)) {
            fault(core, Fault.Kind.NOT_AN_INSTRUCTION, t);
            return;
        }
        core.doing = Doing.INSTRUCTION;
        core.access = false;
        core.awaits = false;
        core.late = null;
        core.nextPc = core.pc + 1;
        core.nextInShared = core.inShared;
        core.effect = () -> {};
        int[] r = core.r;
        int op = word >>> 26;
        int rd = word >>> 22 & 15;
        int a = r[word >>> 18 & 15];
        boolean constant = (word >>> 17 & 1) != 0;
        int b = constant ? Words.signed(word, 0, 17) : r[word & 15];
        switch (op) {
            case Words.SET -> put(core, plain, rd, Words.signed(word, 0, 22));
            case Words.UPPER -> put(core, plain, rd, (r[rd] & 0x3FFFFF) | (word & 0x3FF) << 22);
            case Words.ADD -> put(core, plain, rd, a + b);
            case Words.SUB -> put(core, plain, rd, a - b);
            case Words.AND -> put(core, plain, rd, a & b);
            case Words.OR -> put(core, plain, rd, a | b);
            case Words.XOR -> put(core, plain, rd, a ^ b);
            case Words.SHL -> put(core, plain, rd, a << (b & 31));
            case Words.SHR -> put(core, plain, rd, a >>> (b & 31));
            case Words.SAR -> put(core, plain, rd, a >> (b & 31));
            case Words.ROL -> {
                long twice = (a & 0xFFFFFFFFL) << 32 | (a & 0xFFFFFFFFL);
                put(core, plain, rd, (int) (twice << (b & 31) >>> 32));
            }
            case Words.MUL -> put(core, design.cost().multiply(), rd, (int) ((long) a * b));
            case Words.MULH -> put(core, design.cost().multiply(), rd, (int) (((long) a * b) >> 32));
            case Words.DIV, Words.REM -> {
                if (b == 0) {
                    faultAfterWork(core, Fault.Kind.DIVIDE_BY_ZERO);
                } else {
                    // In 64 bits nothing overflows; the low word of 2^31 is -2147483648.
                    long result = op == Words.DIV ? (long) a / b : (long) a % b;
                    put(core, design.cost().divide(), rd, (int) result);
                }
            }
            case Words.LOAD, Words.STORE -> {
                int m = constant ? a + b : word & 0x1FFFF;
                int s = r[rd];
                if (outsideOf(core.ram, m)) {
                    faultAfterWork(core, Fault.Kind.PRIVATE_ADDRESS);
                } else if (op == Words.LOAD) {
                    // Words of memory are read when the effect takes place.
                    takes(core, design.cost().privateAccess(), () -> r[rd] = core.ram[m]);
                } else {
                    takes(core, design.cost().privateAccess(), () -> core.ram[m] = s);
                }
            }
            case Words.FETCH, Words.POST, Words.SWAP, Words.BUMP -> {
                int m = constant ? a + b : word & 0x1FFFF;
                int s = r[rd];
                if (outsideOf(shared, m)) {
                    faultAfterWork(core, Fault.Kind.SHARED_ADDRESS);
                } else {
                    access(core, () -> {
                        int old = shared[m];
                        if (op != Words.FETCH) {
                            shared[m] = op == Words.BUMP ? old + s : s;
                        }
                        if (op != Words.POST) {
                            r[rd] = old;
                        }
                    });
                }
            }
            case Words.JUMP_IF -> {
                int right = constant ? Words.signed(word, 9, 8) : r[word >>> 9 & 15];
                boolean holds = Words.holds(rd, a, right);
                takes(core, holds ? design.cost().taken() : plain, () -> {});
                if (holds) {
                    core.nextPc = core.pc + Words.signed(word, 0, 9);
                }
            }
            case Words.JUMP, Words.CALL -> {
                boolean to = (word >>> 25 & 1) != 0;
                int back = core.pc + 1;
                core.nextPc = to ? core.pc + Words.signed(word, 0, 25) : r[word & 15];
                takes(core, design.cost().taken(), () -> {
                    if (op == Words.CALL) {
                        r[15] = back;
                    }
                });
            }
            case Words.AGAIN -> {
                int left = r[rd] - 1;
                put(core, left != 0 ? design.cost().taken() : plain, rd, left);
                if (left != 0) {
                    core.nextPc = core.pc + Words.signed(word, 0, 22);
                }
            }
            case Words.FAR, Words.NEAR -> {
                core.nextPc = (word >>> 25 & 1) != 0 ? word & 0x1FFFFFF : r[word & 15];
                core.nextInShared = op == Words.FAR;
                takes(core, design.cost().taken(), () -> {});
            }
            case Words.READ -> put(core, plain, rd, read(core, word & 15));
            case Words.WRITE -> {
                int port = word & 15;
                int value = r[rd];
                if ((port == 9 || port == 13) && !legalMode(value)) {
                    faultAfterWork(core, Fault.Kind.BAD_TALLY);
                } else {
                    takes(core, plain, () -> write(core, port, value));
                }
            }
            case Words.PAUSE -> {
                takes(core, Math.max(plain, b), () -> {});
                core.workLast = t + plain - 1;
            }
            case Words.UNTIL -> {
                // Let u be the cycle after the work cycles: the next starts at u + max(0, b - u).
                long u = t + plain;
                takes(core, plain + (long) Math.max(0, b - (int) u), () -> {});
                core.workLast = u - 1;
            }
            case Words.AWAIT -> {
                core.awaits = true;
                core.awaitMask = a;
                core.awaitValue = b;
                core.workLast = t + plain - 1;
                core.last = Long.MAX_VALUE;
            }
            case Words.START -> {
                int wanted = r[rd];
                int image = a;
                int handed = r[word & 15];
                if (wanted < -1 || wanted >= cores.length) {
                    faultAfterWork(core, Fault.Kind.NO_SUCH_CORE);
                } else {
                    access(core, () -> {});
                    core.late = () -> r[rd] = startCore(wanted, image, handed);
                }
            }
            case Words.STOP -> {
                int wanted = r[rd];
                if (wanted < 0 || wanted >= cores.length) {
                    faultAfterWork(core, Fault.Kind.NO_SUCH_CORE);
                } else {
                    access(core, () -> {});
                    core.late = () -> stopCore(cores[wanted]);
                    if (wanted == core.number) {
                        // One that stopped itself shows its stop.
                        core.nextPc = core.pc;
                    }
                }
            }
            case Words.HALT -> {
                takes(core, plain, () -> becomeIdle(core));
                core.nextPc = core.pc;
            }
            default -> throw new AssertionError(op);
        }
    }

    private void takes(Core core, long cycles, Runnable effect) {
        core.last = t + cycles - 1;
        core.workLast = core.last;
        core.effect = effect;
    }

    private void put(Core core, int cycles, int rd, int value) {
        takes(core, cycles, () -> core.r[rd] = value);
    }

    private void access(Core core, Runnable effect) {
        core.access = true;
        core.workLast = t + plain - 1;
        core.last = Long.MAX_VALUE;
        core.effect = effect;
    }

    /** Works for cost.plain cycles, has no effect, and the core is in fault from the next cycle. */
    private void faultAfterWork(Core core, Fault.Kind kind) {
        takes(core, plain, () -> fault(core, kind, t + 1));
        core.nextPc = core.pc;
    }

    private void fault(Core core, Fault.Kind kind, long cycle) {
        core.doing = Doing.FAULT;
        boolean image = kind == Fault.Kind.BAD_IMAGE;
        int address = image ? 0 : core.pc;
        int[] lines = core.inShared ? sharedLines : core.lines;
        int line = image || outsideOf(lines, address) ? 0 : lines[address];
        core.fault = new RunReport.FaultReport(kind, cycle, address, core.inShared, line, "");
    }

    private boolean legalMode(int word) {
        int mode = word & 0xFF;
        int pin = word >>> 8 & 31;
        return word >>> 13 == 0 && mode <= 6 && (mode <= 1 ? pin == 0 : pin < design.pins());
    }

    private int read(Core core, int port) {
        Tally tally = core.tallies[port >>> 2 & 1];
        return switch (port) {
            case 0 -> pins;
            case 1 -> core.out;
            case 2 -> core.drive;
            case 3 -> (int) t;
            case 4 -> core.number;
            case 8, 12 -> tally.value;
            case 9, 13 -> tally.mode;
            case 10, 14 -> tally.span;
            case 11, 15 -> tally.level;
            default -> throw new AssertionError(port);
        };
    }

    private void write(Core core, int port, int value) {
        Tally tally = core.tallies[port >>> 2 & 1];
        switch (port) {
            // Bits at and above `pins` are dropped on writing.
            case 1 -> core.out = value & pinMask;
            case 2 -> core.drive = value & pinMask;
            case 8, 12 -> tally.value = value;
            case 9, 13 -> tally.mode = value;
            case 10, 14 -> tally.span = value;
            case 11, 15 -> tally.level = value;
            default -> throw new AssertionError(port);
        }
    }

    // ---- the end of a run ----

    private @Nullable End end() {
        if (Arrays.stream(cores).allMatch(core -> core.doing == Doing.IDLE || core.doing == Doing.FAULT)) {
            return End.ALL_IDLE;
        }
        if (stuck()) {
            return End.STUCK;
        }
        return t == limit ? End.LIMIT : null;
    }

    private boolean stuck() {
        for (Core core : cores) {
            boolean ended = core.doing == Doing.IDLE || core.doing == Doing.FAULT;
            // An await whose condition is true at t has gone on by now.
            boolean asleep = core.doing == Doing.AWAIT;
            boolean never = isRequesting(core)
                    && design.admission() instanceof Admission.Rotation rotation
                    && !rotation.order().contains(core.number);
            if (!ended && !asleep && !never) {
                return false;
            }
            for (Tally tally : core.tallies) {
                if (tally.kind() == 6) {
                    return false;
                }
            }
            if (core.doing == Doing.FAULT && core.drive != 0) {
                return false;
            }
        }
        for (Input input : scenario.inputs()) {
            if (changesAfter(input, t)) {
                return false;
            }
        }
        // "At least one is in such a wait" holds: else it were all-idle.
        return true;
    }

    // ---- admission ----

    private static boolean isRequesting(Core core) {
        return core.doing == Doing.DATA_REQUEST || core.doing == Doing.CODE_REQUEST || core.doing == Doing.LOAD_REQUEST;
    }

    private static boolean holdsMemory(Core core) {
        return core.doing == Doing.DATA_SLOT || core.doing == Doing.CODE_SLOT || core.doing == Doing.LOAD_SLOT;
    }

    private void admit(boolean counted) {
        if (design.admission() instanceof Admission.OwnPort) {
            for (Core core : cores) {
                if (isRequesting(core)) {
                    admit(core, counted);
                }
            }
            return;
        }
        if (design.admission() instanceof Admission.Rotation rotation) {
            // The slot that starts at cycle k*S belongs to core order[k mod length(order)].
            if (t % design.slotCycles() == 0) {
                long k = t / design.slotCycles();
                Core owner =
                        cores[rotation.order().get((int) (k % rotation.order().size()))];
                if (counted) {
                    owner.offered++;
                }
                if (isRequesting(owner)) {
                    if (counted) {
                        owner.used++;
                    }
                    admit(owner, counted);
                }
            }
            return;
        }
        // Free at the beginning of t if no access admitted earlier holds cycle t.
        if (Arrays.stream(cores).anyMatch(ReferenceModel::holdsMemory)) {
            return;
        }
        List<Core> requesting =
                Arrays.stream(cores).filter(ReferenceModel::isRequesting).toList();
        if (!requesting.isEmpty()) {
            Core chosen = choose(requesting);
            admittedLast = chosen.number;
            admit(chosen, counted);
        }
    }

    private Core choose(List<Core> requesting) {
        if (design.admission() instanceof Admission.NextWaiting) {
            // The first requesting core after the one admitted last, ascending, wrapping round.
            for (int i = 1; i <= cores.length; i++) {
                Core core = cores[(admittedLast + i) % cores.length];
                if (requesting.contains(core)) {
                    return core;
                }
            }
        } else if (design.admission() instanceof Admission.Priority priority) {
            for (int number : priority.order()) {
                if (requesting.contains(cores[number])) {
                    return cores[number];
                }
            }
        } else if (design.admission() instanceof Admission.FirstCome) {
            Core oldest = requesting.get(0);
            for (Core core : requesting) {
                if (core.requestedAt < oldest.requestedAt) {
                    oldest = core;
                }
            }
            return oldest;
        } else if (design.admission() instanceof Admission.Lottery settings) {
            lottery ^= lottery << 13;
            lottery ^= lottery >>> 17;
            lottery ^= lottery << 5;
            long sum = 0;
            for (Core core : requesting) {
                sum += settings.weights().get(core.number);
            }
            long left = (lottery & 0xFFFFFFFFL) % sum;
            for (Core core : requesting) {
                int weight = settings.weights().get(core.number);
                if (left < weight) {
                    return core;
                }
                left -= weight;
            }
        }
        throw new AssertionError(design.admission());
    }

    private void admit(Core core, boolean counted) {
        long wait = t - core.requestedAt;
        core.last = t + design.slotCycles() - 1;
        if (core.doing == Doing.CODE_REQUEST) {
            core.doing = Doing.CODE_SLOT;
        } else if (core.doing == Doing.LOAD_REQUEST) {
            core.doing = Doing.LOAD_SLOT;
        } else {
            core.doing = Doing.DATA_SLOT;
            if (counted) {
                core.waits.add(wait);
                // The line is that of the word at the time: the core may be loaded with another image later.
                int line = (core.inShared ? sharedLines : core.lines)[core.pc];
                spots.computeIfAbsent(new Place(core.number, core.inShared, core.pc), place -> new Spot(line))
                        .waits
                        .add(wait);
            }
        }
    }

    // ---- counting ----

    private State state(Core core) {
        return switch (core.doing) {
            case IDLE -> State.IDLE;
            case FAULT -> State.FAULT;
            case INSTRUCTION -> t <= core.workLast ? State.WORK : State.SLEEP;
            case AWAIT -> State.SLEEP;
            case DATA_REQUEST -> State.WAIT;
            case DATA_SLOT -> State.SLOT;
            case CODE_REQUEST -> State.CODE_WAIT;
            case CODE_SLOT -> State.CODE_SLOT;
            case LOAD_REQUEST -> State.LOAD_WAIT;
            case LOAD_SLOT -> State.LOAD_SLOT;
            case NEXT, FETCHED -> throw new AssertionError("begun at the beginning of the cycle");
        };
    }

    private void count() {
        boolean busy = false;
        for (Core core : cores) {
            core.states.merge(state(core), 1L, Long::sum);
            busy |= holdsMemory(core);
        }
        busyCycles += busy ? 1 : 0;
        countClashes();
    }

    // ---- the end of a cycle ----

    private void step() {
        // The tallies step first, with the modes as of the beginning of t; a write or a reset that ends in t then
        // decides the value at t+1.
        for (Core core : cores) {
            for (Tally tally : core.tallies) {
                tally.value = stepped(tally);
            }
        }
        // 1. Effects of instructions and accesses that finish in this cycle, in ascending core number.
        for (Core core : cores) {
            core.madeIdle = false;
            core.lateDue = false;
            if (core.last == t) {
                switch (core.doing) {
                    case INSTRUCTION -> finish(core);
                    case DATA_SLOT -> {
                        if (core.late == null) {
                            finish(core);
                        } else {
                            core.lateDue = true;
                        }
                    }
                    case CODE_SLOT -> {
                        core.fetched = shared[core.pc];
                        core.doing = Doing.FETCHED;
                    }
                    case LOAD_SLOT -> loaded(core);
                    default -> {}
                }
            }
        }
        // 2. Stop and start, in ascending number of the core that issued them; one whose issuer was made idle earlier
        // in this step is given up without effect.
        for (Core core : cores) {
            if (core.lateDue && !core.madeIdle) {
                Runnable late = core.late;
                finish(core);
                late.run();
            }
        }
        // A core that faults lets go of its pins, and its tallies become 0, at the end of the last cycle before that
        // state; or at the end of its first cycle in fault, when it was found out only then.
        for (Core core : cores) {
            if (core.doing == Doing.FAULT) {
                letGo(core);
            }
        }
    }

    private int stepped(Tally tally) {
        int v = tally.value;
        boolean high = (pins >>> tally.pin() & 1) != 0;
        boolean wasHigh = (pinsBefore >>> tally.pin() & 1) != 0;
        boolean counts = switch (tally.kind()) {
            case 1 -> true;
            case 2 -> high && !wasHigh;
            case 3 -> !high && wasHigh;
            case 4 -> high;
            case 5 -> !high;
            default -> false;
        };
        if (tally.kind() == 6) {
            return (v & 0xFFFFFFFFL) + 1 >= (tally.span & 0xFFFFFFFFL) ? 0 : v + 1;
        }
        return counts ? v + 1 : v;
    }

    /** The instruction has finished, unless its effect is a fault. */
    private void finish(Core core) {
        core.doing = Doing.NEXT;
        core.effect.run();
        if (core.doing != Doing.FAULT) {
            core.instructions++;
            core.pc = core.nextPc;
            core.inShared = core.nextInShared;
        }
    }

    /** What rd becomes. */
    private int startCore(int wanted, int image, int handed) {
        for (Core core : cores) {
            if ((wanted == -1 || wanted == core.number) && core.doing == Doing.IDLE) {
                Arrays.fill(core.r, 0);
                Arrays.fill(core.ram, 0);
                Arrays.fill(core.lines, 0);
                core.r[1] = handed;
                // While it loads, its program counter is private 0.
                core.pc = 0;
                core.inShared = false;
                core.imageAddress = image;
                core.imageLeft = -1;
                core.doing = Doing.LOAD_REQUEST;
                core.requestedAt = t + 1;
                return core.number;
            }
        }
        return -1;
    }

    private static void stopCore(Core core) {
        if (core.doing != Doing.IDLE) {
            becomeIdle(core);
            core.fault = null;
            core.madeIdle = true;
        }
    }

    /** Idle, even if a start takes the core away again in the same step: it has let go of its pins. */
    private static void becomeIdle(Core core) {
        core.doing = Doing.IDLE;
        letGo(core);
    }

    private static void letGo(Core core) {
        core.out = 0;
        core.drive = 0;
        Arrays.setAll(core.tallies, i -> new Tally());
    }

    /** One word of an image has come. */
    private void loaded(Core core) {
        core.doing = Doing.LOAD_REQUEST;
        core.requestedAt = t + 1;
        if (core.imageLeft < 0) {
            // The first word is the count n, unsigned. An address outside shared memory is an image that does not fit.
            boolean there = !outsideOf(shared, core.imageAddress);
            long n = there ? shared[core.imageAddress] & 0xFFFFFFFFL : 0;
            if (n == 0 || n > core.ram.length || core.imageAddress + n >= shared.length) {
                fault(core, Fault.Kind.BAD_IMAGE, t + 1);
            }
            core.imageLeft = n;
            core.imageNext = 0;
            return;
        }
        int source = core.imageAddress + 1 + core.imageNext;
        core.ram[core.imageNext] = shared[source];
        core.lines[core.imageNext] = sharedLines[source];
        core.imageNext++;
        core.imageLeft--;
        if (core.imageLeft == 0) {
            // The core starts at private address 0 in the following cycle.
            core.doing = Doing.NEXT;
        }
    }

    // ---- the report ----

    private static RunReport.Waits waits(Waiting waits) {
        return new RunReport.Waits(waits.total, waits.min, waits.max, waits.histogram);
    }

    private static SortedMap<Integer, Integer> notZero(int[] words) {
        SortedMap<Integer, Integer> found = new TreeMap<>();
        for (int i = 0; i < words.length; i++) {
            if (words[i] != 0) {
                found.put(i, words[i]);
            }
        }
        return found;
    }

    private RunReport report(End end) {
        boolean turns = design.admission() instanceof Admission.Rotation;
        List<RunReport.CoreReport> reports = new ArrayList<>();
        for (Core core : cores) {
            reports.add(new RunReport.CoreReport(
                    core.number,
                    state(core),
                    core.pc,
                    core.inShared,
                    Arrays.stream(core.r).boxed().toList(),
                    core.instructions,
                    core.states,
                    core.waits.count,
                    waits(core.waits),
                    turns ? core.offered : -1,
                    turns ? core.used : -1,
                    core.clashes,
                    core.fault,
                    notZero(core.ram)));
        }
        List<RunReport.HotSpot> hotSpots = new ArrayList<>();
        spots.forEach((place, spot) -> hotSpots.add(new RunReport.HotSpot(
                place.core(),
                place.inShared(),
                place.address(),
                spot.line,
                spot.waits.count,
                spot.waits.total,
                spot.waits.min,
                spot.waits.max)));
        return new RunReport(
                program.name(), design, t, end, reports, hotSpots, busyCycles, clashCycles, notZero(shared));
    }
}
