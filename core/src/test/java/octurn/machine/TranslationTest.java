package octurn.machine;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Random;
import java.util.stream.LongStream;
import octurn.asm.Program;
import octurn.design.Admission;
import octurn.design.Cost;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.report.RunReport;
import octurn.report.RunReports;
import octurn.run.Run;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Private code that runs so long that the fast engine translates it: the chip at any time is that of the clear engine. */
class TranslationTest {

    private static final long LIMIT = 200_000;

    private static void assertEnginesAgree(Design design, String text, long step) {
        Program program = Trial.assemble(design, text);
        Run clear = Run.of(program, Scenario.QUIET, LIMIT, Engine.Maker.CLEAR);
        Run fast = Run.of(program, Scenario.QUIET, LIMIT, Engine.Maker.FAST);
        for (long cycle = 0; cycle < LIMIT && !clear.isOver(); cycle += step) {
            clear.runTo(cycle);
            fast.runTo(cycle);
            if (!report(fast).equals(report(clear))) {
                assertThat(report(fast))
                        .as("at %d, step %d, of%n%s", cycle, step, text)
                        .isEqualTo(report(clear));
            }
        }
        Run inOneGo = Run.of(program, Scenario.QUIET, LIMIT, Engine.Maker.FAST);
        clear.finish();
        fast.finish();
        inOneGo.finish();
        assertThat(report(fast)).as("step %d of%n%s", step, text).isEqualTo(report(clear));
        assertThat(report(inOneGo)).as(text).isEqualTo(report(clear));
    }

    private static RunReport report(Run run) {
        return RunReports.of(run);
    }

    /** Enough plain work to make a stretch long. */
    private static final String WORK = "        add   r3, r3, r2\n".repeat(30);

    @Test
    void loopOfPlainWork_goesOnFromAnyStop() {
        assertEnginesAgree(Design.DEFAULT, """
                core 0
                        set   r2, 7
                more:
                """ + WORK + """
                        jump  more
                """, 7001);
    }

    /**
     * Parts of a program that know of each other through registers alone are translated apart. One of them stored into
     * another, whose translation was kept all the same, so that the old instruction went on being done.
     *
     * <p>The lengths are such that what stores is translated first: had the other been, the store would have been done one
     * by one, and seen.
     */
    @Test
    void storeIntoCodeThatWasTranslatedApart_isDoneFromThenOn() {
        String text = """
                core 0
                        set   r8, part
                outer:  bump  r0, [0]
                        xor   r7, r7, 1
                        load  r1, [r7+kinds]
                        store r1, [spot]
                """ + WORK + """
                        call  r8
                        bump  r0, [0]
                """ + WORK + """
                        call  r8
                        bump  r0, [0]
                """ + "        nop\n".repeat(79) + """
                        jump  outer
                kinds:  add   r2, r2, 1
                        add   r2, r2, 5
                part:   bump  r0, [0]
                """ + WORK + """
                spot:   add   r2, r2, 1
                        ret
                """;

        for (long step : new long[] {300, 5003, LIMIT}) {
            assertEnginesAgree(TestDesign.design().cores(1).slotCycles(1).build(), text, step);
        }
    }

    @Test
    void storeIntoItself_isDoneFromThenOn() {
        assertEnginesAgree(Design.DEFAULT, """
                core 0
                outer:  xor   r7, r7, 1
                        load  r1, [r7+kinds]
                """ + WORK + """
                        store r1, [spot]
                spot:   add   r2, r2, 1
                        jump  outer
                kinds:  add   r2, r2, 1
                        add   r2, r2, 5
                """, 5003);
    }

    @Test
    void faultInHotCode_isThatOfItsInstruction() {
        // After about 1000 rounds the divisor is 0.
        assertEnginesAgree(Design.DEFAULT, """
                core 0
                        set   r5, 1000
                more:   sub   r5, r5, 1
                """ + WORK + """
                        div   r6, r3, r5
                        jump  more
                """, 5003);
    }

    @Test
    void storeOutsidePrivateRamInHotCode_faults() {
        assertEnginesAgree(Design.DEFAULT, """
                core 0
                        set   r5, data
                more:   add   r5, r5, 1
                """ + WORK + """
                        store r5, [r5]
                        jump  more
                data:   word  0
                """, 5003);
    }

    @Test
    void hotCodeThatRunsOffTheEnd_faults() {
        assertEnginesAgree(TestDesign.design().privateWords(64).build(), """
                core 0
                        set   r5, 2000
                more:
                """ + WORK + """
                        again r5, more
                        near  63
                        space 30
                last:   nop
                """, 5003);
    }

    static LongStream seeds() {
        return LongStream.rangeClosed(1, 40);
    }

    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void randomHotCode_isDoneAlike(long seed) {
        RandomHotCode code = new RandomHotCode(seed);
        assertEnginesAgree(code.design(), code.text(), code.step());
    }

    /** Loops and subroutines of random private work, with stores into code and now and then something else. */
    private static final class RandomHotCode {
        private static final String[] THREES = {
            "add", "sub", "and", "or", "xor", "shl", "shr", "sar", "rol", "mul", "mulh", "add", "xor"
        };
        private static final String[] CONDITIONS = {"==", "!=", "<", "<=", ">", ">=", "u<", "u<=", "u>", "u>="};

        private final Random random;
        private final int parts;
        private final boolean changesItself;
        private final boolean wanders;
        private int labels;

        RandomHotCode(long seed) {
            random = new Random(seed * 0x9E3779B97F4A7C15L);
            parts = 1 + random.nextInt(3);
            changesItself = random.nextInt(3) == 0;
            wanders = random.nextInt(4) == 0;
        }

        Design design() {
            Cost cost = random.nextBoolean()
                    ? Cost.DEFAULT
                    : new Cost(
                            1 + random.nextInt(3),
                            1 + random.nextInt(4),
                            1 + random.nextInt(4),
                            1 + random.nextInt(6),
                            1 + random.nextInt(20));
            Admission admission =
                    random.nextBoolean() ? new Admission.NextWaiting() : new Admission.Rotation(Design.plainOrder(2));
            return new Design("hot", 2, 1024, 64, 3, admission, cost, 4, Design.DEFAULT.clock());
        }

        long step() {
            return 500L + random.nextInt(30_000);
        }

        String text() {
            StringBuilder text = new StringBuilder("core 0, 1\n");
            line(text, "set r10, data");
            line(text, "set r12, data");
            line(text, "set r9, " + (random.nextInt(4) == 0 ? 200 + random.nextInt(3000) : 2_000_000));
            for (int i = 0; i < 8; i++) {
                line(text, "big r%d, %d".formatted(i, random.nextInt() >> random.nextInt(32)));
            }
            text.append("outer:\n");
            block(text);
            for (int i = 0; i < parts; i++) {
                if (random.nextBoolean()) {
                    line(text, "set r13, part" + i);
                    line(text, "call r13");
                } else {
                    line(text, "call part" + i);
                }
                if (random.nextBoolean()) {
                    block(text);
                }
            }
            line(text, "again r9, outer");
            line(text, "halt");
            for (int i = 0; i < parts; i++) {
                if (random.nextInt(3) == 0) {
                    line(text, "space " + random.nextInt(20));
                }
                text.append("part").append(i).append(":\n");
                block(text);
                line(text, "ret");
            }
            text.append("kinds: add r1, r1, 1\n sub r1, r1, 3\n mul r1, r1, r2\n nop\n");
            text.append("data: word 1, -1, 77, 0x80000000\n space 12\n");
            return text.toString();
        }

        private void block(StringBuilder text) {
            for (int i = 20 + random.nextInt(30); i > 0; i--) {
                instruction(text);
            }
        }

        private void instruction(StringBuilder text) {
            int label = labels++;
            switch (random.nextInt(20)) {
                case 0 -> line(text, "load %s, [r10+%d]".formatted(register(), random.nextInt(16)));
                case 1 -> line(text, "store %s, [data+%d]".formatted(register(), random.nextInt(16)));
                case 2 -> {
                    line(text, "or r7, r7, 1");
                    line(text, "%s %s, %s, r7".formatted(random.nextBoolean() ? "div" : "rem", register(), register()));
                }
                case 3 -> {
                    line(text, "jump skip%d if %s %s %s".formatted(label, register(), condition(), operand()));
                    line(text, "add %s, %s, %s".formatted(register(), register(), register()));
                    text.append("skip%d:%n".formatted(label));
                }
                case 4 -> {
                    line(text, "set r11, " + (1 + random.nextInt(4)));
                    text.append("loop%d:%n".formatted(label));
                    line(text, "xor %s, %s, %s".formatted(register(), register(), operand()));
                    line(text, "again r11, loop" + label);
                }
                case 5 -> line(text, "upper %s, %d".formatted(register(), random.nextInt(1024)));
                case 6 -> line(text, "set %s, %d".formatted(register(), random.nextInt(4_000_000) - 2_000_000));
                case 7 -> {
                    line(text, "%s there%d".formatted(random.nextBoolean() ? "near" : "jump", label));
                    text.append("there%d:%n".formatted(label));
                }
                case 8 -> {
                    if (changesItself && random.nextBoolean()) {
                        line(text, "and r14, r9, 3");
                        line(text, "load r14, [r14+kinds]");
                        line(text, "store r14, [spot%d]".formatted(label));
                        text.append("spot%d: nop%n".formatted(label));
                    }
                }
                case 9 -> {
                    if (wanders && random.nextInt(4) == 0) {
                        // Over the data and, in the end, beyond the memory.
                        line(text, "add r12, r12, 1");
                        line(text, "store r12, [r12]");
                    }
                }
                case 10 -> {
                    if (random.nextInt(6) == 0) {
                        line(text, "bump %s, [%d]".formatted(register(), random.nextInt(8)));
                    }
                }
                case 11 -> {
                    if (random.nextInt(6) == 0) {
                        line(text, random.nextBoolean() ? "read r4, time" : "pause 3");
                    }
                }
                default ->
                    line(
                            text,
                            "%s %s, %s, %s"
                                    .formatted(
                                            THREES[random.nextInt(THREES.length)], register(), register(), operand()));
            }
        }

        private String register() {
            return "r" + random.nextInt(8);
        }

        private String operand() {
            return random.nextBoolean() ? register() : String.valueOf(random.nextInt(250) - 125);
        }

        private String condition() {
            return CONDITIONS[random.nextInt(CONDITIONS.length)];
        }

        private static void line(StringBuilder text, String line) {
            text.append("        ").append(line).append('\n');
        }
    }
}
