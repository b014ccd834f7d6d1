package octurn.machine;

import octurn.arbiter.Rotation;
import octurn.design.Admission;
import octurn.isa.Word;
import org.jspecify.annotations.Nullable;

/**
 * One core's data accesses that the fast engine does in one step: whether an access can be one of them, when its turn
 * comes, and how long such accesses waited. Under rotation and own-port all of that is known when the access is asked for;
 * under the policies that choose, only the cycle of the request is.
 */
final class Accesses {

    /** What {@link #ask} answers when the access must be left to the clear engine. */
    static final long LEFT = 0;

    /** Longer waits than this are counted one by one rather than in a table for each instruction. */
    private static final int WAITS = 1024;

    private final Chip chip;
    private final Core core;
    private final int plain;
    private final int slotCycles;
    private final Rotation.@Nullable Cursor turns;
    private final boolean ownPort;
    /** Where these accesses go, for the code of {@link Translator}. */
    final int[] shared;

    /** By private address and wait: accesses not yet added to the core's own counts. */
    private final long[] @Nullable [] counts;

    private final int mostCounted;

    /** The first cycle at which an admission would be too late. */
    private long tooLate;

    Accesses(Chip chip, Core core, @Nullable Rotation rotation) {
        this.chip = chip;
        this.core = core;
        this.plain = chip.design.cost().plain();
        this.slotCycles = chip.design.slotCycles();
        this.turns = rotation == null ? null : rotation.cursor(core.number);
        this.ownPort = chip.design.admission() instanceof Admission.OwnPort;
        this.shared = chip.shared;
        this.counts = new long[core.ram.length][];
        this.mostCounted = rotation == null ? WAITS : Math.min(WAITS, chip.design.rotationCycles());
    }

    /** From now on, no access ends at this cycle or later. */
    void setHorizon(long cycle) {
        tooLate = cycle - slotCycles;
    }

    /**
     * Asks for the access of the instruction at this private address, which starts at this cycle.
     *
     * @param address the shared word that it is for, which the core has noted
     * @return {@link #LEFT}; or minus the cycle at which its slot ends; under the policies that choose, minus the cycle at
     *     which its request is raised
     */
    long ask(int pc, int address, long time) {
        long request = time + plain;
        if (address < 0 || address >= shared.length) {
            return LEFT;
        }
        long known = request;
        if (turns != null) {
            long turn = turns.next(request);
            if (turn >= tooLate) {
                return LEFT;
            }
            count(pc, turn - request);
            known = turn + slotCycles;
        } else if (request >= tooLate) {
            return LEFT;
        } else if (ownPort) {
            count(pc, 0);
            known = request + slotCycles;
        } else {
            chip.requestCycles[core.number] = request;
        }
        return -known;
    }

    /** Counts an access; what follows from it is added up later by {@link #addUp}. */
    void count(int pc, long wait) {
        count(pc, wait, 1);
    }

    /** Counts accesses of one instruction that waited equally long. */
    void count(int pc, long wait, long times) {
        long[] byWait = counts[pc];
        if (byWait != null && wait < byWait.length) {
            byWait[(int) wait] += times;
        } else if (wait < mostCounted) {
            counts[pc] = new long[mostCounted];
            counts[pc][(int) wait] += times;
        } else {
            add(pc, wait, times);
        }
    }

    /** Adds the accesses counted so far to the core's own figures. */
    void addUp() {
        for (int pc = 0; pc < counts.length; pc++) {
            long[] byWait = counts[pc];
            for (int wait = 0; byWait != null && wait < byWait.length; wait++) {
                if (byWait[wait] != 0) {
                    add(pc, wait, byWait[wait]);
                    byWait[wait] = 0;
                }
            }
        }
    }

    private void add(int pc, long wait, long times) {
        core.countAccesses(pc, wait, times);
        core.spend(State.WAIT, wait * times);
        core.spend(State.SLOT, slotCycles * times);
        if (!ownPort) {
            chip.addBusy(slotCycles * times);
        }
    }

    /** The access that the core has asked for takes effect at the end of the cycle before this one. */
    void end(ClearEngine clear, long time) {
        settle();
        clear.access(core, Word.op(core.word), time);
        core.instructions++;
        core.pc++;
    }

    /** Tells the core of the access that it has asked for, as the clear engine would find it. */
    void settle() {
        core.word = core.ram[core.pc];
        core.nextPc = core.pc + 1;
        core.nextInShared = false;
    }

    /** The address that an instruction of the form {@code op rd, [m]} is for, if it starts with these registers. */
    static int address(int[] registers, int word) {
        return Word.hasConstant(word) ? registers[Word.ra(word)] + Word.constant(word) : Word.absolute(word);
    }
}
