package octurn.machine;

import java.lang.invoke.MethodHandles;
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
 * <p>What an instruction computes is not said again here: the bytecode calls {@link Alu}. An access is two halves: the
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

    /** The most bytes of a method that the virtual machine compiles. */
    private static final int MOST_BYTES = 8000;

    /** The set of the link register alone. */
    private static final int LINK = 1 << 15;

    private static final String OWN = "octurn/machine/";
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

    private final ClassWriter writer = new ClassWriter(ClassWriter.COMPUTE_FRAMES | ClassWriter.COMPUTE_MAXS) {
        @Override
        protected String getCommonSuperClass(String one, String other) {
            return "java/lang/Object";
        }
    };
    private final MethodVisitor m;

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
        writer.visit(V17, ACC_FINAL | ACC_SUPER, OWN + "Translated", null, "java/lang/Object", new String[] {
            OWN + "Translation$Code"
        });
        this.m = writer.visitMethod(ACC_PUBLIC, "run", RUN_SIGNATURE, null, null);
    }

    /** The translation of what can be reached from this address, or null if there is nothing to win. */
    static @Nullable Translation translate(int[] ram, int address, Cost cost) {
        for (int most = MOST; most > 1; most /= 2) {
            Translator translator = new Translator(ram, cost, most);
            translator.explore(address);
            if (translator.addresses.size() < 2) {
                return null;
            }
            if (translator.writeRun() <= MOST_BYTES) {
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

    private static boolean isAccess(int op) {
        return op >= Codes.FETCH && op <= Codes.BUMP;
    }

    private static boolean isTranslated(int word) {
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
            block.used = uses(ram[access]);
            block.writes = writes(ram[access]);
            follow(block, access + 1);
            blocks.put(~access, block);
        }
        for (int head : heads) {
            Block block = block(head);
            int end = endOfBlock(head);
            for (int address = head; address < end; address++) {
                boolean asks = isAccess(Word.op(ram[address]));
                block.used |= asks ? addressRegister(ram[address]) : uses(ram[address]);
                block.writes |= asks ? 0 : writes(ram[address]);
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

    private static int uses(int word) {
        int rd = 1 << Word.rd(word);
        int ra = 1 << Word.ra(word);
        int low = 1 << Word.low(word);
        return switch (Word.op(word)) {
            case Codes.JUMP, Codes.NEAR -> Word.jumpHasTarget(word) ? 0 : low;
            case Codes.CALL -> Word.jumpHasTarget(word) ? LINK : LINK | low;
            case Codes.SET, Codes.UPPER, Codes.AGAIN, Codes.READ -> rd;
            case Codes.JUMP_IF -> Word.hasConstant(word) ? ra : ra | 1 << Word.branchRegister(word);
            case Codes.PAUSE, Codes.UNTIL -> Word.hasConstant(word) ? 0 : low;
            case Codes.LOAD, Codes.STORE -> rd | addressRegister(word);
            case Codes.FETCH, Codes.POST, Codes.SWAP, Codes.BUMP -> rd;
            default -> Word.hasConstant(word) ? rd | ra : rd | ra | low;
        };
    }

    private static int addressRegister(int word) {
        return Word.hasConstant(word) ? 1 << Word.ra(word) : 0;
    }

    private static int writes(int word) {
        return switch (Word.op(word)) {
            case Codes.JUMP, Codes.NEAR, Codes.JUMP_IF, Codes.PAUSE, Codes.UNTIL, Codes.STORE, Codes.POST -> 0;
            case Codes.CALL -> LINK;
            default -> 1 << Word.rd(word);
        };
    }

    // ---- the class ----

    private Translation load() {
        try {
            Object code = MethodHandles.lookup()
                    .defineHiddenClass(writer.toByteArray(), true)
                    .lookupClass()
                    .getDeclaredConstructor()
                    .newInstance();
            return new Translation((Translation.Code) code, ram, addresses, entries, accesses);
        } catch (ReflectiveOperationException e) {
            throw new IllegalStateException("a translation that does not load", e);
        }
    }

    /** Writes all of the class; returns how many bytes its method has. */
    private int writeRun() {
        findBlocks();
        m.visitVarInsn(ILOAD, FROM);
        m.visitVarInsn(ISTORE, PC);
        getField(WORK, "PrivateWork", "schedule", "L" + OWN + "Schedule;");
        m.visitVarInsn(ASTORE, SCHEDULE);
        m.visitLabel(begin);
        getField(WORK, "PrivateWork", "core", "L" + OWN + "Core;");
        m.visitVarInsn(ASTORE, CORE);
        getField(CORE, "Core", "ram", "[I");
        m.visitVarInsn(ASTORE, RAM);
        getField(CORE, "Core", "registers", "[I");
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
        MethodVisitor init = writer.visitMethod(0, "<init>", "()V", null, null);
        init.visitVarInsn(ALOAD, 0);
        init.visitMethodInsn(INVOKESPECIAL, "java/lang/Object", "<init>", "()V", false);
        init.visitInsn(RETURN);
        init.visitMaxs(0, 0);
        init.visitEnd();
        writer.visitEnd();
        return end.getOffset();
    }

    private void getField(int local, String owner, String name, String type) {
        m.visitVarInsn(ALOAD, local);
        m.visitFieldInsn(GETFIELD, OWN + owner, name, type);
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
                    push(i);
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
        getField(WORK, "PrivateWork", "resumption", "L" + OWN + "Translation$Code;");
        m.visitVarInsn(ALOAD, 0);
        m.visitJumpInsn(IF_ACMPNE, other);
        getField(SCHEDULE, "Schedule", "end", "J");
        m.visitVarInsn(LSTORE, TIME);
        getField(WORK, "PrivateWork", "core", "L" + OWN + "Core;");
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
                push(i);
                m.visitVarInsn(ILOAD, R0 + i);
                m.visitInsn(IASTORE);
            }
        }
    }

    /** The effect of an access, at its end. */
    private void writeEndOfAccess(int address, int changed) {
        int word = ram[address];
        int op = Word.op(word);
        int rd = R0 + Word.rd(word);
        m.visitVarInsn(ALOAD, WORK);
        m.visitFieldInsn(GETFIELD, OWN + "PrivateWork", "accesses", "L" + OWN + "Accesses;");
        m.visitFieldInsn(GETFIELD, OWN + "Accesses", "shared", "[I");
        m.visitVarInsn(ALOAD, CORE);
        m.visitFieldInsn(GETFIELD, OWN + "Core", "accessAddress", "I");
        if (Alu.writesShared(op)) {
            m.visitInsn(DUP2);
        }
        m.visitInsn(IALOAD);
        m.visitVarInsn(ISTORE, PC);
        if (Alu.writesShared(op)) {
            push(op);
            m.visitVarInsn(ILOAD, rd);
            m.visitVarInsn(ILOAD, PC);
            m.visitMethodInsn(INVOKESTATIC, OWN + "Alu", "posted", "(III)I", false);
            m.visitInsn(IASTORE);
        }
        if (Alu.readsShared(op)) {
            m.visitVarInsn(ILOAD, PC);
            m.visitVarInsn(ISTORE, rd);
        }
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
                    push(Word.wide(word));
                    m.visitVarInsn(ISTORE, rd);
                    cycles += cost.plain();
                }
                case Codes.UPPER -> {
                    m.visitVarInsn(ILOAD, rd);
                    push(Word.upper(word));
                    alu("upper");
                    m.visitVarInsn(ISTORE, rd);
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
                    pushAddress(word);
                    m.visitInsn(DUP);
                    m.visitVarInsn(ISTORE, PC);
                    flush(cycles, done);
                    cycles = cost.privateAccess();
                    done = 0;
                    // Outside the memory: a fault. Into code: it must be translated anew.
                    push(ram.length);
                    m.visitMethodInsn(INVOKESTATIC, OWN + "Alu", "isBelow", "(II)Z", false);
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
                    pushB(word);
                    leaveIf(IFEQ, address, changed);
                    three(word);
                }
                case Codes.MUL, Codes.MULH -> {
                    three(word);
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
                        push(address + 1);
                        m.visitVarInsn(ISTORE, R0 + 15);
                    }
                    if (Word.jumpHasTarget(word)) {
                        goTo(targets(address).get(0), changed);
                    } else {
                        goToRegister(changed);
                    }
                }
                case Codes.JUMP_IF -> {
                    push(Word.rd(word));
                    m.visitVarInsn(ILOAD, R0 + Word.ra(word));
                    if (Word.hasConstant(word)) {
                        push(Word.branchConstant(word));
                    } else {
                        m.visitVarInsn(ILOAD, R0 + Word.branchRegister(word));
                    }
                    m.visitMethodInsn(INVOKESTATIC, OWN + "Alu", "holds", "(III)Z", false);
                    branch(address, cycles, done, changed);
                }
                case Codes.AGAIN -> {
                    m.visitIincInsn(rd, -1);
                    m.visitVarInsn(ILOAD, rd);
                    branch(address, cycles, done, changed);
                }
                default -> {
                    three(word);
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
        pushAddress(ram[address]);
        m.visitFieldInsn(PUTFIELD, OWN + "Core", "accessAddress", "I");
        getField(WORK, "PrivateWork", "accesses", "L" + OWN + "Accesses;");
        push(address);
        getField(CORE, "Core", "accessAddress", "I");
        m.visitVarInsn(LLOAD, TIME);
        m.visitMethodInsn(INVOKEVIRTUAL, OWN + "Accesses", "ask", "(IIJ)J", false);
        m.visitVarInsn(LSTORE, RESULT);
        push(address);
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
        push(Word.op(ram[address]));
        pushB(ram[address]);
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
            push(target);
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
        push(address);
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

    private void three(int word) {
        m.visitVarInsn(ILOAD, R0 + Word.ra(word));
        pushB(word);
        Op op = Op.of(Word.op(word));
        alu(op == null ? "" : op.mnemonic());
        m.visitVarInsn(ISTORE, R0 + Word.rd(word));
    }

    private void alu(String name) {
        m.visitMethodInsn(INVOKESTATIC, OWN + "Alu", name, "(II)I", false);
    }

    private void pushB(int word) {
        if (Word.hasConstant(word)) {
            push(Word.constant(word));
        } else {
            m.visitVarInsn(ILOAD, R0 + Word.low(word));
        }
    }

    private void pushAddress(int word) {
        if (Word.hasConstant(word)) {
            m.visitVarInsn(ILOAD, R0 + Word.ra(word));
            push(Word.constant(word));
            m.visitInsn(IADD);
        } else {
            push(Word.absolute(word));
        }
    }

    private void push(int value) {
        if (value >= -1 && value <= 5) {
            m.visitInsn(ICONST_0 + value);
        } else if (value >= Byte.MIN_VALUE && value <= Byte.MAX_VALUE) {
            m.visitIntInsn(BIPUSH, value);
        } else if (value >= Short.MIN_VALUE && value <= Short.MAX_VALUE) {
            m.visitIntInsn(SIPUSH, value);
        } else {
            m.visitLdcInsn(value);
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
