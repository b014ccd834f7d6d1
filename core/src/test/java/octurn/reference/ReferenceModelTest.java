package octurn.reference;

import static org.assertj.core.api.Assertions.assertThat;

import octurn.machine.End;
import octurn.report.RunReport;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Holds the reference model against reports that come from outside the project. */
class ReferenceModelTest {

    @ParameterizedTest
    @MethodSource("octurn.reference.GoldenCase#names")
    void run_goldenCase_givesItsReport(String name) {
        GoldenCase golden = GoldenCase.read(name);

        RunReport report = ReferenceModel.run(
                golden.program(), golden.scenario(), golden.scenario().limit().orElseThrow());

        GoldenCase.assertSame(GoldenCase.comparable(report, false), golden.report(), () -> "case " + name);
        assertThat(exit(report)).isEqualTo(golden.exit());
    }

    private static int exit(RunReport report) {
        if (report.cores().stream().anyMatch(core -> core.fault() != null)) {
            return 3;
        }
        return report.ended() == End.STUCK ? 4 : 0;
    }
}
