package octurn.machine;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.SortedMap;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.TreeSet;
import octurn.design.Cost;
import octurn.isa.Codes;
import octurn.isa.Form;
import octurn.isa.Op;
import octurn.isa.Word;
import org.jspecify.annotations.Nullable;
import org.objectweb.asm.ClassWriter;
import org.objectweb.asm.Label;
import org.objectweb.asm.MethodVisitor;
import org.objectweb.asm.Opcodes;

/**
 * Turns private code that runs often into Java bytecode: one class for the instructions that can be reached from one
 * place, in which registers are local variables and time is added up block by block.
 *
 * <p>What an instruction computes is the {@link Emitter}'s. An access is two halves: the
 * core asks for it by {@link Accesses#ask} and the code returns; when its slot is over the code is entered again just
 * there, does what the access does, and goes on. What is more than that (ports, faults, starts, stores into translated
 * code) is left: the code returns with the core about to start that instruction.
 *
 * <p>From one access to the next it is often only a few instructions. So each way in reads only the registers that can be
 * used on the ways from there ({@link Block#needed}), and each way out writes only those that can have been changed on
 * the ways to it ({@link Block#changed}). The ways end at accesses, so these are few where accesses are frequent, and in
 * a loop without any they cost nothing.
 */
final class Translator implements Opcodes {

    /** The most instructions in one translation. */
    private static final int MOST = 200;

    private static final String OWN = Emitter.OWN;
    private static final String RUN_SIGNATURE = "(L" + OWN + "PrivateWork;IJJ)J";

    // Local variables: what comes in, then these.
    private static final int WORK = 1;
    private static final int FROM = 2;
    private static final int TIME = 3;
    private static final int HORIZON = 5;
    private static final int CORE = 7;
    private static final int RAM = 8;
    private static final int REGISTERS = 9;
    private static final int DONE = 10;
    private static final int PC = 12;
    private static final int RESULT = 13;
    private static final int SCHEDULE = 15;
    private static final int R0 = 16;

    /** Instructions of which the first alone can be jumped to; or the second half of an access. Registers are bit sets. */
    private static final class Block {
        /** What they use, and of these what they change. */
        int used;

        int writes;
        /** What can be used from here on before the code is left, or must be written back then. */
        int needed;
        /** What can have been changed when the code comes here. */
        int changed;

        final List<Block> next = new ArrayList<>();
        final Label label = new Label();

        /** Spreads the sets over the ways; whether that changed any. */
        boolean spread() {
            int before = needed;
            boolean more = false;
            needed |= used | changed;
            for (Block follower : next) {
                needed |= follower.needed;
                int all = follower.changed | changed | writes;
                more |= all != follower.changed;
                follower.changed = all;
            }
            return more || needed != before;
        }
    }

    private final int[] ram;
    private final Cost cost;
    private final int most;
    private final SortedSet<Integer> addresses = new TreeSet<>();
    /** Addresses at which the code can be entered, or at which a block begins. */
    private final SortedSet<Integer> heads = new TreeSet<>();

    private final SortedSet<Integer> entries = new TreeSet<>();
    private final SortedSet<Integer> accesses = new TreeSet<>();
    /** By head; by the complement of an access's address what begins with its end. */
    private final SortedMap<Integer, Block> blocks = new TreeMap<>();

    private final ClassWriter writer = Emitter.beginClass("Translated", "Translation$Code");
    private final MethodVisitor m;
    private final Emitter emit;

    /** Where the core leaves the code, by the registers to be written back; and where it does after asking for an access. */
    private final Map<Integer, Label> exits = new TreeMap<>();

    private final Map<Integer, Label> exitsAsking = new TreeMap<>();

    /** Begins with the core at hand. */
    private final Label begin = new Label();

    private final Label leave = new Label();
    private final Label leaveAsking = new Label();

    /** Goes on at {@link #PC}, which a register gave. */
    private final Label dispatch = new Label();

    private Translator(int[] ram, Cost cost, int most) {
        this.ram = ram;
        this.cost = cost;
        this.most = most;
        this.m = writer.visitMethod(ACC_PUBLIC, "run", RUN_SIGNATURE, null, null);
        this.emit = new Emitter(m, register -> R0 + register);
    }

    /** The translation of what can be reached from this address, or null if there is nothing to win. */
    static @Nullable Translation translate(int[] ram, int address, Cost cost) {
        for (int most = MOST; most > 1; most /= 2) {
            Translator translator = new Translator(ram, cost, most);
            translator.explore(address);
            if (translator.addresses.size() < 2) {
                return null;
            }
            if (translator.writeRun() <= Emitter.MOST_BYTES) {
                return translator.load();
            }
        }
        return null;
    }

    // ---- what belongs to it ----

    private void explore(int start) {
        Deque<Integer> open = new ArrayDeque<>();
        if (isAccess(Word.op(ram[start]))) {
            open.add(start);
            heads.add(start);
        } else {
            enter(start, open);
        }
        while (!open.isEmpty() && addresses.size() < most) {
            int address = open.remove();
            if (address < 0 || address >= ram.length || addresses.contains(address)) {
                continue;
            }
            int word = ram[address];
            int op = Word.op(word);
            if (!isTranslated(word)) {
                // The core comes back to the next instruction.
                if (Word.isInstruction(word) && op != Codes.HALT && op != Codes.FAR) {
                    enter(address + 1, open);
                }
                continue;
            }
            addresses.add(address);
            if (isAccess(op)) {
                accesses.add(address);
                heads.add(address + 1);
                open.addFirst(address + 1);
            } else if (op == Codes.CALL) {
                enter(address + 1, open);
            }
            for (int target : targets(address)) {
                if (endsBlock(word)) {
                    heads.add(target);
                }
                if (target <= address) {
                    // A loop is entered at its head, and nowhere else if that can be: the others compile to less.
                    entries.add(target);
                }
                open.add(target);
            }
        }
        heads.retainAll(addresses);
        entries.retainAll(addresses);
        heads.addAll(entries);
    }

    private void enter(int address, Deque<Integer> open) {
        heads.add(address);
        entries.add(address);
        open.addFirst(address);
    }

    /** Where the core can be after this instruction, unless a register says it or it is an access. */
    private List<Integer> targets(int address) {
        int word = ram[address];
        return switch (Word.op(word)) {
            case Codes.JUMP, Codes.CALL ->
                Word.jumpHasTarget(word) ? List.of(address + Word.distance(word)) : List.of();
            case Codes.NEAR -> Word.jumpHasTarget(word) ? List.of(Word.crossAddress(word)) : List.of();
            case Codes.JUMP_IF -> List.of(address + Word.branchOffset(word), address + 1);
            case Codes.AGAIN -> List.of(address + Word.wide(word), address + 1);
            case Codes.FETCH, Codes.POST, Codes.SWAP, Codes.BUMP -> List.of();
            default -> List.of(address + 1);
        };
    }

    /** Whether it is a data access of the kind that the fast engine does in one step. */
    static boolean isAccess(int op) {
        return op >= Codes.FETCH && op <= Codes.BUMP;
    }

    /** Whether it is an instruction that can be part of a translation, or of a {@link ChipLoop}. */
    static boolean isTranslated(int word) {
        Op op = Op.of(Word.op(word));
        if (op == null || !Word.isInstruction(word)) {
            return false;
        }
        return switch (op) {
            case SET, UPPER, LOAD, STORE, FETCH, POST, SWAP, BUMP -> true;
            case JUMP_IF, AGAIN, JUMP, CALL, NEAR, PAUSE, UNTIL -> true;
            case READ -> Word.low(word) == Codes.TIME || Word.low(word) == Codes.CORE;
            default -> op.form() == Form.THREE;
        };
    }

    /** Whether a block ends with this instruction: it leads elsewhere, or time passes that is not known beforehand. */
    private static boolean endsBlock(int word) {
        return switch (Word.op(word)) {
            case Codes.JUMP, Codes.CALL, Codes.NEAR, Codes.JUMP_IF, Codes.AGAIN -> true;
            case Codes.FETCH, Codes.POST, Codes.SWAP, Codes.BUMP, Codes.PAUSE, Codes.UNTIL -> true;
            default -> false;
        };
    }

    /** The first address after the block that begins here. */
    private int endOfBlock(int head) {
        int end = head;
        do {
            end++;
        } while (!endsBlock(ram[end - 1]) && addresses.contains(end) && !heads.contains(end));
        return end;
    }

    // ---- which registers it takes ----

    private void findBlocks() {
        for (int head : heads) {
            blocks.put(head, new Block());
        }
        for (int access : accesses) {
            Block block = new Block();
            block.used = RegisterUse.used(ram[access]);
            block.writes = RegisterUse.written(ram[access]);
            follow(block, access + 1);
            blocks.put(~access, block);
        }
        for (int head : heads) {
            Block block = block(head);
            int end = endOfBlock(head);
            for (int address = head; address < end; address++) {
                boolean asks = isAccess(Word.op(ram[address]));
                block.used |= asks ? RegisterUse.ofAddress(ram[address]) : RegisterUse.used(ram[address]);
                block.writes |= asks ? 0 : RegisterUse.written(ram[address]);
            }
            targets(end - 1).forEach(target -> follow(block, target));
        }
        boolean more = true;
        while (more) {
            more = false;
            for (Block block : blocks.values()) {
                more |= block.spread();
            }
        }
    }

    private void follow(Block block, int address) {
        Block next = blocks.get(address);
        if (next != null && address >= 0) {
            block.next.add(next);
        }
    }

    private Block block(int key) {
        return Objects.requireNonNull(blocks.get(key));
    }

    // ---- the class ----

    private Translation load() {
        Translation.Code code = Emitter.load(writer, Translation.Code.class);
        return new Translation(code, new CodeWords(ram, addresses), entries, accesses);
    }

    /** Writes all of the class; returns how many bytes its method has. */
    private int writeRun() {
        findBlocks();
        m.visitVarInsn(ILOAD, FROM);
        m.visitVarInsn(ISTORE, PC);
        emit.pushField(WORK, "PrivateWork", "schedule", "L" + OWN + "Schedule;");
        m.visitVarInsn(ASTORE, SCHEDULE);
        m.visitLabel(begin);
        emit.pushField(WORK, "PrivateWork", "core", "L" + OWN + "Core;");
        m.visitVarInsn(ASTORE, CORE);
        emit.pushField(CORE, "Core", "ram", "[I");
        m.visitVarInsn(ASTORE, RAM);
        emit.pushField(CORE, "Core", "registers", "[I");
        m.visitVarInsn(ASTORE, REGISTERS);
        m.visitInsn(LCONST_0);
        m.visitVarInsn(LSTORE, DONE);
        writeEntries();
        for (int head : heads) {
            writeBlock(head);
        }
        exits.forEach((written, label) -> writeExit(written, label, leave));
        exitsAsking.forEach((written, label) -> writeExit(written, label, leaveAsking));
        writeLeaving();
        Label end = new Label();
        m.visitLabel(end);
        m.visitMaxs(0, 0);
        m.visitEnd();
        return end.getOffset();
    }

    /** The ways in: each reads the registers that it needs. */
    private void writeEntries() {
        SortedMap<Integer, Label> ways = new TreeMap<>();
        accesses.forEach(access -> ways.put(~access, new Label()));
        entries.forEach(entry -> ways.put(entry, new Label()));
        m.visitLabel(dispatch);
        m.visitVarInsn(ILOAD, PC);
        m.visitLookupSwitchInsn(
                exit(0),
                ways.keySet().stream().mapToInt(Integer::intValue).toArray(),
                ways.values().toArray(Label[]::new));
        ways.forEach((key, label) -> {
            Block block = block(key);
            m.visitLabel(label);
            for (int i = 0; i < 16; i++) {
                if ((block.needed >>> i & 1) != 0) {
                    m.visitVarInsn(ALOAD, REGISTERS);
                    emit.push(i);
                    m.visitInsn(IALOAD);
                    m.visitVarInsn(ISTORE, R0 + i);
                }
            }
            if (key < 0) {
                writeEndOfAccess(~key, block.changed | block.writes);
            } else {
                m.visitJumpInsn(GOTO, block.label);
            }
        });
    }

    private Label exit(int written) {
        return exits.computeIfAbsent(written, set -> new Label());
    }

    private void writeExit(int written, Label label, Label to) {
        m.visitLabel(label);
        writeRegisters(written);
        m.visitJumpInsn(GOTO, to);
    }

    /** The ways out, with the registers written back. */
    private void writeLeaving() {
        m.visitLabel(leave);
        writeProgress();
        noteCurrent();
        m.visitVarInsn(LLOAD, TIME);
        m.visitInsn(LRETURN);
        m.visitLabel(leaveAsking);
        writeProgress();
        m.visitVarInsn(ALOAD, SCHEDULE);
        m.visitVarInsn(ALOAD, WORK);
        m.visitVarInsn(LLOAD, RESULT);
        m.visitMethodInsn(
                INVOKEVIRTUAL, OWN + "Schedule", "next", "(L" + OWN + "PrivateWork;J)L" + OWN + "PrivateWork;", false);
        m.visitVarInsn(ASTORE, WORK);
        Label other = new Label();
        m.visitVarInsn(ALOAD, WORK);
        m.visitJumpInsn(IFNULL, other);
        emit.pushField(WORK, "PrivateWork", "resumption", "L" + OWN + "Translation$Code;");
        m.visitVarInsn(ALOAD, 0);
        m.visitJumpInsn(IF_ACMPNE, other);
        emit.pushField(SCHEDULE, "Schedule", "end", "J");
        m.visitVarInsn(LSTORE, TIME);
        emit.pushField(WORK, "PrivateWork", "core", "L" + OWN + "Core;");
        m.visitFieldInsn(GETFIELD, OWN + "Core", "pc", "I");
        m.visitInsn(ICONST_M1);
        m.visitInsn(IXOR);
        m.visitVarInsn(ISTORE, PC);
        m.visitJumpInsn(GOTO, begin);
        m.visitLabel(other);
        noteCurrent();
        m.visitVarInsn(LLOAD, RESULT);
        m.visitInsn(LRETURN);
    }

    private void noteCurrent() {
        m.visitVarInsn(ALOAD, SCHEDULE);
        m.visitVarInsn(ALOAD, WORK);
        m.visitMethodInsn(INVOKEVIRTUAL, OWN + "Schedule", "leave", "(L" + OWN + "PrivateWork;)V", false);
    }

    private void writeProgress() {
        m.visitVarInsn(ALOAD, CORE);
        m.visitVarInsn(ILOAD, PC);
        m.visitFieldInsn(PUTFIELD, OWN + "Core", "pc", "I");
        m.visitVarInsn(ALOAD, CORE);
        m.visitInsn(DUP);
        m.visitFieldInsn(GETFIELD, OWN + "Core", "instructions", "J");
        m.visitVarInsn(LLOAD, DONE);
        m.visitInsn(LADD);
        m.visitFieldInsn(PUTFIELD, OWN + "Core", "instructions", "J");
    }

    private void writeRegisters(int written) {
        for (int i = 0; i < 16; i++) {
            if ((written >>> i & 1) != 0) {
                m.visitVarInsn(ALOAD, REGISTERS);
                emit.push(i);
                m.visitVarInsn(ILOAD, R0 + i);
                m.visitInsn(IASTORE);
            }
        }
    }

    /** The effect of an access, at its end. */
    private void writeEndOfAccess(int address, int changed) {
        m.visitVarInsn(ALOAD, WORK);
        m.visitFieldInsn(GETFIELD, OWN + "PrivateWork", "accesses", "L" + OWN + "Accesses;");
        m.visitFieldInsn(GETFIELD, OWN + "Accesses", "shared", "[I");
        m.visitVarInsn(ALOAD, CORE);
        m.visitFieldInsn(GETFIELD, OWN + "Core", "accessAddress", "I");
        emit.access(ram[address], PC);
        add(DONE, 1);
        goTo(address + 1, changed);
    }

    /** The instructions from one head to the next, or to one that ends the block. */
    private void writeBlock(int head) {
        Block block = block(head);
        int changed = block.changed | block.writes;
        int end = endOfBlock(head);
        m.visitLabel(block.label);
        int worst = 0;
        for (int address = head; address < end; address++) {
            worst += longest(ram[address]);
        }
        // The whole block or nothing of it, so that time is looked at once. An access looks for itself.
        if (worst > 0) {
            m.visitVarInsn(LLOAD, TIME);
            m.visitLdcInsn((long) worst);
            m.visitInsn(LADD);
            m.visitVarInsn(LLOAD, HORIZON);
            m.visitInsn(LCMP);
            leaveIf(IFGT, head, changed);
        }
        int cycles = 0;
        int done = 0;
        for (int address = head; address < end; address++) {
            int word = ram[address];
            int op = Word.op(word);
            int rd = R0 + Word.rd(word);
            switch (op) {
                case Codes.SET -> {
                    emit.set(word);
                    cycles += cost.plain();
                }
                case Codes.UPPER -> {
                    emit.upper(word);
                    cycles += cost.plain();
                }
                case Codes.READ -> {
                    flush(cycles, done);
                    cycles = cost.plain();
                    done = 0;
                    if (Word.low(word) == Codes.TIME) {
                        m.visitVarInsn(LLOAD, TIME);
                        m.visitInsn(L2I);
                    } else {
                        m.visitVarInsn(ALOAD, CORE);
                        m.visitFieldInsn(GETFIELD, OWN + "Core", "number", "I");
                    }
                    m.visitVarInsn(ISTORE, rd);
                }
                case Codes.LOAD, Codes.STORE -> {
                    emit.pushAddress(word);
                    m.visitInsn(DUP);
                    m.visitVarInsn(ISTORE, PC);
                    flush(cycles, done);
                    cycles = cost.privateAccess();
                    done = 0;
                    // Outside the memory: a fault. Into code: it must be translated anew.
                    emit.isBelow(ram.length);
                    leaveIf(IFEQ, address, changed);
                    if (op == Codes.STORE) {
                        m.visitVarInsn(ALOAD, WORK);
                        m.visitFieldInsn(GETFIELD, OWN + "PrivateWork", "covered", "[Z");
                        m.visitVarInsn(ILOAD, PC);
                        m.visitInsn(BALOAD);
                        leaveIf(IFNE, address, changed);
                    }
                    m.visitVarInsn(ALOAD, RAM);
                    m.visitVarInsn(ILOAD, PC);
                    if (op == Codes.LOAD) {
                        m.visitInsn(IALOAD);
                        m.visitVarInsn(ISTORE, rd);
                    } else {
                        m.visitVarInsn(ILOAD, rd);
                        m.visitInsn(IASTORE);
                    }
                }
                case Codes.DIV, Codes.REM -> {
                    flush(cycles, done);
                    cycles = cost.divide();
                    done = 0;
                    emit.pushB(word);
                    leaveIf(IFEQ, address, changed);
                    emit.three(word);
                }
                case Codes.MUL, Codes.MULH -> {
                    emit.three(word);
                    cycles += cost.multiply();
                }
                case Codes.FETCH, Codes.POST, Codes.SWAP, Codes.BUMP -> {
                    flush(cycles, done);
                    ask(address, changed);
                }
                case Codes.PAUSE, Codes.UNTIL -> {
                    flush(cycles, done);
                    hold(address, changed);
                    goTo(address + 1, changed);
                }
                case Codes.JUMP, Codes.CALL, Codes.NEAR -> {
                    flush(cycles + cost.taken(), done + 1);
                    if (!Word.jumpHasTarget(word)) {
                        m.visitVarInsn(ILOAD, R0 + Word.low(word));
                        m.visitVarInsn(ISTORE, PC);
                    }
                    if (op == Codes.CALL) {
                        emit.push(address + 1);
                        m.visitVarInsn(ISTORE, R0 + 15);
                    }
                    if (Word.jumpHasTarget(word)) {
                        goTo(targets(address).get(0), changed);
                    } else {
                        goToRegister(changed);
                    }
                }
                case Codes.JUMP_IF -> {
                    emit.pushCondition(word);
                    branch(address, cycles, done, changed);
                }
                case Codes.AGAIN -> {
                    m.visitIincInsn(rd, -1);
                    m.visitVarInsn(ILOAD, rd);
                    branch(address, cycles, done, changed);
                }
                default -> {
                    emit.three(word);
                    cycles += cost.plain();
                }
            }
            done++;
        }
        if (!endsBlock(ram[end - 1])) {
            flush(cycles, done);
            goTo(end, changed);
        }
    }

    /** Asks for the access at this address and leaves, whatever the answer. */
    private void ask(int address, int changed) {
        m.visitVarInsn(ALOAD, CORE);
        emit.pushAddress(ram[address]);
        m.visitFieldInsn(PUTFIELD, OWN + "Core", "accessAddress", "I");
        emit.pushField(WORK, "PrivateWork", "accesses", "L" + OWN + "Accesses;");
        emit.push(address);
        emit.pushField(CORE, "Core", "accessAddress", "I");
        m.visitVarInsn(LLOAD, TIME);
        m.visitMethodInsn(INVOKEVIRTUAL, OWN + "Accesses", "ask", "(IIJ)J", false);
        m.visitVarInsn(LSTORE, RESULT);
        emit.push(address);
        m.visitVarInsn(ISTORE, PC);
        m.visitVarInsn(LLOAD, RESULT);
        m.visitLdcInsn(Accesses.LEFT);
        m.visitInsn(LCMP);
        m.visitJumpInsn(IFEQ, exit(changed));
        m.visitJumpInsn(GOTO, exitsAsking.computeIfAbsent(changed, set -> new Label()));
    }

    /** A pause or until, unless it ends after the horizon. */
    private void hold(int address, int changed) {
        m.visitVarInsn(ALOAD, WORK);
        emit.push(Word.op(ram[address]));
        emit.pushB(ram[address]);
        m.visitVarInsn(LLOAD, TIME);
        m.visitVarInsn(LLOAD, HORIZON);
        m.visitMethodInsn(INVOKEVIRTUAL, OWN + "PrivateWork", "hold", "(IIJJ)J", false);
        m.visitVarInsn(LSTORE, RESULT);
        m.visitVarInsn(LLOAD, RESULT);
        m.visitInsn(LCONST_0);
        m.visitInsn(LCMP);
        leaveIf(IFLT, address, changed);
        m.visitVarInsn(LLOAD, TIME);
        m.visitVarInsn(LLOAD, RESULT);
        m.visitInsn(LADD);
        m.visitVarInsn(LSTORE, TIME);
        add(DONE, 1);
    }

    /** Goes to the target unless the value on the stack is 0; else to the next instruction. */
    private void branch(int address, int cycles, int done, int changed) {
        Label stays = new Label();
        m.visitJumpInsn(IFEQ, stays);
        flush(cycles + cost.taken(), done + 1);
        goTo(targets(address).get(0), changed);
        m.visitLabel(stays);
        flush(cycles + cost.plain(), done + 1);
        goTo(address + 1, changed);
    }

    private void goTo(int target, int changed) {
        Block block = target < 0 ? null : blocks.get(target);
        if (block != null) {
            m.visitJumpInsn(GOTO, block.label);
        } else {
            emit.push(target);
            m.visitVarInsn(ISTORE, PC);
            m.visitJumpInsn(GOTO, exit(changed));
        }
    }

    /** Goes on at the address in PC; with the registers written back, it is another entry. */
    private void goToRegister(int changed) {
        writeRegisters(changed);
        // Below 0 are the ends of accesses.
        m.visitVarInsn(ILOAD, PC);
        m.visitJumpInsn(IFLT, exit(0));
        m.visitJumpInsn(GOTO, dispatch);
    }

    private void leaveIf(int yes, int address, int changed) {
        Label on = new Label();
        m.visitJumpInsn(opposite(yes), on);
        emit.push(address);
        m.visitVarInsn(ISTORE, PC);
        m.visitJumpInsn(GOTO, exit(changed));
        m.visitLabel(on);
    }

    private static int opposite(int jump) {
        return switch (jump) {
            case IFEQ -> IFNE;
            case IFNE -> IFEQ;
            case IFGT -> IFLE;
            case IFLT -> IFGE;
            default -> throw new IllegalArgumentException("no opposite: " + jump);
        };
    }

    private void flush(int cycles, int done) {
        add(TIME, cycles);
        add(DONE, done);
    }

    private void add(int local, int amount) {
        if (amount != 0) {
            m.visitVarInsn(LLOAD, local);
            m.visitLdcInsn((long) amount);
            m.visitInsn(LADD);
            m.visitVarInsn(LSTORE, local);
        }
    }

    /** The most cycles of an instruction without the sleep of a pause or until; an access looks at the horizon itself. */
    private int longest(int word) {
        return switch (Word.op(word)) {
            case Codes.FETCH, Codes.POST, Codes.SWAP, Codes.BUMP -> 0;
            case Codes.JUMP, Codes.CALL, Codes.NEAR, Codes.JUMP_IF, Codes.AGAIN -> Math.max(cost.taken(), cost.plain());
            case Codes.LOAD, Codes.STORE -> cost.privateAccess();
            case Codes.DIV, Codes.REM -> cost.divide();
            case Codes.MUL, Codes.MULH -> cost.multiply();
            default -> cost.plain();
        };
    }
}
