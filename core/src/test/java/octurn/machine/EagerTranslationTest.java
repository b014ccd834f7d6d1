package octurn.machine;

import java.util.List;
import java.util.Random;
import java.util.stream.LongStream;
import java.util.stream.Stream;
import octurn.asm.Program;
import octurn.design.Admission;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.reference.RandomPrograms;
import octurn.reference.RandomPrograms.Generated;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Programs whose code is translated almost at once, so that short random ones go through translations, too: at any cycle
 * the chip is that of the clear engine. More of them: {@code mvn -pl core test -Dtest=EagerTranslationTest
 * -Docturn.seeds=5000 -Docturn.seed=1}.
 */
class EagerTranslationTest {

    static LongStream seeds() {
        long first = Long.getLong("octurn.seed", 1);
        return LongStream.range(first, first + Long.getLong("octurn.seeds", 120));
    }

    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void randomProgram_translatedAtOnce_givesTheReportOfTheClearEngine(long seed) {
        Generated generated = RandomPrograms.of(seed);
        Program program = Trial.assemble(generated.design(), generated.text());

        assertEnginesAgree(program, generated.scenario(), generated.limit(), seed, generated.toString());
    }

    /** What cores do with shared words, by statements that others have in it, too. */
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
        "mul r3, r3, r1",
        "read r5, time",
        "read r6, core",
        "pause 7",
        "call part",
        "store r1, [data]",
        "load r3, [data]"
    };

    static Stream<Admission> policies() {
        return Stream.of(
                new Admission.Rotation(Design.plainOrder(4)),
                new Admission.Rotation(List.of(2, 0, 1, 0, 3, 0)),
                new Admission.NextWaiting(),
                new Admission.Priority(List.of(3, 0, 2, 1)),
                new Admission.FirstCome(),
                new Admission.Lottery(List.of(1, 5, 2, 9), 77),
                new Admission.OwnPort());
    }

    /** Cores that all do the same, and so share their translation, or each something else. */
    @ParameterizedTest
    @MethodSource("policies")
    void busyLoopsOfAccesses_underAnyPolicy_giveTheReportOfTheClearEngine(Admission admission) {
        for (int seed = 1; seed <= 12; seed++) {
            Random random = new Random(1000L * seed + admission.policy().length());
            Design design = TestDesign.under(admission)
                    .cores(4)
                    .slotCycles(1 + random.nextInt(4))
                    .build();
            StringBuilder text = new StringBuilder();
            if (random.nextBoolean()) {
                text.append("core all\n").append(loop(random));
            } else {
                for (int core = 0; core < 4; core++) {
                    text.append("core ").append(core).append('\n').append(loop(random));
                }
            }
            text.append("shared\ncells: word 1, 0, 5, -1\n");

            assertEnginesAgree(
                    Trial.assemble(design, text.toString()), Scenario.QUIET, 20_000, seed, admission + "\n" + text);
        }
    }

    private static String loop(Random random) {
        StringBuilder text = new StringBuilder("        set r8, cells\n        set r9, 300\n");
        text.append("more:\n");
        for (int i = 3 + random.nextInt(10); i > 0; i--) {
            text.append("        ").append(LINES[random.nextInt(LINES.length)]).append('\n');
        }
        if (random.nextInt(3) == 0) {
            // Another instruction each time round, in the middle of translated code.
            text.append("        load r7, [kinds]\n        load r6, [spot]\n        store r6, [kinds]\n");
            text.append("        store r7, [spot]\nspot:   bump r4, [cells]\n");
        }
        text.append("        fetch r1, [cells]\n        again r9, more\n        halt\n");
        text.append("part:   add r2, r2, 3\n        post r2, [cells]\n        ret\n");
        return text.append("kinds:  add r4, r4, 5\ndata:   word 3\n").toString();
    }

    private static void assertEnginesAgree(Program program, Scenario scenario, long limit, long seed, String what) {
        new EagerRuns(program, scenario, limit).compare(seed, 2500, what);
    }
}
