package octurn.reference;

import java.nio.charset.StandardCharsets;
import java.util.Random;
import java.util.stream.LongStream;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.asm.Program;
import octurn.machine.Engines;
import octurn.report.RunReport;
import octurn.report.RunReports;
import octurn.run.Run;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Holds the engine against the reference model on random programs, report against report. More of them:
 * {@code mvn -pl core test -Dtest=EngineAgreesTest -Docturn.seeds=20000 -Docturn.seed=1}.
 */
class EngineAgreesTest {

    /** How many seeds one parameter of the test covers. */
    private static final long BATCH = 50;

    static LongStream batches() {
        long first = Long.getLong("octurn.seed", 1);
        long count = Long.getLong("octurn.seeds", 200);
        return LongStream.iterate(first, seed -> seed < first + count, seed -> seed + BATCH);
    }

    @ParameterizedTest(name = "{0} and following")
    @MethodSource("batches")
    void run_randomProgram_givesTheReportOfTheReferenceModel(long first) {
        for (long seed = first; seed < first + BATCH; seed++) {
            RandomPrograms.Generated generated = RandomPrograms.of(seed);
            Program program = assemble(generated);

            RunReport whole = check(generated, program, generated.limit());
            for (long limit : RandomPrograms.telling(generated, whole)) {
                check(generated, program, limit);
            }
        }
    }

    @ParameterizedTest
    @MethodSource("octurn.reference.GoldenCase#names")
    void run_goldenCase_givesItsReport(String name) {
        GoldenCase golden = GoldenCase.read(name);
        long limit = golden.scenario().limit().orElseThrow();
        for (Engines engine : Engines.values()) {
            Run run = Run.of(golden.program(), golden.scenario(), limit, engine.maker());
            run.finish();

            GoldenCase.assertSame(
                    GoldenCase.comparable(RunReports.of(run), false),
                    golden.report(),
                    () -> "case %s on engine %s".formatted(name, engine));
        }
    }

    private static RunReport check(RandomPrograms.Generated generated, Program program, long limit) {
        RunReport expected = GoldenCase.comparable(ReferenceModel.run(program, generated.scenario(), limit), true);
        for (Engines engine : Engines.values()) {
            Run whole = Run.of(program, generated.scenario(), limit, engine.maker());
            whole.finish();
            assertSame(whole, expected, engine + " to limit " + limit + " of ", generated);

            Run pieces = Run.of(program, generated.scenario(), limit, engine.maker());
            Random random = new Random(generated.seed() + limit);
            for (long cut = 0; cut < expected.cycles(); cut += 1 + random.nextInt(700)) {
                pieces.runTo(cut);
            }
            pieces.finish();
            assertSame(pieces, expected, engine + " in pieces to limit " + limit + " of ", generated);
        }
        return expected;
    }

    private static void assertSame(Run run, RunReport expected, String what, RandomPrograms.Generated generated) {
        GoldenCase.assertSame(GoldenCase.comparable(RunReports.of(run), true), expected, () -> what + generated);
    }

    static Program assemble(RandomPrograms.Generated generated) {
        Assembly assembly = Assembler.assemble(
                "random.turn", generated.text().getBytes(StandardCharsets.UTF_8), generated.design());
        if (assembly instanceof Assembly.Assembled assembled) {
            return assembled.program();
        }
        throw new AssertionError(assembly + "\n" + generated);
    }
}
