package octurn.machine;

import java.util.List;
import octurn.machine.ChipLoop.Step;
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
    private final long start;
    private final long cycles;
    private final List<Step> steps;
    private final ClassWriter writer = Emitter.beginClass(NAME, "ChipLoop$Code");

    /**
     * @param start the cycle at which the first round began
     * @param cycles how long a round takes
     * @param steps of that round
     */
    ChipLoopWriter(Chip chip, long start, long cycles, List<Step> steps) {
        this.chip = chip;
        this.start = start;
        this.cycles = cycles;
        this.steps = steps;
    }

    ChipLoop.Code write() {
        if (steps.size() <= STEPS) {
            writeRound();
        } else {
            int parts = 0;
            for (int from = 0; from < steps.size(); from += STEPS) {
                writePart(parts++, from, Math.min(steps.size(), from + STEPS));
            }
            writeRun(parts);
        }
        return Emitter.load(writer, ChipLoop.Code.class);
    }

    /** Goes round with everything in one method. */
    private void writeRound() {
        MethodVisitor m = begin("run");
        LoopPartWriter part = new LoopPartWriter(m, chip, start, steps, 0, steps.size());
        Label round = new Label();
        part.writeEntry();
        m.visitLabel(round);
        part.writeSteps();
        writeEndOfRound(m, round);
        part.writeExit();
        writeBase(m);
        end(m);
    }

    private void writePart(int number, int from, int to) {
        MethodVisitor m = begin(partName(number));
        LoopPartWriter part = new LoopPartWriter(m, chip, start, steps, from, to);
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
        Label round = new Label();
        Label leave = new Label();
        m.visitLabel(round);
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
        writeEndOfRound(m, round);
        m.visitVarInsn(ISTORE, SPARE);
        m.visitLabel(leave);
        writeBase(m);
        m.visitVarInsn(ILOAD, SPARE);
        end(m);
    }

    /** Goes round again, unless that was the last time. */
    private void writeEndOfRound(MethodVisitor m, Label round) {
        m.visitVarInsn(LLOAD, BASE);
        m.visitLdcInsn(cycles);
        m.visitInsn(LADD);
        m.visitVarInsn(LSTORE, BASE);
        m.visitVarInsn(LLOAD, BASE);
        m.visitVarInsn(LLOAD, LAST);
        m.visitInsn(LCMP);
        m.visitJumpInsn(IFLE, round);
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
