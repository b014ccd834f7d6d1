package octurn.machine;

import org.objectweb.asm.ClassWriter;
import org.objectweb.asm.Label;
import org.objectweb.asm.MethodVisitor;
import org.objectweb.asm.Opcodes;

/**
 * Writes the code of a {@link ChipLoop}: the steps of a round one after the other. A round of many steps is cut into
 * parts, a method each: the virtual machine takes long to compile a longer one, and leaves too long a one alone.
 */
final class ChipLoopWriter implements Opcodes {

    /** Steps of a part. */
    private static final int STEPS = 50;

    private static final String OWN = Emitter.OWN;
    private static final String NAME = "Looped";

    /** All methods have the parameters of {@link ChipLoop.Code#run}. */
    private static final String SIGNATURE = "(L" + OWN + "ChipLoop;JJ)I";

    // Local variables: what comes in, and one for a number that is needed at once.
    static final int LOOP = 1;
    static final int BASE = 2;
    private static final int LAST = 4;
    static final int SPARE = 6;

    private final Chip chip;
    private final Round round;
    private final ClassWriter writer = Emitter.beginClass(NAME, "ChipLoop$Code");

    ChipLoopWriter(Chip chip, Round round) {
        this.chip = chip;
        this.round = round;
    }

    ChipLoop.Code write() {
        int steps = round.steps().size();
        if (steps <= STEPS) {
            writeRound();
        } else {
            int parts = 0;
            for (int from = 0; from < steps; from += STEPS) {
                writePart(parts++, from, Math.min(steps, from + STEPS));
            }
            writeRun(parts);
        }
        return Emitter.load(writer, ChipLoop.Code.class);
    }

    /** Goes round with everything in one method. */
    private void writeRound() {
        MethodVisitor m = begin("run");
        LoopPartWriter part =
                new LoopPartWriter(m, chip, round, 0, round.steps().size());
        Label begin = new Label();
        part.writeEntry();
        m.visitLabel(begin);
        part.writeSteps();
        writeEndOfRound(m, begin);
        part.writeExit();
        writeBase(m);
        end(m);
    }

    private void writePart(int number, int from, int to) {
        MethodVisitor m = begin(partName(number));
        LoopPartWriter part = new LoopPartWriter(m, chip, round, from, to);
        part.writeEntry();
        part.writeSteps();
        pushWhole(m);
        part.writeExit();
        end(m);
    }

    private static String partName(int number) {
        return "part" + number;
    }

    /** Goes round, part after part, until the last round is done or a part is left on the way. */
    private void writeRun(int parts) {
        MethodVisitor m = begin("run");
        Label begin = new Label();
        Label leave = new Label();
        m.visitLabel(begin);
        for (int part = 0; part < parts; part++) {
            m.visitVarInsn(ALOAD, 0);
            m.visitVarInsn(ALOAD, LOOP);
            m.visitVarInsn(LLOAD, BASE);
            m.visitVarInsn(LLOAD, LAST);
            m.visitMethodInsn(INVOKEVIRTUAL, OWN + NAME, partName(part), SIGNATURE, false);
            m.visitInsn(DUP);
            m.visitVarInsn(ISTORE, SPARE);
            m.visitJumpInsn(IFGE, leave);
        }
        writeEndOfRound(m, begin);
        m.visitVarInsn(ISTORE, SPARE);
        m.visitLabel(leave);
        writeBase(m);
        m.visitVarInsn(ILOAD, SPARE);
        end(m);
    }

    /** Goes round again, unless that was the last time. */
    private void writeEndOfRound(MethodVisitor m, Label begin) {
        m.visitVarInsn(LLOAD, BASE);
        m.visitLdcInsn(round.cycles());
        m.visitInsn(LADD);
        m.visitVarInsn(LSTORE, BASE);
        m.visitVarInsn(LLOAD, BASE);
        m.visitVarInsn(LLOAD, LAST);
        m.visitInsn(LCMP);
        m.visitJumpInsn(IFLE, begin);
        pushWhole(m);
    }

    private static void pushWhole(MethodVisitor m) {
        m.visitLdcInsn(ChipLoop.WHOLE);
    }

    private static void writeBase(MethodVisitor m) {
        m.visitVarInsn(ALOAD, LOOP);
        m.visitVarInsn(LLOAD, BASE);
        m.visitFieldInsn(PUTFIELD, OWN + "ChipLoop", "base", "J");
    }

    private MethodVisitor begin(String name) {
        MethodVisitor m = writer.visitMethod(ACC_PUBLIC, name, SIGNATURE, null, null);
        m.visitCode();
        return m;
    }

    /** The method answers what is on the stack. */
    private static void end(MethodVisitor m) {
        m.visitInsn(IRETURN);
        m.visitMaxs(0, 0);
        m.visitEnd();
    }
}
