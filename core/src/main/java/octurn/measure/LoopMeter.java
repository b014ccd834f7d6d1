package octurn.measure;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import octurn.asm.Block;
import octurn.asm.Program;
import octurn.isa.Instruction;
import octurn.isa.Op;
import octurn.isa.Word;
import octurn.trace.Kind;
import octurn.trace.Sink;
import org.jspecify.annotations.Nullable;

/**
 * Measures the passes of every loop of a program, core by core. A loop is what a {@code jump}, {@code jump .. if} or
 * {@code again} of the program text closes that goes back to a label: from that label to the last such jump. The core
 * stays in it until it starts an instruction outside of it that was not called from inside.
 */
public final class LoopMeter implements Sink {

    private final CodeInRam code;
    private final CoreWatch[] cores;
    /** By block, made when a core first runs it. */
    private final Map<Block, Map<Integer, Integer>> loopsOfBlocks = new HashMap<>();

    private final Map<Integer, Integer> sharedLoops;

    public LoopMeter(Program program) {
        this.code = new CodeInRam(program);
        this.cores = new CoreWatch[program.design().cores()];
        for (int i = 0; i < cores.length; i++) {
            cores[i] = new CoreWatch();
            cores[i].privateLoops = loops(program.core(i));
        }
        sharedLoops = new TreeMap<>();
        for (Block block : program.blocks()) {
            if (block.kind() == Block.Kind.SHARED) {
                addLoops(block, sharedLoops);
            }
        }
    }

    private Map<Integer, Integer> loops(@Nullable Block block) {
        return block == null ? Map.of() : loopsOfBlocks.computeIfAbsent(block, key -> addLoops(key, new TreeMap<>()));
    }

    /** Adds the loops of a block: by the address of the first instruction that of the last jump back to it. */
    private static Map<Integer, Integer> addLoops(Block block, Map<Integer, Integer> loops) {
        int first = block.kind() == Block.Kind.SHARED ? block.address() : 0;
        int countWords = block.kind() == Block.Kind.IMAGE ? 1 : 0;
        for (int i = countWords; i < block.words().length; i++) {
            int address = first + i - countWords;
            Instruction jump = block.code()[i] ? Instruction.decode(block.words()[i]) : null;
            int target = jump == null ? Integer.MAX_VALUE : target(jump, address);
            if (target <= address) {
                loops.merge(target, address, Math::max);
            }
        }
        return loops;
    }

    /** Where a jump within a memory goes; beyond all addresses if it is none that makes a loop. */
    private static int target(Instruction jump, int address) {
        return switch (jump.op()) {
            case JUMP_IF -> address + jump.offset();
            case AGAIN -> address + jump.value();
            case JUMP -> jump.constant() ? address + jump.value() : Integer.MAX_VALUE;
            default -> Integer.MAX_VALUE;
        };
    }

    /** What is known of one core on the way. */
    private static final class CoreWatch {
        private Map<Integer, Integer> privateLoops = Map.of();
        /** By the place of the first instruction, all that were ever entered. */
        private final Map<Long, LoopWatch> loops = new HashMap<>();
        /** Those that the core is in. */
        private final List<LoopWatch> open = new ArrayList<>();
        /** The instruction before. */
        private long place;
        /** Calls not yet returned from. */
        private int depth;
        /** When the code of the instruction to come was asked for, if it lies in shared memory. */
        private long asked;
        /** Cycles waited up to then. */
        private long waitedWhenAsked;
        /** Cycles waited so far. */
        private long waited;
    }

    /** What is known of one loop of one core. */
    private static final class LoopWatch {
        private final long head;
        private final long tail;
        private final int headLine;
        private final int tailLine;
        private int depth;
        private long entries;
        private long trips;
        private long since;
        private long waitedBefore;
        private Spread cycles = Spread.NONE;
        private Spread waits = Spread.NONE;
        private final PassLengths lengths = new PassLengths();

        private LoopWatch(long head, long tail, int headLine, int tailLine) {
            this.head = head;
            this.tail = tail;
            this.headLine = headLine;
            this.tailLine = tailLine;
        }

        private boolean holds(long place) {
            return place >= head && place <= tail;
        }
    }

    @Override
    public void event(Kind kind, long cycle, int core, long a, long b) {
        code.event(kind, cycle, core, a, b);
        switch (kind) {
            case REQUEST -> {
                cores[core].asked = cycle;
                cores[core].waitedWhenAsked = cores[core].waited;
            }
            case ADMIT -> cores[core].waited += a;
            case BEGIN -> begin(cores[core], core, Kind.inShared(a) ? cores[core].asked : cycle, a);
            case FINISH -> finish(cores[core], (int) b);
            case LOADING, IDLE, FAULT -> cores[core].open.clear();
            case START -> {
                cores[core].privateLoops = loops(code.block(core));
                cores[core].depth = 0;
            }
            default -> {
                // Nothing about loops.
            }
        }
    }

    private static void finish(CoreWatch watch, int word) {
        int op = Word.op(word);
        if (op == Op.CALL.code()) {
            watch.depth++;
        } else if (op == Op.JUMP.code() && !Word.jumpHasTarget(word) && Word.low(word) == 15) {
            watch.depth--;
        }
    }

    private void begin(CoreWatch watch, int core, long cycle, long place) {
        long before = watch.place;
        watch.place = place;
        List<LoopWatch> open = watch.open;
        boolean inside = false;
        for (int i = open.size() - 1; i >= 0; i--) {
            LoopWatch loop = open.get(i);
            if (watch.depth < loop.depth || (watch.depth == loop.depth && !loop.holds(place))) {
                open.remove(i);
            } else if (loop.head == place && watch.depth == loop.depth) {
                inside = true;
                pass(loop, cycle, waited(watch, place), loop.holds(before));
            }
        }
        if (!inside) {
            enter(watch, core, cycle, place);
        }
    }

    /** The core comes to code in shared memory when it asks for it, not when it has it. */
    private static long waited(CoreWatch watch, long place) {
        return Kind.inShared(place) ? watch.waitedWhenAsked : watch.waited;
    }

    private static void pass(LoopWatch loop, long cycle, long waited, boolean byJumpBack) {
        if (byJumpBack) {
            loop.cycles = loop.cycles.with(cycle - loop.since);
            loop.waits = loop.waits.with(waited - loop.waitedBefore);
            loop.lengths.add(loop.since, cycle - loop.since);
        }
        loop.trips++;
        loop.since = cycle;
        loop.waitedBefore = waited;
    }

    private void enter(CoreWatch watch, int core, long cycle, long place) {
        boolean inShared = Kind.inShared(place);
        Integer tail = (inShared ? sharedLoops : watch.privateLoops).get(Kind.address(place));
        if (tail == null) {
            return;
        }
        LoopWatch loop = watch.loops.get(place);
        if (loop == null) {
            long tailPlace = Kind.place(tail, inShared);
            loop = new LoopWatch(place, tailPlace, code.line(core, place), code.line(core, tailPlace));
            watch.loops.put(place, loop);
        }
        // A core that calls the code that it is in comes to a loop that it has not left.
        if (!watch.open.contains(loop)) {
            loop.entries++;
            loop.depth = watch.depth;
            pass(loop, cycle, waited(watch, place), false);
            watch.open.add(loop);
        }
    }

    /** What was measured so far, by core, private before shared, then by address; loops with no pass are left out. */
    public List<LoopPasses> loops() {
        List<LoopPasses> list = new ArrayList<>();
        for (int core = 0; core < cores.length; core++) {
            for (LoopWatch loop : new TreeMap<>(cores[core].loops).values()) {
                if (loop.cycles.count() > 0) {
                    list.add(passes(core, loop));
                }
            }
        }
        return list;
    }

    private static LoopPasses passes(int core, LoopWatch loop) {
        return new LoopPasses(
                core,
                Kind.inShared(loop.head),
                Kind.address(loop.head),
                Kind.address(loop.tail),
                loop.headLine,
                loop.tailLine,
                loop.entries,
                loop.trips,
                loop.cycles,
                loop.waits,
                loop.lengths.steady());
    }
}
