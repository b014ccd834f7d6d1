package octurn.machine;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Random;
import java.util.stream.LongStream;
import java.util.stream.Stream;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.design.Scenario;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Programs in which the same comes again and again, so that the fast engine goes round a {@link ChipLoop}, and then
 * something else does: at any cycle the chip is that of the clear engine. More random ones: {@code mvn -pl core test
 * -Dtest=ChipLoopTest -Docturn.seeds=5000 -Docturn.seed=1}.
 */
class ChipLoopTest {

    private static final int CORES = 4;
    private static final long LIMIT = 40_000;

    private static long compare(Design design, String text) {
        return compare(design, text, 7);
    }

    private static long compare(Design design, String text, long seed) {
        return new EagerRuns(Trial.assemble(design, text), Scenario.QUIET, LIMIT)
                .compare(seed, 9000, design.admission() + "\n" + text);
    }

    private static final Design FOUR = TestDesign.design().cores(CORES).build();

    // ---- it goes round ----

    static Stream<Admission> orderlyPolicies() {
        return policies().filter(admission -> !(admission instanceof Admission.Lottery));
    }

    static Stream<Admission> policies() {
        return Stream.of(
                new Admission.Rotation(Design.plainOrder(CORES)),
                new Admission.Rotation(List.of(2, 0, 1, 0, 3, 0)),
                new Admission.Rotation(List.of(2, 0, 1)),
                new Admission.NextWaiting(),
                new Admission.Priority(List.of(3, 0, 2, 1)),
                new Admission.FirstCome(),
                new Admission.Lottery(List.of(1, 5, 2, 9), 77),
                new Admission.OwnPort());
    }

    private static final String COUNT = """
            core all
            more:   fetch r1, [drips]
                    add   r1, r1, 1
                    post  r1, [drips]
                    jump  more
            shared
            drips:  word 0
            """;

    @ParameterizedTest
    @MethodSource("orderlyPolicies")
    void endlessLoop_isGoneRoundForMostOfTheTime(Admission admission) {
        Design design = TestDesign.under(admission).cores(CORES).build();

        assertThat(compare(design, COUNT)).isGreaterThan(LIMIT / 2);
    }

    @Test
    void lottery_isNever() {
        Design design = TestDesign.under(new Admission.Lottery(List.of(1, 1, 1, 1), 5))
                .cores(CORES)
                .build();

        assertThat(compare(design, COUNT)).isZero();
    }

    @Test
    void coresThatNeverGetATurn_waitAllTheTime() {
        Design design = TestDesign.under(new Admission.Priority(List.of(1, 0, 2, 3)))
                .cores(CORES)
                .build();

        assertThat(compare(design, """
                core all
                more:   bump r1, [drips]
                        jump more
                shared
                drips:  word 0
                """)).isGreaterThan(LIMIT / 2);
    }

    /** The core has two turns in a rotation, after gaps of its own: what follows on them is not the same. */
    @Test
    void turnsAtUnequalDistances_areNotTakenForEachOther() {
        Design design = TestDesign.rotation(0, 0, 1, 2, 3, 1, 0)
                .cores(CORES)
                .slotCycles(2)
                .build();
        String text = """
                core 0
                        set   r9, %d
                more:   bump  r1, [drips]
                        pause %d
                        again r9, more
                        halt
                shared
                drips:  word 0
                """;

        for (int pause = 1; pause < 20; pause++) {
            compare(design, text.formatted(1000, pause));
            compare(design, text.formatted(1001, pause));
        }
    }

    /** Waits too long for the tables that others are counted in. */
    @Test
    void waitsOfAThousandCycles_areCountedOnce() {
        Design rotation = TestDesign.rotation(0, 1, 2, 3, 1, 2, 3, 1, 2, 3, 1, 2, 3, 1, 2, 3, 1, 2, 3, 1)
                .cores(CORES)
                .slotCycles(64)
                .build();
        Design firstCome = TestDesign.under(new Admission.FirstCome())
                .cores(20)
                .slotCycles(64)
                .build();

        assertThat(compare(rotation, COUNT)).isPositive();
        assertThat(compare(firstCome, COUNT)).isPositive();
    }

    /** The times alone come again after one call, the way through the code after two. */
    @Test
    void subroutineCalledFromTwoPlaces_isOneLoop() {
        assertThat(compare(FOUR, """
                core all
                more:   call part
                        add  r2, r2, 1
                        call part
                        sub  r2, r2, 3
                        jump more
                part:   fetch r1, [drips]
                        add  r1, r1, r2
                        post r1, [drips]
                        ret
                shared
                drips:  word 0
                """)).isGreaterThan(LIMIT / 2);
    }

    @Test
    void timeSleepAndPrivateMemory_areThoseOfEachRound() {
        assertThat(compare(FOUR, """
                core all
                        read  r9, core
                        read  r8, time
                more:   add   r8, r8, 120
                        read  r1, time
                        store r1, [last]
                        bump  r1, [drips]
                        load  r2, [last]
                        pause 7
                        add   r3, r3, r2
                        post  r3, [r9+cells]
                        until r8
                        jump  more
                last:   word 0
                shared
                drips:  word 0
                cells:  space 4
                """)).isGreaterThan(LIMIT / 2);
    }

    @Test
    void pins_interruptItOnly() {
        String text = """
                core 0..2
                more:   bump  r1, [drips]
                        jump  more
                core 3
                        set   r1, 4
                        set   r2, 1
                        write drive, r2
                flip:   xor   r2, r2, 1
                        write out, r2
                        pause 3000
                        jump  flip
                shared
                drips:  word 0
                """;

        assertThat(compare(FOUR, text, 3)).isGreaterThan(LIMIT / 4);
    }

    // ---- and leaves ----

    /** After some hundred rounds something else happens, by an instruction that could be a fault, or leads elsewhere. */
    static Stream<String> ends() {
        return Stream.of(
                // A counter comes to its end.
                "again r9, more\n halt",
                "sub r9, r9, 1\n jump more if r9 != 0\n halt",
                "sub r9, r9, 1\n jump over if r9 == 0\n jump more\nover: halt",
                // An address leaves the memory.
                "add r8, r8, 1\n fetch r2, [r8+60]\n jump more",
                "add r8, r8, 1\n load r2, [r8+700]\n jump more",
                "add r8, r8, 1\n store r2, [r8+700]\n jump more",
                // A divisor becomes 0.
                "sub r9, r9, 1\n div r2, r1, r9\n jump more",
                "sub r9, r9, 1\n rem r2, r1, r9\n jump more",
                // A jump by register leads elsewhere.
                "set r5, more\n again r9, on\n set r5, away\non: jump r5\naway: halt",
                "set r5, more\n again r9, on\n set r5, away\non: call r5\naway: add r2, r2, r15\n halt",
                // Sleep becomes longer, and is none any more.
                "shr r5, r9, 3\n pause r5\n again r9, more\n halt",
                "shr r5, r9, 6\n pause r5\n again r9, more\n halt",
                "add r6, r6, 90\n until r6\n shr r5, r9, 5\n add r6, r6, r5\n again r9, more\n halt",
                "add r6, r6, 30\n until r6\n again r9, more\n halt",
                // Code is changed: an instruction of the loop, before it comes to it and after.
                "again r9, more\n set r9, 200\n load r5, [kind]\n store r5, [spot]\nspot: add r2, r2, 1\n jump more\n"
                        + "kind: sub r2, r2, 7",
                "spot: sub r2, r2, 1\n again r9, more\n set r9, 90\n load r5, [kind]\n load r6, [spot]\n store r5, [spot]\n"
                        + "store r6, [kind]\n jump more\nkind: sub r2, r2, 7",
                "sub r9, r9, 1\n load r5, [kind]\n store r5, [r9+spot]\nspot: add r2, r2, 1\n jump more\n"
                        + "kind: sub r2, r2, 7\n space 300",
                // Something that is not done in a loop.
                "again r9, more\n set r9, 100\n write out, r9\n jump more",
                "again r9, more\n set r5, -1\n set r6, part\n start r5, r6, r9\n halt\n image part\n set r1, 5\n halt",
                "again r9, more\n set r5, 2\n stop r5\n halt");
    }

    @ParameterizedTest
    @MethodSource("ends")
    void loopThatEnds_isLeftInTime(String end) {
        long gone = 0;
        for (Admission admission : policies().toList()) {
            Design design =
                    TestDesign.under(admission).cores(CORES).sharedWords(400).build();
            // The cores leave it at once, or one after the other.
            for (int apart : new int[] {0, 1, 40}) {
                String begin = """
                        core 0..2
                                read r9, core
                                mul  r9, r9, %d
                                add  r9, r9, 200
                        more:   fetch r1, [drips]
                                add  r1, r1, 1
                                post r1, [drips]
                        """.formatted(apart);
                gone += compare(design, begin + end.indent(8) + "shared\ndrips: word 0\n");
            }
        }
        assertThat(gone).isPositive();
    }

    /** A start is not one of the accesses that loops are made of; with no idle core it has no other effect. */
    @ParameterizedTest
    @MethodSource("policies")
    void requestForAStart_isAdmittedInItsTurn(Admission admission) {
        Design design = TestDesign.under(admission).cores(CORES).build();

        compare(design, """
                core 3
                        set   r6, part
                        set   r9, 40
                more:   pause 700
                        set   r5, -1
                        start r5, r6, r9
                        again r9, more
                        halt
                core 0..2
                more:   bump  r1, [drips]
                        jump  more
                shared
                drips:  word 0
                image part
                        halt
                """);
    }

    /** Whether it was a jump shows in the time alone. */
    @ParameterizedTest
    @ValueSource(strings = {"jump on if r9 > 120\non: sub r9, r9, 1", "sub r9, r9, 1\n again r8, on\non: nop"})
    void jumpToTheNextInstruction_takesLongerThanNone(String jump) {
        compare(FOUR, """
                core all
                        set   r9, 200
                        set   r8, 80
                more:   bump  r1, [drips]
                """ + jump.indent(8) + """
                        jump  more if r9 > 0
                        halt
                shared
                drips:  word 0
                """);
    }

    // ---- at random ----

    private static final String[] LINES = {
        "fetch r1, [cells]",
        "fetch r2, [r8+1]",
        "post r1, [cells+1]",
        "post r2, [r8+2]",
        "swap r1, [cells+2]",
        "swap r3, [r8+3]",
        "bump r4, [cells+3]",
        "bump r4, [r8]",
        "add r1, r1, 1",
        "xor r2, r2, r4",
        "upper r2, 77",
        "mul r3, r3, r1",
        "div r5, r5, 3",
        "read r5, time",
        "read r6, core",
        "pause 7",
        "call part",
        "store r1, [data]",
        "store r2, [r7+data]",
        "load r3, [data]",
        "load r4, [r7+data]"
    };

    static LongStream seeds() {
        long first = Long.getLong("octurn.seed", 1);
        return LongStream.range(first, first + Long.getLong("octurn.seeds", 100));
    }

    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void nestedLoops_giveTheReportOfTheClearEngine(long seed) {
        Random random = new Random(seed);
        List<Admission> all = policies().toList();
        Design design = TestDesign.under(all.get(random.nextInt(all.size())))
                .cores(CORES)
                .slotCycles(1 + random.nextInt(random.nextInt(10) == 0 ? 64 : 5))
                .cost(1 + random.nextInt(3), 1 + random.nextInt(3), 1 + random.nextInt(4), 4, 16)
                .build();
        StringBuilder text = new StringBuilder();
        if (random.nextBoolean()) {
            text.append("core all\n").append(loops(random));
        } else {
            for (int core = 0; core < CORES; core++) {
                text.append("core ").append(core).append('\n').append(loops(random));
            }
        }
        text.append("shared\ncells: word 1, 0, 5, -1\n");

        compare(design, text.toString(), seed);
    }

    private static String loops(Random random) {
        StringBuilder text = new StringBuilder("        set r8, cells\n        set r9, %d\n        read r12, time\n"
                .formatted(1 + random.nextInt(60)));
        text.append("outer:\n");
        lines(random, text, 3);
        text.append("        set r10, ").append(1 + random.nextInt(120)).append("\ninner:\n");
        lines(random, text, 6);
        if (random.nextInt(3) == 0) {
            text.append("        add r12, r12, %d\n        until r12\n".formatted(10 + random.nextInt(150)));
        }
        text.append("        fetch r1, [cells]\n        again r10, inner\n");
        if (random.nextInt(3) == 0) {
            text.append("        load r7, [kinds]\n        load r6, [spot]\n        store r6, [kinds]\n");
            text.append("        store r7, [spot]\n        set r7, 0\n");
        }
        text.append("spot:   bump r4, [cells]\n");
        lines(random, text, 3);
        text.append("        again r9, outer\n        halt\n");
        text.append("part:   add r2, r2, 3\n        post r2, [cells]\n        ret\n");
        return text.append("kinds:  add r4, r4, 5\ndata:   word 3\n").toString();
    }

    private static void lines(Random random, StringBuilder text, int most) {
        for (int i = random.nextInt(most + 1); i > 0; i--) {
            text.append("        ").append(LINES[random.nextInt(LINES.length)]).append('\n');
        }
    }
}
