package octurn.benchmarks;

import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.asm.Program;
import octurn.design.Design;

/** What the cores do while they are timed: endless programs, the same on every core. */
public enum Load {
    /** Nothing but plain instructions: the most that can happen in a cycle. */
    PLAIN("""
            core all
            more:   add   r1, r1, 1
                    add   r2, r2, r1
                    xor   r3, r2, 5
                    sub   r4, r3, r1
                    shl   r5, r4, 3
                    or    r6, r5, r4
                    and   r7, r6, 255
                    add   r8, r8, r7
                    jump  more
            """),
    /** A shared word fetched, counted up and posted, over and over: hardly anything but waits. */
    SHARED("""
            core all
            more:   fetch r1, [drips]
                    add   r1, r1, 1
                    post  r1, [drips]
                    jump  more
            shared
            drips:  word  0
            """),
    /** The same after random work of some 10 to 70 cycles, by xorshift32: no two rounds are alike. */
    IRREGULAR("""
            core all
                    read  r9, core
                    add   r9, r9, 7
            more:   shl   r2, r9, 13
                    xor   r9, r9, r2
                    shr   r2, r9, 17
                    xor   r9, r9, r2
                    shl   r2, r9, 5
                    xor   r9, r9, r2
                    and   r2, r9, 31
                    add   r2, r2, 1
            think:  again r2, think
                    fetch r1, [drips]
                    add   r1, r1, 1
                    post  r1, [drips]
                    jump  more
            shared
            drips:  word  0
            """),
    /** Asleep but for a few instructions a millisecond, at 48 MHz. */
    ASLEEP("""
            core all
                    read  r2, time
                    big   r3, 48000
            more:   add   r2, r2, r3
                    until r2
                    add   r1, r1, 1
                    and   r4, r1, 255
                    jump  more
            """);

    private final String text;

    Load(String text) {
        this.text = text;
    }

    /** Its source. */
    public String text() {
        return text;
    }

    /** The program for this design. */
    public Program program(Design design) {
        Assembly assembly = Assembler.assemble(name().toLowerCase(java.util.Locale.ROOT) + ".turn", text, design);
        if (assembly instanceof Assembly.Assembled assembled) {
            return assembled.program();
        }
        throw new IllegalStateException(assembly.toString());
    }
}
