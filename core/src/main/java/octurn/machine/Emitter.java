package octurn.machine;

import java.lang.invoke.MethodHandles;
import octurn.isa.Op;
import octurn.isa.Word;
import org.objectweb.asm.ClassWriter;
import org.objectweb.asm.MethodVisitor;
import org.objectweb.asm.Opcodes;

/**
 * Writes Java bytecode for what instructions compute, with the registers of a core in local variables. What they compute
 * is not said again here: the bytecode calls {@link Alu}.
 */
final class Emitter implements Opcodes {

    /** The most bytes of a method that the virtual machine compiles. */
    static final int MOST_BYTES = 8000;

    /** The package of these classes, as bytecode spells it. */
    static final String OWN = "octurn/machine/";

    private static final String OBJECT = "java/lang/Object";

    /** Where the registers of the core at hand are. */
    @FunctionalInterface
    interface Locals {
        int of(int register);
    }

    private final MethodVisitor m;
    private final Locals locals;

    /** A class of this package that implements an interface of this package, with nothing in it yet. */
    static ClassWriter beginClass(String name, String implemented) {
        ClassWriter writer = new ClassWriter(ClassWriter.COMPUTE_FRAMES | ClassWriter.COMPUTE_MAXS) {
            @Override
            protected String getCommonSuperClass(String one, String other) {
                return OBJECT;
            }
        };
        writer.visit(V17, ACC_FINAL | ACC_SUPER, OWN + name, null, OBJECT, new String[] {OWN + implemented});
        MethodVisitor init = writer.visitMethod(0, "<init>", "()V", null, null);
        init.visitVarInsn(ALOAD, 0);
        init.visitMethodInsn(INVOKESPECIAL, OBJECT, "<init>", "()V", false);
        init.visitInsn(RETURN);
        init.visitMaxs(0, 0);
        init.visitEnd();
        return writer;
    }

    /** An object of the class, which is written. */
    static <T> T load(ClassWriter writer, Class<T> implemented) {
        writer.visitEnd();
        try {
            return implemented.cast(MethodHandles.lookup()
                    .defineHiddenClass(writer.toByteArray(), true)
                    .lookupClass()
                    .getDeclaredConstructor()
                    .newInstance());
        } catch (ReflectiveOperationException e) {
            throw new IllegalStateException("code that does not load", e);
        }
    }

    Emitter(MethodVisitor m, Locals locals) {
        this.m = m;
        this.locals = locals;
    }

    void push(int value) {
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

    void pushRegister(int register) {
        m.visitVarInsn(ILOAD, locals.of(register));
    }

    void popRegister(int register) {
        m.visitVarInsn(ISTORE, locals.of(register));
    }

    /** The field of the object in this local variable; both classes of this package, where the type is one. */
    void pushField(int local, String owner, String name, String type) {
        m.visitVarInsn(ALOAD, local);
        m.visitFieldInsn(GETFIELD, OWN + owner, name, type);
    }

    /** A register or a constant: the last operand of most instructions. */
    void pushB(int word) {
        if (Word.hasConstant(word)) {
            push(Word.constant(word));
        } else {
            pushRegister(Word.low(word));
        }
    }

    /** The address that a load, store or access is for. */
    void pushAddress(int word) {
        if (Word.hasConstant(word)) {
            pushRegister(Word.ra(word));
            push(Word.constant(word));
            m.visitInsn(IADD);
        } else {
            push(Word.absolute(word));
        }
    }

    /** Whether the condition of a conditional jump holds. */
    void pushCondition(int word) {
        push(Word.rd(word));
        pushRegister(Word.ra(word));
        if (Word.hasConstant(word)) {
            push(Word.branchConstant(word));
        } else {
            pushRegister(Word.branchRegister(word));
        }
        m.visitMethodInsn(INVOKESTATIC, OWN + "Alu", "holds", "(III)Z", false);
    }

    /** Whether the number on the stack is below this one, both unsigned, takes its place. */
    void isBelow(int number) {
        push(number);
        m.visitMethodInsn(INVOKESTATIC, OWN + "Alu", "isBelow", "(II)Z", false);
    }

    void set(int word) {
        push(Word.wide(word));
        popRegister(Word.rd(word));
    }

    void upper(int word) {
        pushRegister(Word.rd(word));
        push(Word.upper(word));
        alu("upper");
        popRegister(Word.rd(word));
    }

    /** An instruction of the form {@code op rd, ra, b}. */
    void three(int word) {
        pushRegister(Word.ra(word));
        pushB(word);
        Op op = Op.of(Word.op(word));
        alu(op == null ? "" : op.mnemonic());
        popRegister(Word.rd(word));
    }

    private void alu(String name) {
        m.visitMethodInsn(INVOKESTATIC, OWN + "Alu", name, "(II)I", false);
    }

    /**
     * The effect of an access to the memory and the address on the stack.
     *
     * @param spare a local variable to be used on the way
     */
    void access(int word, int spare) {
        int op = Word.op(word);
        int rd = Word.rd(word);
        if (Alu.writesShared(op)) {
            m.visitInsn(DUP2);
        }
        m.visitInsn(IALOAD);
        m.visitVarInsn(ISTORE, spare);
        if (Alu.writesShared(op)) {
            push(op);
            pushRegister(rd);
            m.visitVarInsn(ILOAD, spare);
            m.visitMethodInsn(INVOKESTATIC, OWN + "Alu", "posted", "(III)I", false);
            m.visitInsn(IASTORE);
        }
        if (Alu.readsShared(op)) {
            m.visitVarInsn(ILOAD, spare);
            popRegister(rd);
        }
    }
}
