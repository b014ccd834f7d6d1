package octurn;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import octurn.asm.Assembler;
import octurn.asm.Assembly;
import octurn.asm.Program;
import octurn.design.Admission;
import octurn.design.Clock;
import octurn.design.Cost;
import octurn.design.Design;
import octurn.design.Scenario;
import octurn.diag.Diagnostic;
import octurn.report.RunReport;
import octurn.report.RunReports;
import octurn.run.Run;
import octurn.trace.Kind;
import org.junit.jupiter.api.Test;

/** The Java code of {@code docs/library.md}, which a test of the documentation compares with this file. */
class LibraryExampleTest {

    private static final String TEXT = """
            core all
                    set   r2, 1
                    bump  r2, [drips]
                    halt
            shared
            drips:  word  0
            """;

    @Test
    void text_assembledAndRun_givesItsReport() {
        Assembly assembly = Assembler.assemble("drips.turn", TEXT, Design.DEFAULT);
        if (assembly instanceof Assembly.Assembled assembled) {
            Run run = Run.of(assembled.program(), Scenario.QUIET, Run.DEFAULT_LIMIT);
            run.finish();
            RunReport report = RunReports.of(run);

            assertThat(report.cycles()).isEqualTo(28);
            assertThat(report.shared()).containsEntry(0, 8);
            assertThat(report.cores().get(0).waits().max()).isEqualTo(22);
        } else {
            throw new AssertionError(assembly);
        }
    }

    @Test
    void text_withAMistake_isRejectedWithItsPlace() {
        Assembly assembly = Assembler.assemble("drips.turn", "core 0\n hallt\n", Design.DEFAULT);
        List<String> lines = new ArrayList<>();
        if (assembly instanceof Assembly.Rejected rejected) {
            for (Diagnostic error : rejected.errors()) {
                lines.add("line %d, column %d: %s"
                        .formatted(error.span().line(), error.span().column(), error.message()));
            }
        }
        assertThat(lines).singleElement().asString().startsWith("line 2, column 2: ");
    }

    @Test
    void run_stoppedOnItsWay_showsTheChip() {
        Program program = assembled(Design.DEFAULT);
        Run run = Run.of(program, Scenario.QUIET, Run.DEFAULT_LIMIT);
        run.runTo(12);
        int soFar = run.chip().sharedWord(0);
        assertThat(soFar).isEqualTo(3);
        assertThat(run.chip().core(4).state().text()).isEqualTo("slot");
        run.finish();
        assertThat(run.chip().sharedWord(0)).isEqualTo(8);
    }

    @Test
    void run_withAListener_tellsWhatHappens() {
        Program program = assembled(Design.DEFAULT);
        List<String> log = new ArrayList<>();
        Run run = Run.of(program, Scenario.QUIET, Run.DEFAULT_LIMIT, (kind, cycle, core, a, b) -> {
            if (kind == Kind.ADMIT) {
                log.add("cycle %d: core %d after %d".formatted(cycle, core, a));
            }
        });
        run.finish();
        assertThat(log)
                .startsWith("cycle 3: core 1 after 1", "cycle 6: core 2 after 4")
                .hasSize(8);
    }

    @Test
    void report_asked_namesTheLineThatWaitsMost() {
        Run run = Run.of(assembled(Design.DEFAULT), Scenario.QUIET, Run.DEFAULT_LIMIT);
        run.finish();
        RunReport.HotSpot worst = RunReports.of(run).hotSpots().stream()
                .max(Comparator.comparingLong(RunReport.HotSpot::total))
                .orElseThrow();
        String source = run.program().sourceLine(worst.line()).strip();
        assertThat(source).isEqualTo("bump  r2, [drips]");
        assertThat(worst.core()).isEqualTo(0);
    }

    @Test
    void design_varied_answersAQuestion() {
        List<Long> cycles = new ArrayList<>();
        for (int slot = 1; slot <= 4; slot++) {
            Admission rotation = new Admission.Rotation(Design.plainOrder(8));
            Design design =
                    new Design("slots of " + slot, 8, 1024, 16384, slot, rotation, Cost.DEFAULT, 16, Clock.DEFAULT);
            Run run = Run.of(assembled(design), Scenario.QUIET, Run.DEFAULT_LIMIT);
            run.finish();
            cycles.add(RunReports.of(run).cycles());
        }
        assertThat(cycles).containsExactly(11L, 19L, 28L, 37L);
    }

    private static Program assembled(Design design) {
        Assembly assembly = Assembler.assemble("drips.turn", TEXT, design);
        return ((Assembly.Assembled) assembly).program();
    }
}
