package octurn.machine;

import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import octurn.design.Cost;
import octurn.isa.Codes;
import octurn.isa.Word;
import octurn.machine.Round.Step;
import org.objectweb.asm.Label;
import org.objectweb.asm.MethodVisitor;
import org.objectweb.asm.Opcodes;

/**
 * Writes some steps of a round of a {@link ChipLoop} into one method, with the registers of the cores in local variables.
 * Before a step that can turn out another way than in the first round stands a test, and a way out.
 */
final class LoopPartWriter implements Opcodes {

    private static final String OWN = Emitter.OWN;

    // Local variables: what comes in, then these.
    private static final int LOOP = ChipLoopWriter.LOOP;
    private static final int BASE = ChipLoopWriter.BASE;
    private static final int SPARE = ChipLoopWriter.SPARE;
    private static final int SHARED = SPARE + 1;

    /** What a method has of a core in local variables. */
    private static final class Lane {
        static final int LOCALS = 5;

        final int number;
        final int core;
        final int registers;
        final int ram;
        final int covered;
        final int address;
        /** By register. */
        final int[] locals = new int[16];

        /** Which registers have a local variable, and which are written. */
        int used;

        int written;
        boolean touchesRam;
        boolean usesAddress;
        boolean asks;

        Lane(int number, int firstFree) {
            this.number = number;
            this.core = firstFree;
            this.registers = firstFree + 1;
            this.ram = firstFree + 2;
            this.covered = firstFree + 3;
            this.address = firstFree + 4;
        }
    }

    private final Chip chip;
    private final Cost cost;
    private final long start;
    private final List<Step> steps;
    private final int from;
    private final MethodVisitor m;
    private final Emitter emit;
    private final Map<Integer, Lane> lanes = new TreeMap<>();
    private int free = SHARED + 1;

    /** The core and the step at hand. */
    private Lane lane;

    private int number;
    /** Where it is left, by the number of the step. */
    private final Map<Integer, Label> exits = new TreeMap<>();

    /**
     * @param m the method
     * @param round the whole of it
     * @param from the first step to write
     * @param to the one after the last
     */
    LoopPartWriter(MethodVisitor m, Chip chip, Round round, int from, int to) {
        this.m = m;
        this.chip = chip;
        this.cost = chip.design.cost();
        this.start = round.start().time();
        this.from = from;
        this.steps = round.steps().subList(from, to);
        this.lane = lane(steps.get(0).core());
        this.emit = new Emitter(m, register -> lane.locals[register]);
        this.steps.forEach(this::findLocals);
    }

    private Lane lane(int core) {
        return lanes.computeIfAbsent(core, key -> {
            Lane made = new Lane(key, free);
            free += Lane.LOCALS;
            return made;
        });
    }

    private void findLocals(Step step) {
        Lane its = lane(step.core());
        int word = step.word();
        int op = Word.op(word);
        int registers = RegisterUse.used(word) | RegisterUse.written(word);
        if (Translator.isAccess(op)) {
            registers |= RegisterUse.ofAddress(word);
            its.usesAddress |= Word.hasConstant(word);
            its.asks |= Word.hasConstant(word) && !step.effect();
        }
        for (int rest = registers & ~its.used; rest != 0; rest &= rest - 1) {
            its.locals[Integer.numberOfTrailingZeros(rest)] = free++;
        }
        its.used |= registers;
        its.written |= RegisterUse.written(word);
        its.touchesRam |= op == Codes.LOAD || op == Codes.STORE;
    }

    /** Gets what the steps need. */
    void writeEntry() {
        emit.pushField(LOOP, "ChipLoop", "shared", "[I");
        m.visitVarInsn(ASTORE, SHARED);
        for (Lane its : lanes.values()) {
            pushWork(its);
            m.visitFieldInsn(GETFIELD, OWN + "PrivateWork", "core", "L" + OWN + "Core;");
            m.visitVarInsn(ASTORE, its.core);
            emit.pushField(its.core, "Core", "registers", "[I");
            m.visitVarInsn(ASTORE, its.registers);
            if (its.usesAddress) {
                emit.pushField(its.core, "Core", "accessAddress", "I");
                m.visitVarInsn(ISTORE, its.address);
            }
            if (its.touchesRam) {
                emit.pushField(its.core, "Core", "ram", "[I");
                m.visitVarInsn(ASTORE, its.ram);
                pushWork(its);
                m.visitFieldInsn(GETFIELD, OWN + "PrivateWork", "covered", "[Z");
                m.visitVarInsn(ASTORE, its.covered);
            }
            for (int rest = its.used; rest != 0; rest &= rest - 1) {
                int register = Integer.numberOfTrailingZeros(rest);
                m.visitVarInsn(ALOAD, its.registers);
                emit.push(register);
                m.visitInsn(IALOAD);
                m.visitVarInsn(ISTORE, its.locals[register]);
            }
        }
    }

    /**
     * Where all ways out meet, and what comes before goes on to, with the answer on the stack; everything is written back.
     */
    void writeExit() {
        Label leave = new Label();
        m.visitJumpInsn(GOTO, leave);
        exits.forEach((step, exit) -> {
            m.visitLabel(exit);
            emit.push(step);
            m.visitJumpInsn(GOTO, leave);
        });
        m.visitLabel(leave);
        for (Lane its : lanes.values()) {
            if (its.asks) {
                m.visitVarInsn(ALOAD, its.core);
                m.visitVarInsn(ILOAD, its.address);
                m.visitFieldInsn(PUTFIELD, OWN + "Core", "accessAddress", "I");
            }
            for (int rest = its.written; rest != 0; rest &= rest - 1) {
                int register = Integer.numberOfTrailingZeros(rest);
                m.visitVarInsn(ALOAD, its.registers);
                emit.push(register);
                m.visitVarInsn(ILOAD, its.locals[register]);
                m.visitInsn(IASTORE);
            }
        }
    }

    void writeSteps() {
        for (int i = 0; i < steps.size(); i++) {
            Step step = steps.get(i);
            number = from + i;
            lane = lane(step.core());
            if (step.effect()) {
                writeEffect(step.word());
            } else {
                write(step);
            }
        }
    }

    private void pushWork(Lane its) {
        emit.pushField(LOOP, "ChipLoop", "works", "[L" + OWN + "PrivateWork;");
        emit.push(its.number);
        m.visitInsn(AALOAD);
    }

    private void writeEffect(int word) {
        m.visitVarInsn(ALOAD, SHARED);
        if (Word.hasConstant(word)) {
            m.visitVarInsn(ILOAD, lane.address);
        } else {
            emit.push(Word.absolute(word));
        }
        emit.access(word, SPARE);
    }

    private void write(Step step) {
        int word = step.word();
        int op = Word.op(word);
        switch (op) {
            case Codes.SET -> emit.set(word);
            case Codes.UPPER -> emit.upper(word);
            case Codes.READ -> {
                if (Word.low(word) == Codes.TIME) {
                    pushTime(step.time());
                } else {
                    emit.push(step.core());
                }
                emit.popRegister(Word.rd(word));
            }
            case Codes.LOAD, Codes.STORE -> writeLoadOrStore(step);
            case Codes.DIV, Codes.REM -> {
                if (step.exit() != null) {
                    emit.pushB(word);
                    exitIf(IFEQ);
                }
                emit.three(word);
            }
            case Codes.FETCH, Codes.POST, Codes.SWAP, Codes.BUMP -> {
                if (Word.hasConstant(word)) {
                    emit.pushAddress(word);
                    m.visitVarInsn(ISTORE, SPARE);
                    m.visitVarInsn(ILOAD, SPARE);
                    emit.isBelow(chip.shared.length);
                    exitIf(IFEQ);
                    m.visitVarInsn(ILOAD, SPARE);
                    m.visitVarInsn(ISTORE, lane.address);
                }
            }
            case Codes.PAUSE -> {
                if (step.exit() != null) {
                    emit.pushB(word);
                    exitUnlessHeld(step, cost.plain());
                }
            }
            case Codes.UNTIL -> {
                emit.pushB(word);
                pushTime(step.time() + cost.plain());
                m.visitInsn(ISUB);
                exitUnlessHeld(step, 0);
            }
            case Codes.JUMP, Codes.CALL, Codes.NEAR -> {
                if (step.exit() != null) {
                    emit.pushRegister(Word.low(word));
                    emit.push(step.next());
                    exitIf(IF_ICMPNE);
                }
                if (op == Codes.CALL) {
                    emit.push(step.address() + 1);
                    emit.popRegister(15);
                }
            }
            case Codes.JUMP_IF -> {
                emit.pushCondition(word);
                exitIf(step.next() == step.address() + 1 ? IFNE : IFEQ);
            }
            case Codes.AGAIN -> {
                emit.pushRegister(Word.rd(word));
                emit.push(1);
                exitIf(step.next() == step.address() + 1 ? IF_ICMPNE : IF_ICMPEQ);
                m.visitIincInsn(lane.locals[Word.rd(word)], -1);
            }
            default -> emit.three(word);
        }
    }

    private void writeLoadOrStore(Step step) {
        int word = step.word();
        emit.pushAddress(word);
        m.visitVarInsn(ISTORE, SPARE);
        if (step.exit() != null) {
            m.visitVarInsn(ILOAD, SPARE);
            emit.isBelow(chip.design.privateWords());
            exitIf(IFEQ);
        }
        if (Word.op(word) == Codes.STORE) {
            m.visitVarInsn(ALOAD, lane.covered);
            m.visitVarInsn(ILOAD, SPARE);
            m.visitInsn(BALOAD);
            exitIf(IFNE);
        }
        m.visitVarInsn(ALOAD, lane.ram);
        m.visitVarInsn(ILOAD, SPARE);
        if (Word.op(word) == Codes.LOAD) {
            m.visitInsn(IALOAD);
            emit.popRegister(Word.rd(word));
        } else {
            emit.pushRegister(Word.rd(word));
            m.visitInsn(IASTORE);
        }
    }

    /** Leaves unless what is on the stack makes a pause or until as long as it was: sleep and so many cycles, or less. */
    private void exitUnlessHeld(Step step, int more) {
        long sleep = step.cycles() - cost.plain();
        emit.push((int) sleep + more);
        exitIf(sleep > 0 ? IF_ICMPNE : IF_ICMPGT);
    }

    /** The low 32 bits of a cycle of the round. */
    private void pushTime(long cycle) {
        m.visitVarInsn(LLOAD, BASE);
        m.visitLdcInsn(cycle - start);
        m.visitInsn(LADD);
        m.visitInsn(L2I);
    }

    /** Leaves before the step at hand. */
    private void exitIf(int jump) {
        m.visitJumpInsn(jump, exits.computeIfAbsent(number, step -> new Label()));
    }
}
