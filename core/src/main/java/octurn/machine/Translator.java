package octurn.machine;

import java.lang.invoke.MethodHandles;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.SortedSet;
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
 * <p>What an instruction computes is not said again here: the bytecode calls {@link Alu}. What is not plain private work
 * (accesses, ports, sleeping, faults, jumps to registers, stores into translated code) is left: the code
 * returns with the core about to start that instruction.
 */
final class Translator implements Opcodes {

    /** The most instructions in one translation, so that the method stays below what the virtual machine compiles. */
    private static final int MOST = 200;

    private static final String OWN = "octurn/machine/";
    private static final String RUN_SIGNATURE = "(L" + OWN + "Core;JJ[Z)J";

    // Local variables: what comes in, then these.
    private static final int CORE = 1;
    private static final int TIME = 2;
    private static final int HORIZON = 4;
    private static final int COVERED = 6;
    private static final int DONE = 7;
    private static final int RAM = 9;
    private static final int REGISTERS = 10;
    private static final int PC = 11;
    private static final int R0 = 12;

    private final int[] ram;
    private final Cost cost;
    private final SortedSet<Integer> addresses = new TreeSet<>();
    /** Addresses at which the code can be entered, or at which a block begins. */
    private final SortedSet<Integer> heads = new TreeSet<>();

    private final SortedSet<Integer> entries = new TreeSet<>();
    private final Label[] labels;
    private final boolean[] used = new boolean[16];

    private Translator(int[] ram, Cost cost) {
        this.ram = ram;
        this.cost = cost;
        this.labels = new Label[ram.length];
    }

    /** The translation of what can be reached from this address, or null if there is nothing to win. */
    static @Nullable Translation translate(int[] ram, int address, Cost cost) {
        Translator translator = new Translator(ram, cost);
        translator.explore(address);
        return translator.addresses.size() < 2 ? null : translator.write();
    }

    // ---- what belongs to it ----

    private void explore(int start) {
        Deque<Integer> open = new ArrayDeque<>();
        enter(start, open);
        while (!open.isEmpty() && addresses.size() < MOST) {
            int address = open.remove();
            if (address < 0 || address >= ram.length || addresses.contains(address)) {
                continue;
            }
            int word = ram[address];
            if (!isPrivateWork(word)) {
                // After an access the core comes back to the next instruction.
                if (Word.isInstruction(word) && !endsPath(word)) {
                    enter(address + 1, open);
                }
                continue;
            }
            addresses.add(address);
            switch (Word.op(word)) {
                case Codes.JUMP -> enter(address + Word.distance(word), open);
                case Codes.CALL -> {
                    enter(address + Word.distance(word), open);
                    enter(address + 1, open);
                }
                case Codes.NEAR -> enter(Word.crossAddress(word), open);
                case Codes.JUMP_IF -> {
                    heads.add(address + Word.branchOffset(word));
                    open.add(address + Word.branchOffset(word));
                    heads.add(address + 1);
                    open.add(address + 1);
                }
                case Codes.AGAIN -> {
                    heads.add(address + Word.wide(word));
                    open.add(address + Word.wide(word));
                    heads.add(address + 1);
                    open.add(address + 1);
                }
                default -> open.add(address + 1);
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

    private static boolean endsPath(int word) {
        return switch (Word.op(word)) {
            case Codes.HALT, Codes.FAR, Codes.JUMP, Codes.CALL, Codes.NEAR -> true;
            default -> false;
        };
    }

    private static boolean isPrivateWork(int word) {
        Op op = Op.of(Word.op(word));
        if (op == null || !Word.isInstruction(word)) {
            return false;
        }
        return switch (op) {
            case JUMP, CALL, NEAR -> Word.jumpHasTarget(word);
            case SET, UPPER, LOAD, STORE, JUMP_IF, AGAIN -> true;
            default -> op.form() == Form.THREE;
        };
    }

    // ---- the class ----

    private Translation write() {
        int first = addresses.first();
        int last = addresses.last();
        ClassWriter writer = new ClassWriter(ClassWriter.COMPUTE_FRAMES | ClassWriter.COMPUTE_MAXS) {
            @Override
            protected String getCommonSuperClass(String one, String other) {
                return "java/lang/Object";
            }
        };
        writer.visit(V17, ACC_FINAL | ACC_SUPER, OWN + "Translated", null, "java/lang/Object", new String[] {
            OWN + "Translation$Code"
        });
        MethodVisitor init = writer.visitMethod(0, "<init>", "()V", null, null);
        init.visitVarInsn(ALOAD, 0);
        init.visitMethodInsn(INVOKESPECIAL, "java/lang/Object", "<init>", "()V", false);
        init.visitInsn(RETURN);
        init.visitMaxs(0, 0);
        init.visitEnd();
        MethodVisitor run = writer.visitMethod(ACC_PUBLIC, "run", RUN_SIGNATURE, null, null);
        writeRun(run);
        run.visitMaxs(0, 0);
        run.visitEnd();
        writer.visitEnd();
        try {
            Object code = MethodHandles.lookup()
                    .defineHiddenClass(writer.toByteArray(), true)
                    .lookupClass()
                    .getDeclaredConstructor()
                    .newInstance();
            return new Translation((Translation.Code) code, ram, first, last + 1, entries);
        } catch (ReflectiveOperationException e) {
            throw new IllegalStateException("a translation that does not load", e);
        }
    }

    private void writeRun(MethodVisitor m) {
        for (int address : addresses) {
            noteRegisters(ram[address]);
        }
        m.visitVarInsn(ALOAD, CORE);
        m.visitFieldInsn(GETFIELD, OWN + "Core", "ram", "[I");
        m.visitVarInsn(ASTORE, RAM);
        m.visitVarInsn(ALOAD, CORE);
        m.visitFieldInsn(GETFIELD, OWN + "Core", "registers", "[I");
        m.visitVarInsn(ASTORE, REGISTERS);
        for (int i = 0; i < 16; i++) {
            if (used[i]) {
                m.visitVarInsn(ALOAD, REGISTERS);
                push(m, i);
                m.visitInsn(IALOAD);
                m.visitVarInsn(ISTORE, R0 + i);
            }
        }
        m.visitInsn(LCONST_0);
        m.visitVarInsn(LSTORE, DONE);
        m.visitVarInsn(ALOAD, CORE);
        m.visitFieldInsn(GETFIELD, OWN + "Core", "pc", "I");
        m.visitVarInsn(ISTORE, PC);
        Label leave = new Label();
        for (int head : heads) {
            labels[head] = new Label();
        }
        int[] keys = entries.stream().mapToInt(Integer::intValue).toArray();
        Label[] targets = new Label[keys.length];
        for (int i = 0; i < keys.length; i++) {
            targets[i] = labels[keys[i]];
        }
        m.visitVarInsn(ILOAD, PC);
        m.visitLookupSwitchInsn(leave, keys, targets);
        for (int head : heads) {
            writeBlock(m, head, leave);
        }
        m.visitLabel(leave);
        for (int i = 0; i < 16; i++) {
            if (used[i]) {
                m.visitVarInsn(ALOAD, REGISTERS);
                push(m, i);
                m.visitVarInsn(ILOAD, R0 + i);
                m.visitInsn(IASTORE);
            }
        }
        m.visitVarInsn(ALOAD, CORE);
        m.visitVarInsn(ILOAD, PC);
        m.visitFieldInsn(PUTFIELD, OWN + "Core", "pc", "I");
        m.visitVarInsn(ALOAD, CORE);
        m.visitInsn(DUP);
        m.visitFieldInsn(GETFIELD, OWN + "Core", "instructions", "J");
        m.visitVarInsn(LLOAD, DONE);
        m.visitInsn(LADD);
        m.visitFieldInsn(PUTFIELD, OWN + "Core", "instructions", "J");
        m.visitVarInsn(LLOAD, TIME);
        m.visitInsn(LRETURN);
    }

    private void noteRegisters(int word) {
        int op = Word.op(word);
        switch (op) {
            case Codes.JUMP, Codes.NEAR -> {}
            case Codes.CALL -> used[15] = true;
            case Codes.SET, Codes.UPPER, Codes.AGAIN -> used[Word.rd(word)] = true;
            case Codes.JUMP_IF -> {
                used[Word.ra(word)] = true;
                if (!Word.hasConstant(word)) {
                    used[Word.branchRegister(word)] = true;
                }
            }
            default -> {
                used[Word.rd(word)] = true;
                used[Word.ra(word)] = true;
                if (!Word.hasConstant(word) && op != Codes.LOAD && op != Codes.STORE) {
                    used[Word.low(word)] = true;
                }
            }
        }
    }

    /** The instructions from one head to the next, or to one that leaves. */
    private void writeBlock(MethodVisitor m, int head, Label leave) {
        m.visitLabel(labels[head]);
        int end = head;
        int worst = 0;
        while (addresses.contains(end) && (end == head || labels[end] == null)) {
            worst += longest(ram[end]);
            end++;
            if (isJump(ram[end - 1])) {
                break;
            }
        }
        // The whole block or nothing of it, so that time is looked at once.
        m.visitVarInsn(LLOAD, TIME);
        m.visitLdcInsn((long) worst);
        m.visitInsn(LADD);
        m.visitVarInsn(LLOAD, HORIZON);
        m.visitInsn(LCMP);
        leaveIf(m, IFGT, head, leave);
        int cycles = 0;
        int done = 0;
        for (int address = head; address < end; address++) {
            int word = ram[address];
            int op = Word.op(word);
            switch (op) {
                case Codes.SET -> {
                    push(m, Word.wide(word));
                    m.visitVarInsn(ISTORE, R0 + Word.rd(word));
                    cycles += cost.plain();
                }
                case Codes.UPPER -> {
                    m.visitVarInsn(ILOAD, R0 + Word.rd(word));
                    push(m, Word.upper(word));
                    alu(m, "upper");
                    m.visitVarInsn(ISTORE, R0 + Word.rd(word));
                    cycles += cost.plain();
                }
                case Codes.LOAD, Codes.STORE -> {
                    pushAddress(m, word);
                    m.visitInsn(DUP);
                    m.visitVarInsn(ISTORE, PC);
                    flush(m, cycles, done);
                    cycles = 0;
                    done = 0;
                    // Outside the memory: a fault. Into code: it must be translated anew.
                    push(m, ram.length);
                    unsignedLess(m);
                    leaveIf(m, IFEQ, address, leave);
                    if (op == Codes.STORE) {
                        m.visitVarInsn(ALOAD, COVERED);
                        m.visitVarInsn(ILOAD, PC);
                        m.visitInsn(BALOAD);
                        leaveIf(m, IFNE, address, leave);
                    }
                    m.visitVarInsn(ALOAD, RAM);
                    m.visitVarInsn(ILOAD, PC);
                    if (op == Codes.LOAD) {
                        m.visitInsn(IALOAD);
                        m.visitVarInsn(ISTORE, R0 + Word.rd(word));
                    } else {
                        m.visitVarInsn(ILOAD, R0 + Word.rd(word));
                        m.visitInsn(IASTORE);
                    }
                    cycles += cost.privateAccess();
                }
                case Codes.DIV, Codes.REM -> {
                    flush(m, cycles, done);
                    cycles = 0;
                    done = 0;
                    pushB(m, word);
                    leaveIf(m, IFEQ, address, leave);
                    three(m, word);
                    cycles += cost.divide();
                }
                case Codes.MUL, Codes.MULH -> {
                    three(m, word);
                    cycles += cost.multiply();
                }
                case Codes.JUMP, Codes.CALL, Codes.NEAR -> {
                    if (op == Codes.CALL) {
                        push(m, address + 1);
                        m.visitVarInsn(ISTORE, R0 + 15);
                    }
                    int target = op == Codes.NEAR ? Word.crossAddress(word) : address + Word.distance(word);
                    flush(m, cycles + cost.taken(), done + 1);
                    goTo(m, target, leave);
                    cycles = 0;
                    done = -1;
                }
                case Codes.JUMP_IF -> {
                    push(m, Word.rd(word));
                    m.visitVarInsn(ILOAD, R0 + Word.ra(word));
                    if (Word.hasConstant(word)) {
                        push(m, Word.branchConstant(word));
                    } else {
                        m.visitVarInsn(ILOAD, R0 + Word.branchRegister(word));
                    }
                    m.visitMethodInsn(INVOKESTATIC, OWN + "Alu", "holds", "(III)Z", false);
                    branch(m, IFEQ, address, address + Word.branchOffset(word), cycles, done, leave);
                    cycles = 0;
                    done = -1;
                }
                case Codes.AGAIN -> {
                    m.visitIincInsn(R0 + Word.rd(word), -1);
                    m.visitVarInsn(ILOAD, R0 + Word.rd(word));
                    branch(m, IFEQ, address, address + Word.wide(word), cycles, done, leave);
                    cycles = 0;
                    done = -1;
                }
                default -> {
                    three(m, word);
                    cycles += cost.plain();
                }
            }
            done++;
        }
        if (!isJump(ram[end - 1])) {
            flush(m, cycles, done);
            goTo(m, end, leave);
        }
    }

    /** Goes to the target unless the value on the stack says no (jump code no); else falls to the next instruction. */
    private void branch(MethodVisitor m, int no, int address, int target, int cycles, int done, Label leave) {
        Label stays = new Label();
        m.visitJumpInsn(no, stays);
        flush(m, cycles + cost.taken(), done + 1);
        goTo(m, target, leave);
        m.visitLabel(stays);
        flush(m, cycles + cost.plain(), done + 1);
        goTo(m, address + 1, leave);
    }

    private void goTo(MethodVisitor m, int target, Label leave) {
        if (target >= 0 && target < labels.length && labels[target] != null) {
            m.visitJumpInsn(GOTO, labels[target]);
        } else {
            push(m, target);
            m.visitVarInsn(ISTORE, PC);
            m.visitJumpInsn(GOTO, leave);
        }
    }

    private static void leaveIf(MethodVisitor m, int yes, int address, Label leave) {
        Label on = new Label();
        m.visitJumpInsn(opposite(yes), on);
        push(m, address);
        m.visitVarInsn(ISTORE, PC);
        m.visitJumpInsn(GOTO, leave);
        m.visitLabel(on);
    }

    private static int opposite(int jump) {
        return switch (jump) {
            case IFEQ -> IFNE;
            case IFNE -> IFEQ;
            case IFGT -> IFLE;
            default -> throw new IllegalArgumentException("no opposite: " + jump);
        };
    }

    private static void unsignedLess(MethodVisitor m) {
        m.visitMethodInsn(INVOKESTATIC, OWN + "Alu", "isBelow", "(II)Z", false);
    }

    private void flush(MethodVisitor m, int cycles, int done) {
        add(m, TIME, cycles);
        add(m, DONE, done);
    }

    private static void add(MethodVisitor m, int local, int amount) {
        if (amount != 0) {
            m.visitVarInsn(LLOAD, local);
            m.visitLdcInsn((long) amount);
            m.visitInsn(LADD);
            m.visitVarInsn(LSTORE, local);
        }
    }

    private void three(MethodVisitor m, int word) {
        m.visitVarInsn(ILOAD, R0 + Word.ra(word));
        pushB(m, word);
        Op op = Op.of(Word.op(word));
        alu(m, op == null ? "" : op.mnemonic());
        m.visitVarInsn(ISTORE, R0 + Word.rd(word));
    }

    private static void alu(MethodVisitor m, String name) {
        m.visitMethodInsn(INVOKESTATIC, OWN + "Alu", name, "(II)I", false);
    }

    private static void pushB(MethodVisitor m, int word) {
        if (Word.hasConstant(word)) {
            push(m, Word.constant(word));
        } else {
            m.visitVarInsn(ILOAD, R0 + Word.low(word));
        }
    }

    private static void pushAddress(MethodVisitor m, int word) {
        if (Word.hasConstant(word)) {
            m.visitVarInsn(ILOAD, R0 + Word.ra(word));
            push(m, Word.constant(word));
            m.visitInsn(IADD);
        } else {
            push(m, Word.absolute(word));
        }
    }

    private static void push(MethodVisitor m, int value) {
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

    private static boolean isJump(int word) {
        return switch (Word.op(word)) {
            case Codes.JUMP, Codes.CALL, Codes.NEAR, Codes.JUMP_IF, Codes.AGAIN -> true;
            default -> false;
        };
    }

    private int longest(int word) {
        return switch (Word.op(word)) {
            case Codes.JUMP, Codes.CALL, Codes.NEAR, Codes.JUMP_IF, Codes.AGAIN -> Math.max(cost.taken(), cost.plain());
            case Codes.LOAD, Codes.STORE -> cost.privateAccess();
            case Codes.DIV, Codes.REM -> cost.divide();
            case Codes.MUL, Codes.MULH -> cost.multiply();
            default -> cost.plain();
        };
    }
}
